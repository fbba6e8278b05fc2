/** The extremes of a patch's period against a dense scan of difference quotients of its phase. */
import { describe, expect, test } from 'vitest';
import { periodFloor, periodRange } from '../../src/design/period-range.ts';
import { covers } from '../../src/geometry/contains.ts';
import { boundsOf } from '../../src/geometry/extent.ts';
import { boundaryPoints } from '../../src/geometry/sampling.ts';
import { makePatch, type PatchRecipe } from './support/make-patch.ts';

const RECIPES: Record<string, PatchRecipe> = {
  'steepest at a corner': {
    at: [10, 200, 900],
    centre: [0, 60],
    outline: { shape: 'rectangle', centre: [0, 60], width: 12, height: 8, rotation: 0.4 },
    lineAngle: 0.3,
  },
  'steepest on an arc': {
    at: [40, 130, 150],
    centre: [0, 60],
    outline: { shape: 'circle', centre: [0, 60], radius: 6 },
    kind: 'ball',
    diameter: 12.7,
  },
  'flattest inside a sector': {
    at: [20, 80, 300],
    centre: [0, 0],
    outline: { shape: 'sector', centre: [0, 0], inner: 40, outer: 60, from: 0.4, to: 2 },
  },
  'on both sides of a roof': {
    at: [0, 150, 2800],
    centre: [0, 60],
    outline: { shape: 'rectangle', centre: [0, 60], width: 10, height: 10, rotation: 0 },
    lineAngle: Math.PI / 2,
    bias: { shape: 'roof', fringes: 40, direction: undefined },
  },
};

describe.each(Object.entries(RECIPES))('%s', (_, recipe) => {
  const patch = makePatch(recipe);
  const { min, max, minAt } = periodRange(patch);

  test('no scanned point has a shorter or longer period; the extremes are reached', () => {
    const h = 1e-4;
    const periodAt = (x: number, y: number): number =>
      (2 * h) /
      Math.hypot(
        patch.phase.phase(x + h, y) - patch.phase.phase(x - h, y),
        patch.phase.phase(x, y + h) - patch.phase.phase(x, y - h),
      );
    const { minX, maxX, minY, maxY } = boundsOf(patch.outline);
    let [least, most] = [Infinity, 0];
    const look = (x: number, y: number): void => {
      least = Math.min(least, periodAt(x, y));
      most = Math.max(most, periodAt(x, y));
    };
    // 151 across: never on a ridge, where a difference quotient straddles two slopes.
    for (let i = 0; i <= 151; i++)
      for (let j = 0; j <= 151; j++) {
        const [x, y] = [minX + ((maxX - minX) * i) / 151, minY + ((maxY - minY) * j) / 151];
        if (covers(patch.outline, [x, y])) look(x, y);
      }
    const edge = boundaryPoints(patch.outline, 2001);
    for (let k = 0; k < edge.xs.length; k++) look(edge.xs[k], edge.ys[k]);
    expect(min).toBeLessThanOrEqual(least * (1 + 1e-5));
    expect(min).toBeGreaterThan(least * 0.999);
    expect(max).toBeGreaterThanOrEqual(most * (1 - 1e-4));
    expect(patch.phase.period(...minAt)).toBeCloseTo(min, 12);
  });
});

test('a stationary phase inside the patch has no largest period', () => {
  const onAxis = makePatch({
    at: [0, 0, 100],
    centre: [0, 0],
    outline: { shape: 'circle', centre: [0, 0], radius: 5 },
    kind: 'ball',
    diameter: 12.7,
  });
  expect(periodRange(onAxis).max).toBe(Infinity);
});

test.each(Object.entries(RECIPES))(
  '%s: the quick floor is below the least period, and not absurdly',
  (_, recipe) => {
    const patch = makePatch(recipe);
    const { min } = periodRange(patch);
    expect(periodFloor(patch)).toBeLessThanOrEqual(min);
    expect(periodFloor(patch)).toBeGreaterThan(min / 4);
  },
);
