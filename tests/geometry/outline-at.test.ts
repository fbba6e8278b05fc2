/** The finder against trying every outline in turn, on outlines that overlap and points on their edges. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { contains } from '../../src/geometry/contains.ts';
import type { Outline } from '../../src/geometry/outline.ts';
import { outlineFinder } from '../../src/geometry/outline-index.ts';

const number = fc.integer({ min: -20, max: 20 });
const outline: fc.Arbitrary<Outline> = fc.oneof(
  fc.record({
    shape: fc.constant('circle' as const),
    centre: fc.tuple(number, number),
    radius: fc.integer({ min: 1, max: 9 }),
  }),
  fc.record({
    shape: fc.constant('rectangle' as const),
    centre: fc.tuple(number, number),
    width: fc.integer({ min: 1, max: 12 }),
    height: fc.integer({ min: 1, max: 12 }),
    rotation: fc.constantFrom(0, 0.3, Math.PI / 4),
  }),
);

test('finds the first outline that contains a point, as trying each in turn does', () => {
  fc.assert(
    fc.property(
      fc.array(outline, { maxLength: 30 }),
      fc.array(fc.tuple(number, number), { maxLength: 40 }),
      (all, points) => {
        const find = outlineFinder(all);
        for (const point of points) {
          const first = all.findIndex((one) => contains(one, point));
          expect(find(point)).toBe(first < 0 ? undefined : first);
        }
      },
    ),
    { numRuns: 300, seed: 1 },
  );
});
