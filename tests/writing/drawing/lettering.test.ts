/** Words of a drawing broken into lines. */
import { expect, test } from 'vitest';
import { drawable, roomFor, wrapped } from '../../../src/writing/drawing/lettering.ts';

const SENTENCE = 'Places from the axes of the substrate frame, through the axis of the round edge; '
  .repeat(5)
  .trim();

test.each([
  ['a narrow column', 30],
  ['a column wider than a drawing’s text is long', 1e6],
])('in %s no word is lost and every line can be drawn whole', (_, width) => {
  const lines = wrapped(SENTENCE, 1, width);
  expect(lines.join(' ')).toBe(SENTENCE);
  expect(lines.length).toBeGreaterThan(1);
  for (const line of lines) {
    expect(drawable(line)).toBe(line);
    expect(roomFor(line, 1)).toBeLessThanOrEqual(width);
  }
});

test('a word longer than its column is broken within', () => {
  const lines = wrapped('retroreflectors', 1, 4);
  expect(lines.join('')).toBe('retroreflectors');
  for (const line of lines) expect(roomFor(line, 1)).toBeLessThanOrEqual(4);
});
