/** A field's value between its samples: exact for a bilinear field, 0 beyond each side of the grid. mm. */
import { expect, test } from 'vitest';
import { emptyField, sampleAt, valueAt } from '../../src/optics/propagation.ts';

const [COLUMNS, ROWS, PITCH_X, PITCH_Y] = [8, 4, 0.5, 0.25];
const real = (x: number, y: number): number => 3 + 2 * x - y + 0.5 * x * y;
const imaginary = (x: number, y: number): number => -1 - x + 4 * y;

const field = emptyField(COLUMNS, ROWS, PITCH_X, PITCH_Y);
for (let j = 0; j < ROWS; j++)
  for (let i = 0; i < COLUMNS; i++) {
    const [x, y] = [sampleAt(i, COLUMNS, PITCH_X), sampleAt(j, ROWS, PITCH_Y)];
    field.re[j * COLUMNS + i] = real(x, y);
    field.im[j * COLUMNS + i] = imaginary(x, y);
  }

// Samples stand at x from -2 to 1.5 and y from -0.5 to 0.25.
test.each([
  [0, 0],
  [-2, -0.5],
  [-1.9, 0.2],
  [1.45, -0.45],
  [1.49, 0.24],
  [0.13, -0.31],
])('inside, at (%d, %d)', (x, y) => {
  const [re, im] = valueAt(field, x, y);
  expect(re).toBeCloseTo(real(x, y), 12);
  expect(im).toBeCloseTo(imaginary(x, y), 12);
});

test.each([
  ['left', -2.01, 0],
  ['right', 1.51, 0],
  ['below', 0, -0.51],
  ['above', 0, 0.26],
  ['beyond a corner', 1.6, 0.3],
  ['beyond the opposite corner', -2.1, -0.6],
  ['nowhere', Number.NaN, 0],
])('0 %s', (_, x, y) => {
  expect(valueAt(field, x, y)).toEqual([0, 0]);
});
