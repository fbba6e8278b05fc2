/** A designed patch handed over to diffraction: the same fringes as its trace shows, where diffraction is weak. */
import { describe, expect, it } from 'vitest';
import type { Design } from '../../src/design/design.ts';
import { interiorGrid } from '../../src/geometry/sampling.ts';
import { dot, type Vec3 } from '../../src/geometry/vector.ts';
import { diffractedPatch, patchCoordinates } from '../../src/metrology/sensing/diffracted-patch.ts';
import { tracedPatch, tracedReference } from '../../src/metrology/sensing/null-fringes.ts';
import { diffractedReturn, geometricReturn } from '../../src/optics/diffraction-return.ts';
import { valueAt } from '../../src/optics/propagation.ts';
import { traceRoundTrip } from '../../src/optics/round-trip.ts';
import { AIR, diverging, HENE, makePatch, type PatchRecipe } from '../design/support/make-patch.ts';

const cube: PatchRecipe = {
  at: [30, 20, 400],
  centre: [0, 60],
  outline: { shape: 'rectangle', centre: [0, 60], width: 10, height: 8, rotation: 0.2 },
  lineAngle: 0.3,
  bias: { shape: 'roof', fringes: 1, direction: undefined },
};
const ball: PatchRecipe = {
  at: [10, 50, 60],
  centre: [0, 60],
  outline: { shape: 'circle', centre: [0, 60], radius: 6 },
  kind: 'ball',
  diameter: 25.4,
  bias: { shape: 'tilt', fringes: 1, direction: 0.4 },
};

function setUp(recipe: PatchRecipe) {
  const patch = makePatch(recipe);
  const design = {
    light: { wavelength: HENE, airIndex: undefined },
    beam: { eikonal: diverging(500), centre: [0, 0], radius: undefined, cameraDiameter: 150 },
    glass: AIR,
    patches: [patch],
  } as unknown as Design;
  return { patch, design };
}

describe.each([
  ['a cube', cube, [0.004, -0.003, 0.005] as Vec3, 2e-2],
  ['a ball', ball, [0.001, -0.0005, 0.001] as Vec3, 4e-2],
])('%s', (_, recipe, move, close) => {
  const { patch, design } = setUp(recipe);
  const given = diffractedPatch(design, patch, move)!;
  const { fromPattern, toPattern, u, v } = patchCoordinates(patch);
  const { xs, ys } = interiorGrid(patch.outline, 1.5);
  const traced = traceRoundTrip(tracedPatch(design, patch), tracedReference(patch)!, xs, ys, move);

  it('has coordinates square to the chief ray that lead back to the pattern', () => {
    expect(
      Math.abs(dot(u, patch.chiefRay)) + Math.abs(dot(v, patch.chiefRay)) + Math.abs(dot(u, v)),
    ).toBeLessThan(1e-14);
    const [a, b] = fromPattern(3, 62);
    const [x, y] = toPattern(a, b);
    expect(x).toBeCloseTo(3, 12);
    expect(y).toBeCloseTo(62, 12);
  });

  it('has the geometric fringes of the trace', () => {
    const waves = Float64Array.from(traced.x, (x, i) =>
      geometricReturn(given, ...fromPattern(x, traced.y[i])),
    );
    const mean = waves.reduce((sum, value) => sum + value, 0) / waves.length;
    const worst = Math.max(...traced.waves.map((value, i) => Math.abs(value - (waves[i] - mean))));
    // Fringes; of a ball the second order in the ray's miss, of a cube the obliquity over the patch.
    expect(worst).toBeLessThan(close);
  });

  it('and its waves come close to them', () => {
    const { field } = diffractedReturn(given, 128);
    let [re, im, bright] = [0, 0, 0];
    for (let i = 0; i < traced.count; i++) {
      const [a, b] = valueAt(field, ...fromPattern(traced.x[i], traced.y[i]));
      const angle = -2 * Math.PI * traced.waves[i];
      re += a * Math.cos(angle) - b * Math.sin(angle);
      im += b * Math.cos(angle) + a * Math.sin(angle);
      bright += Math.hypot(a, b);
    }
    // The trace's phases taken off, all that comes back adds up as one wave.
    expect(Math.hypot(re, im) / bright).toBeGreaterThan(0.97);
    expect(bright / traced.count).toBeGreaterThan(0.8);
  });
});

it('has no picture of a screen', () => {
  const { patch, design } = setUp({ ...ball, kind: 'screen' });
  expect(diffractedPatch(design, patch)).toBeUndefined();
});
