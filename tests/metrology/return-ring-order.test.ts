/** A return ring in any order sends light straight back: what is counted at null is the bias that was asked for. Fringes. */
import { expect, test } from 'vitest';
import { fringesAtNull } from '../../src/metrology/sensing/null-fringes.ts';
import { fullBench, patchOf, ring } from './support/full-bench.ts';

test.each([
  [1, 0],
  [1, 2],
  [-1, 2],
  [2, 3],
  [-2, 1],
])('order %i, bias %i', (order, fringes) => {
  const design = fullBench({
    references: [{ id: 'back', kind: 'return' }],
    patches: [
      {
        ...{ id: 'back', reference: 'back', focus: 'return', centre: [0, 0], outline: ring(144, 150), order },
        ...(fringes === 0 ? {} : { bias: { shape: 'tilt', fringes, direction: 0 } }),
      },
    ],
  });
  expect(fringesAtNull(design, patchOf(design, 'back'))).toBeCloseTo(fringes, 3);
});
