/** The mark on a screen against the field summed over the patch, ray by ray. */
import { describe, expect, it } from 'vitest';
import type { DesignedPatch } from '../../src/design/design.ts';
import { areaOf } from '../../src/geometry/extent.ts';
import { interiorGrid } from '../../src/geometry/sampling.ts';
import { add, distance, scale, type Vec3 } from '../../src/geometry/vector.ts';
import { screenMark } from '../../src/metrology/sensing/screen-mark.ts';
import { fullBench, patchOf } from './support/full-bench.ts';
import '../machine/patience.ts';

const LAMBDA = 632.8e-6;
const design = fullBench({ substrate: { outline: { circle: { diameter: 170 } } } });

/** |Σ exp 2πi(E_out(P) + |X − P|)/λ|²·(dA)²/(λs)², the leaving wave of unit intensity: Huygens and Fresnel. */
function intensity(patch: DesignedPatch, at: Vec3, spacing: number): number {
  const { xs, ys } = interiorGrid(patch.outline, spacing);
  const phases = patch.phase.phases(xs, ys);
  const incident = new Float64Array(xs.length);
  design.beam.eikonal.accumulate(xs, ys, 1 / LAMBDA, incident, xs.length);
  let [re, im] = [0, 0];
  xs.forEach((x, i) => {
    const turns = incident[i]! + patch.order * phases[i]! + distance(at, [x, ys[i]!, 0]) / LAMBDA;
    re += Math.cos(2 * Math.PI * turns);
    im += Math.sin(2 * Math.PI * turns);
  });
  const cell = (areaOf(patch.outline) * Math.abs(patch.chiefRay[2])) / xs.length;
  return ((re * re + im * im) * cell * cell) / (LAMBDA * patch.distance) ** 2;
}

describe('a spot', () => {
  const patch = patchOf(design, 'spot');
  const mark = screenMark(design, patch)!;

  it('is dark at half its width from the middle, and as bright there as is said', () => {
    expect(mark).toMatchObject({ shape: 'spot', length: undefined });
    const off = (k: number) => add(patch.target, scale(patch.senses[k]!, mark.widths[k]! / 2));
    const middle = intensity(patch, patch.target, 0.15);
    for (const k of [0, 1]) expect(intensity(patch, off(k), 0.15) / middle).toBeLessThan(1e-3);
    expect((mark.efficiency * middle) / mark.peak).toBeCloseTo(1, 3);
  });

  it('gets its share of the beam', () => {
    expect(mark.efficiency).toBeCloseTo(0.405285, 6);
    const lit = Math.PI * design.beam.radius! ** 2;
    expect(mark.share).toBeCloseTo((0.405285 * Math.PI * 4.5 ** 2) / lit, 8);
    expect(mark.power).toBeCloseTo(mark.share! * 1e-3, 12);
  });
});

describe('a line', () => {
  const patch = patchOf(design, 'line');
  const mark = screenMark(design, patch)!;

  it('is as long as the patch along it, dark at half its width', () => {
    expect(mark.shape).toBe('line');
    expect(mark.length).toBeCloseTo(10 * Math.cos(Math.atan(30 / 600)), 6);
    const off = add(patch.target, scale(patch.senses[0]!, mark.widths[0]! / 2));
    const middle = intensity(patch, patch.target, 0.05);
    expect(intensity(patch, off, 0.05) / middle).toBeLessThan(2e-3);
    // Along the line the edges of the patch ring; over the middle they average to what is said.
    let mean = 0;
    for (let k = 0; k < 41; k++) {
      const along = ((k - 20) / 20) * 0.3 * mark.length!;
      mean += intensity(patch, add(patch.target, scale(patch.lineDirection!, along)), 0.05) / 41;
    }
    expect(Math.abs((mark.efficiency * mean) / mark.peak - 1)).toBeLessThan(0.07);
  });
});

it('is none of a patch that serves no screen', () => {
  expect(screenMark(design, patchOf(design, 'plane'))).toBeUndefined();
});
