/** Whether outlines stand apart, against the gap found by search, for random pairs of every shape near each other. */
import { expect, test } from 'vitest';
import { randomFrom } from '../../src/algebra/random.ts';
import { gapBetween } from '../../src/geometry/clearance.ts';
import type { Outline } from '../../src/geometry/outline.ts';
import { standApart } from '../../src/geometry/stand-apart.ts';
import '../machine/patience.ts';

const SHAPES = ['circle', 'rectangle', 'ring', 'sector', 'polygon'] as const;

function outlines(seed: string): () => Outline {
  const random = randomFrom(seed);
  const between = (a: number, b: number): number => a + (b - a) * random.uniform();
  return () => {
    const centre = [between(-12, 12), between(-12, 12)] as const;
    const inner = between(1, 4);
    switch (SHAPES[Math.floor(random.uniform() * SHAPES.length)]!) {
      case 'circle':
        return { shape: 'circle', centre, radius: between(1, 6) };
      case 'rectangle':
        return {
          shape: 'rectangle',
          centre,
          width: between(1, 12),
          height: between(1, 12),
          rotation: between(-2, 2),
        };
      case 'ring':
        return { shape: 'ring', centre, inner, outer: inner + between(1, 4) };
      case 'sector':
        return {
          shape: 'sector',
          centre,
          inner,
          outer: inner + between(1, 4),
          from: 0.3,
          to: between(0.6, 6),
        };
      case 'polygon': {
        const at = (angle: number, reach: number) =>
          [centre[0] + reach * Math.cos(angle), centre[1] + reach * Math.sin(angle)] as const;
        return { shape: 'polygon', points: [0, 1, 2, 3, 4].map((k) => at(1.2566 * k, between(2, 6))) };
      }
    }
  };
}

test('as the gap says, for 20,000 pairs, and both ways round', () => {
  const next = outlines('stand apart');
  const random = randomFrom('distances');
  const counts = { apart: 0, near: 0, over: 0 };
  for (let k = 0; k < 20_000; k++) {
    const [a, b, distance] = [next(), next(), random.uniform() < 0.3 ? 0 : 4 * random.uniform()];
    const { gap } = gapBetween(a, b);
    if (gap > 0 && Math.abs(gap - distance) < 1e-9) continue;
    const expected = gap > 0 && gap >= distance;
    counts[expected ? 'apart' : gap > 0 ? 'near' : 'over']++;
    if (standApart(a, b, distance) !== expected || standApart(b, a, distance) !== expected)
      expect({ a, b, distance, gap }).toBe(`${expected ? '' : 'not '}apart`);
  }
  expect(Math.min(...Object.values(counts))).toBeGreaterThan(500);
});

test('a disc in the bore of a ring stands apart from it; one inside a disc does not', () => {
  const disc = (radius: number): Outline => ({ shape: 'circle', centre: [0, 0], radius });
  const ring: Outline = { shape: 'ring', centre: [0, 0], inner: 5, outer: 6 };
  expect(standApart(disc(4), ring, 0.9)).toBe(true);
  expect(standApart(disc(4), ring, 1.1)).toBe(false);
  expect(standApart(disc(1), disc(4), 0)).toBe(false);
});
