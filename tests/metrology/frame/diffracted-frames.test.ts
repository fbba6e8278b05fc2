/**
 * Frames as waves make them, not rays: what a corner cube sends back to a patch with a line focus by a Huygens sum
 * (tests/independent/huygens.ts). Read as any frame is, they err by what is said here, which grows as the Fresnel number falls: by a hundredth of a fringe
 * at 8.4, and by up to a tenth of one at 2.5, where the edges' ripples reach across the patch.
 */
import { describe, expect, it } from 'vitest';
import { readPatch } from '../../../src/metrology/frame/read-patch.ts';
import type { CameraFrame } from '../../../src/scenario/camera-frame.ts';
import { placeSeen } from '../../independent/frame-camera.ts';
import { returnFromCube } from '../../independent/huygens.ts';
import { designFrom, square } from '../support/design-from.ts';
import { judged } from './support/judged.ts';
import { knownMap } from './support/known-map.ts';

const WAVELENGTH = 632.8e-6;
const BEAM = 60;
const SIDE = 240;
const PATCH = 8;
const CENTRE = [12, -5] as const;
const ROOF = 1;
const LEVEL = 0.2;
/** What is stated for diffraction at a Fresnel number of 1, fringes. */
const BY_WAVES = 0.055;

const camera = {
  ...{ width: SIDE, height: SIDE, turn: { view: 'interferometer', turned: 0, mirrored: false } as const },
  beam: { centre: [0, 0], diameter: BEAM } as const,
};

const benchAt = (distance: number) =>
  designFrom({
    interferometer: { focus: [0, 0, -500], fNumber: 500 / BEAM, pixelsAcrossBeam: SIDE, readable: 0.1 },
    substrate: { outline: { circle: { diameter: 70 } }, thickness: 0 },
    references: [{ id: 'c', kind: 'smr', diameter: 38.1, at: [...CENTRE, distance] }],
    patches: [
      {
        ...{ id: 'p', reference: 'c', focus: 'line', centre: CENTRE, lineAngle: 0, outline: square(PATCH) },
        bias: { shape: 'roof', fringes: ROOF },
      },
    ],
  });

/** The line lies along x and is seen square: y runs across it, and the patch senses along −y. */
function frameOf(distance: number, fringes: number, nodes: number): CameraFrame {
  const move = -(fringes * WAVELENGTH * distance) / (2 * PATCH);
  const wave = returnFromCube(
    {
      ...{ wavelength: WAVELENGTH, distance, halfAcross: PATCH / 2, halfAlong: PATCH / 2, roof: ROOF },
      move: [move, 0, 0],
    },
    nodes,
  );
  const place = placeSeen(camera);
  const values = new Float32Array(SIDE * SIDE).fill(LEVEL);
  for (let at = 0; at < values.length; at++) {
    const [x, y] = place(at % SIDE, Math.floor(at / SIDE));
    if (Math.abs(x - CENTRE[0]) > PATCH / 2 || Math.abs(y - CENTRE[1]) > PATCH / 2) continue;
    const { re, im } = wave(y - CENTRE[1], x - CENTRE[0]);
    values[at] = LEVEL * ((1 + re) ** 2 + im ** 2);
  }
  return { width: SIDE, height: SIDE, values, holds: 'intensity' };
}

/** Distance, mm; the Fresnel number a²/(2λs); nodes, some four to a turn; and the most that waves take from a reading or add to it, fringes. */
const CASES = [
  { distance: 1500, fresnel: 8.4, nodes: 36, most: 0.02 },
  { distance: 5000, fresnel: 2.5, nodes: 16, most: 0.12 },
] as const;

describe.each(CASES)('a patch of Fresnel number $fresnel', ({ distance, fresnel, nodes, most }) => {
  const design = benchAt(distance);
  it.each([0, 1.3, -2.4])('that shows %s fringes of tilt is read with its sign', (fringes) => {
    const frame = frameOf(distance, fringes, nodes);
    const reading = readPatch(design, design.patches[0]!, [frame], knownMap(camera));
    const { errors, over, signKnown } = judged({ id: 'p', kind: 'line', truth: [fringes] }, reading, 'waves');
    expect(reading.faults).toEqual([]);
    expect(signKnown).toBe(true);
    expect(Math.abs(errors[0]!)).toBeLessThan(most);
    // The uncertainty that is stated covers what waves do.
    expect(Math.abs(over[0]!)).toBeLessThan(3);
    expect(reading.values[0]!.diffraction).toBeCloseTo(BY_WAVES / Math.sqrt(fresnel), 2);
  });
});
