/** The polynomial of a patch is as good as it says, everywhere in the patch, and for every kind of patch. */
import { describe, expect, test } from 'vitest';
import { randomFrom } from '../../src/algebra/random.ts';
import { FIT_BOUND, fitPhase, polynomialPhases, smoothPhases } from '../../src/design/phase-fit.ts';
import { covers } from '../../src/geometry/contains.ts';
import { boundsOf } from '../../src/geometry/extent.ts';
import type { Outline } from '../../src/geometry/outline.ts';
import { makePatch, type PatchRecipe } from './support/make-patch.ts';
import '../machine/patience.ts';

const square = (x: number, y: number, side: number): Outline => ({
  shape: 'rectangle',
  centre: [x, y],
  width: side,
  height: side,
  rotation: 0.3,
});

const RECIPES: Record<string, PatchRecipe> = {
  'ball close by': {
    at: [10, 90, 60],
    centre: [0, 60],
    outline: { shape: 'circle', centre: [0, 60], radius: 7 },
    kind: 'ball',
    diameter: 12.7,
  },
  'cube far off, roof': {
    at: [0, 250, 2800],
    centre: [0, 60],
    outline: square(0, 60, 10),
    lineAngle: 1.2,
    bias: { shape: 'roof', fringes: 2, direction: undefined },
  },
  'large fast patch': {
    at: [0, 0, 120],
    centre: [0, 0],
    outline: { shape: 'circle', centre: [0, 0], radius: 25 },
    kind: 'ball',
    diameter: 25,
  },
  'thin ring': {
    at: [3, 0, 400],
    centre: [0, 0],
    outline: { shape: 'ring', centre: [0, 0], inner: 40, outer: 46 },
  },
  sector: {
    at: [0, 90, 200],
    centre: [0, 0],
    outline: { shape: 'sector', centre: [0, 0], inner: 50, outer: 60, from: 1, to: 2.2 },
  },
  tilt: {
    at: [0, 90, 130],
    centre: [0, 60],
    outline: { shape: 'circle', centre: [0, 60], radius: 6 },
    kind: 'ball',
    diameter: 12.7,
    bias: { shape: 'tilt', fringes: 3, direction: 1 },
  },
};

describe.each(Object.entries(RECIPES))('%s', (_, recipe) => {
  const patch = makePatch(recipe);
  const fit = fitPhase(patch);

  test('stays under its bound at points it was not fitted to', () => {
    const random = randomFrom('fit');
    const { minX, maxX, minY, maxY } = boundsOf(patch.outline);
    const [xs, ys]: [number[], number[]] = [[], []];
    while (xs.length < 4000) {
      const [x, y] = [minX + random.uniform() * (maxX - minX), minY + random.uniform() * (maxY - minY)];
      if (!covers(patch.outline, [x, y])) continue;
      xs.push(x);
      ys.push(y);
    }
    const [fx, fy] = [Float64Array.from(xs), Float64Array.from(ys)];
    const exact = smoothPhases(patch, fx, fy);
    const worst = polynomialPhases(fit, fx, fy).reduce(
      (most, phase, k) => Math.max(most, Math.abs(phase - exact[k])),
      0,
    );
    expect(worst).toBeLessThanOrEqual(FIT_BOUND);
    expect(worst).toBeLessThanOrEqual(fit.residual.worst * 1.05);
  });

  test('reaches its aim with room to spare', () => {
    expect(fit.residual.worst).toBeLessThanOrEqual(FIT_BOUND / 2);
    expect(fit.degree).toBeGreaterThanOrEqual(2);
  });
});

test('a sliver that no polynomial fits has coefficients that can be written all the same', () => {
  const fit = fitPhase(
    makePatch({
      at: [0, 0, 1500],
      centre: [40, 7],
      outline: {
        shape: 'polygon',
        points: [
          [36, 3],
          [45, 4],
          [44, 11],
          [35, 3007],
        ],
      },
    }),
  );
  // Its worst place is tens of millions of waves from its middle; v^j · u^i comes to next to nothing for the high powers of u.
  for (const { coefficient } of fit.terms) expect(Math.abs(coefficient)).toBeLessThan(1e21);
});
