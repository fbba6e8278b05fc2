/**
 * Stray light through glass that lies after the pattern: order -1 of a steep patch meets another SMR and comes home. Every ray of a
 * dense grid is refracted at the glass by Snell's law, out and back. mm.
 */
import { describe, expect, test } from 'vitest';
import type { Design } from '../../src/design/design.ts';
import { strayReturns } from '../../src/metrology/stray/stray-light.ts';
import { designFrom, linePatch, pointPatch } from '../metrology/support/design-from.ts';

const [THICKNESS, INDEX] = [40, 1.5];
const HALF = 6;
const DIAMETER = 25.4;
const HEIGHT = 600;

/** Collimated light; by the mirror image of its own target about the patch, order -1 goes to x = -400. */
const steep = (x: number, y: number): Design =>
  designFrom({
    interferometer: { collimated: true, beamDiameter: 150, pixelsAcrossBeam: 1000 },
    substrate: {
      outline: { circle: { diameter: 160 } },
      ...{ thickness: THICKNESS, index: INDEX, patternFaces: 'interferometer' },
    },
    process: { kind: 'chrome', dutyCycle: 0.5 },
    references: [
      { id: 'one', kind: 'smr', diameter: 38.1, at: y === 0 ? [500, 0, HEIGHT] : [100, 450, HEIGHT] },
      { id: 'two', kind: 'smr', diameter: DIAMETER, at: [x, y, HEIGHT] },
    ],
    patches: [pointPatch('a', 'one', [50, 0], 2 * HALF), linePatch('b', 'two', [-40, 10], 0)],
  });

/** How far a ray of these cosines in air goes sideways in the glass. */
const sideways = ([l, m]: readonly [number, number]): readonly [number, number] => {
  const axial = Math.sqrt(INDEX ** 2 - l * l - m * m);
  return [(THICKNESS * l) / axial, (THICKNESS * m) / axial];
};

/** The power that comes home by order -1 twice, within half a fringe a pixel, against what order 1 brings: both have one efficiency. */
function brutePower(design: Design, across = 160): number {
  const [patch, other] = design.patches;
  const [tx, ty, tz] = other.reference.at;
  const axis = other.chiefRay;
  const radius = DIAMETER / 2 / Math.sqrt(3);
  const { wavelength } = design.light;
  const acceptance = (0.5 * wavelength * 1000) / 150;
  const lateral = (x: number, y: number): readonly [number, number] => {
    const [gx, gy] = patch.phase.gradient(x, y);
    return [-wavelength * gx, -wavelength * gy];
  };
  let home = 0;
  for (let n = 0; n < across * across; n++) {
    const x = 50 - HALF + ((n % across) + 0.5) * ((2 * HALF) / across);
    const y = -HALF + (Math.floor(n / across) + 0.5) * ((2 * HALF) / across);
    if (Math.hypot(x - 50, y) > HALF) continue;
    const [l, m] = lateral(x, y);
    const axial = Math.sqrt(1 - l * l - m * m);
    const [sx, sy] = sideways([l, m]);
    // From the target to the ray's exit, and square to the ray.
    const out = [x + sx - tx, y + sy - ty, THICKNESS - tz];
    const along = out[0] * l + out[1] * m + out[2] * axial;
    const miss = [out[0] - along * l, out[1] - along * m, out[2] - along * axial];
    // Inside the clear aperture coming and going, at the mouth √2 r before the apex.
    const facing = l * axis[0] + m * axis[1] + axial * axis[2];
    const passes = [1, -1].every((side) => {
      const offset = [side * miss[0], side * miss[1], side * miss[2]];
      const depth = offset[0] * axis[0] + offset[1] * axis[1] + offset[2] * axis[2];
      const run = (-Math.SQRT2 * radius - depth) / facing;
      const hit = [offset[0] + run * l, offset[1] + run * m, offset[2] + run * axial];
      const inward = hit[0] * axis[0] + hit[1] * axis[1] + hit[2] * axis[2];
      return (
        Math.hypot(hit[0] - inward * axis[0], hit[1] - inward * axis[1], hit[2] - inward * axis[2]) <= radius
      );
    });
    if (!passes) continue;
    // Back from the other side of the target, against the way it came, through the glass to the pattern.
    const back = (tz - miss[2] - THICKNESS) / axial;
    const [hx, hy] = [tx - miss[0] - back * l - sx, ty - miss[1] - back * m - sy];
    if (Math.hypot(hx - 50, hy) > HALF) continue;
    const [bl, bm] = lateral(hx, hy);
    if (Math.hypot(-l + bl, -m + bm) <= acceptance) home++;
  }
  return (home * (2 * HALF) ** 2) / across ** 2 / (Math.PI * HALF ** 2);
}

describe.each([
  ['where order -1 goes', -400, 0, true],
  ['where it goes, steep along y', 0, -450, true],
  ['at the edge of what it meets', -391, 0, true],
  ['at the edge of that', 0, -441, true],
  ['beside it', -350, 0, false],
])('an SMR that stands %s', (_, x, y, meets) => {
  test('sends home what refracted rays say', () => {
    const design = steep(x, y);
    const expected = brutePower(design);
    const found = strayReturns(design).find(
      ({ source, orderOut, reference, patch, orderBack }) =>
        source.id === 'a' && orderOut === -1 && reference === 'two' && patch.id === 'a' && orderBack === -1,
    );
    expect(expected > 0).toBe(meets);
    if (!meets) return expect(found).toBeUndefined();
    const power = found!.brightness * found!.share;
    expect(power / expected).toBeGreaterThan(0.8);
    expect(power / expected).toBeLessThan(1.2);
  });
});
