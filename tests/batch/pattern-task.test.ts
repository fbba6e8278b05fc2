/** Which cells the threads take that trace beside the main one, which writes the cells in their order. */
import { expect, test } from 'vitest';
import { takenBeside, takes } from '../../src/batch/pattern-task.ts';

const cells = (count: number): Int32Array => new Int32Array(new SharedArrayBuffer(4 * count));

test('the first free cell is left to the main thread', () => {
  const taken = cells(5);
  expect([takenBeside(taken), takenBeside(taken)]).toEqual([1, 2]);
  expect(takes(taken, 0)).toBe(true);
  expect(takes(taken, 1)).toBe(false);
  expect(takenBeside(taken)).toBe(4);
});

test('the last free cell goes to whoever comes first, and each cell once', () => {
  const taken = cells(3);
  expect([takenBeside(taken), takenBeside(taken), takenBeside(taken)]).toEqual([1, 2, 0]);
  expect(takenBeside(taken)).toBeUndefined();
  expect(takes(taken, 0)).toBe(false);
});
