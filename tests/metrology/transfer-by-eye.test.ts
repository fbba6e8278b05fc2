/** Points that only the eye has set along some direction: told of as a note, warned of beyond what an eye does, 1 mm at worst (common practice). */
import { expect, test } from 'vitest';
import type { Vec3 } from '../../src/geometry/vector.ts';
import type { Transfer } from '../../src/metrology/transfer/transfer.ts';
import { transferFindings } from '../../src/metrology/transfer/transfer-findings.ts';

/** Three points, agreeing with all that is certain; the second was set by eye along `directions`. */
const findingsOf = (residual: Vec3, directions: readonly Vec3[]) => {
  const names = ['a', 'b', 'c'];
  const hologram = {
    points: names.map((name, k) => ({ name, byEye: k === 1 ? directions : [] })),
    residuals: names.map((_, k) => (k === 1 ? residual : [0, 0, 0])),
    tests: names.map(() => ({ probability: 0.5, chiSquared: 1, degreesOfFreedom: 2 })),
    ...{ chiSquared: 3, degreesOfFreedom: 3, probability: 0.4, contradictory: false },
  };
  return transferFindings({ hologram } as unknown as Transfer);
};

test('within what an eye does, the places are listed in a note', () => {
  expect(findingsOf([0, 0.3, 0.99], [[0, 0, 1]])).toEqual([
    {
      ...{ severity: 'note', rule: 'set-by-eye', where: 'a, b, c' },
      message: expect.stringMatching(/only by eye, .*: b 0\.990 mm off along z$/),
    },
  ]);
});

test('beyond it a warning says by how much, and what to look at', () => {
  const [warning, note] = findingsOf([0, 0, -1.25], [[0, 0, 1]]);
  expect(warning).toMatchObject({
    ...{ severity: 'warning', rule: 'outlying-point', where: 'b', value: 1.25, limit: 1, unit: 'mm' },
    message: expect.stringMatching(/^b is -1\.250 mm off along z, .*good to 1 mm$/),
    hint: 'check its name, its seat and its target’s diameter',
  });
  expect(note.rule).toBe('set-by-eye');
});

test('only the part along what the eye set counts', () => {
  expect(findingsOf([5, 0, 0.2], [[0, 0, 1]]).map(({ rule }) => rule)).toEqual(['set-by-eye']);
  const both = findingsOf(
    [1.2, -1.3, 0],
    [
      [1, 0, 0],
      [0, 1, 0],
    ],
  );
  expect(both.map(({ rule }) => rule)).toEqual(['outlying-point', 'outlying-point', 'set-by-eye']);
});

test('where the eye has set nothing, nothing is said', () => {
  expect(findingsOf([5, 5, 5], [])).toEqual([]);
});
