/** A polynomial fit of the size that a patch's coefficient table needs. */
import { bench, describe } from 'vitest';
import { solveLeastSquares } from '../../src/algebra/least-squares.ts';
import { randomFrom } from '../../src/algebra/random.ts';

const [rows, columns] = [5000, 45];
const random = randomFrom('fit');
const matrix = new Float64Array(rows * columns).map(() => random.normal());
const values = new Float64Array(rows).map(() => random.normal());

describe('least squares, 5000 × 45', () => {
  bench('pivoted QR', () => {
    solveLeastSquares(matrix, columns, values);
  });
});
