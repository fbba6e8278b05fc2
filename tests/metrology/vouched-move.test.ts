/**
 * Which part of a move the readings vouch for, of problems small enough to say by hand: two unknowns, read along their sum to 1 µm and along
 * their difference to 100 µm; two that are read alike; two that hang together a little. mm.
 */
import { describe, expect, test } from 'vitest';
import { vouchedMove } from '../../src/metrology/steering/vouched-move.ts';

type Row = readonly [number, number];

/** Readings of two unknowns along orthonormal rows, each to its own u: the estimate is the rows' transpose. */
function moveOf(rows: readonly Row[], us: readonly number[], found: Row) {
  const problem = {
    readings: us.map((u) => ({ reading: { u } })),
    estimate: { gains: Float64Array.from([0, 1].flatMap((i) => rows.map((row) => row[i]!))) },
  };
  const solution = { unknowns: Float64Array.from([...found, 77]) };
  const given = { problem, candidates: [{ signs: new Map(), solution }] };
  return vouchedMove(given as unknown as Parameters<typeof vouchedMove>[0], 2)!;
}

const HALF = Math.SQRT1_2;
const FINE: Row = [HALF, HALF];
const COARSE: Row = [HALF, -HALF];
const at = (fine: number, coarse: number): Row => [HALF * (fine + coarse), HALF * (fine - coarse)];

function expectNear(found: Float64Array, wanted: Row): void {
  expect(found).toHaveLength(2);
  wanted.forEach((value, k) => {
    expect(found[k]).toBeCloseTo(value, 12);
  });
}

describe('a move along what is read to 1 µm and what is read to 100 µm', () => {
  const moved = (fine: number, coarse: number) => moveOf([FINE, COARSE], [0.001, 0.1], at(fine, coarse));

  test.each([
    ['leaves out the coarse under its uncertainty, though it is ten times the fine', 0.003, 0.03, [0.003, 0]],
    ['is made along the coarse where that is over', 0.0005, 0.15, [0, 0.15]],
    ['is whole where both are over', 0.003, 0.15, [0.003, 0.15]],
    ['is nothing where both are under', -0.0009, 0.09, [0, 0]],
  ] as const)('%s', (_, fine, coarse, made: Row) => {
    const { unknowns, leftOut, isOver, chiSquared, degreesOfFreedom } = moved(fine, coarse);
    expectNear(unknowns, at(...made));
    expectNear(leftOut, at(fine - made[0], coarse - made[1]));
    expect(isOver).toBe(made.some((part) => part !== 0));
    expect(chiSquared).toBeCloseTo((fine / 0.001) ** 2 + (coarse / 0.1) ** 2, 9);
    expect(degreesOfFreedom).toBe(2);
  });
});

describe('a move along what is read alike every way', () => {
  // The same readings by any two directions: what is left out must not hang on which the eigenvectors happen to be.
  test.each([0, 0.3, 0.7, 1.2])('is judged by its length alone, read along axes turned by %s', (angle) => {
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const rows: readonly Row[] = [
      [c, s],
      [-s, c],
    ];
    // Longer than √2 along one direction that is no axis; then shorter.
    expectNear(moveOf(rows, [1, 1], [1.1, 1.1]).unknowns, [1.1, 1.1]);
    expectNear(moveOf(rows, [1, 1], [0.9, 0.9]).unknowns, [0, 0]);
  });

  test('is made where one degree is over its uncertainty, though the mean is not', () => {
    const rows: readonly Row[] = [
      [1, 0],
      [0, 1],
    ];
    expectNear(moveOf(rows, [1, 1], [1.3, 0.2]).unknowns, [1.3, 0.2]);
  });
});

test('combinations that are small each, and together more than a degree’s uncertainty, are made from the largest down', () => {
  // Of x the uncertainty is √((1 + 1.1²)/2) = 1.051; 0.85 along the one and 0.99 along the other come to 1.30 of x.
  const { unknowns, leftOut } = moveOf([FINE, COARSE], [1, 1.1], at(0.85, 0.9 * 1.1));
  expectNear(unknowns, at(0, 0.9 * 1.1));
  expectNear(leftOut, at(0.85, 0));
});
