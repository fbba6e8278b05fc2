/** The patches' numbers in a picture of the aperture: upright and the same whichever way the camera is turned, beside their own patch. */
import { describe, expect, test } from 'vitest';
import type { CameraOrientation } from '../../src/scenario/camera-orientation.ts';
import { withMinusSigns } from '../../src/writing/page/figures.ts';
import { withNumbers } from '../../src/writing/picture/patch-numbers.ts';
import { SIXTEEN, seenBy } from '../independent/camera-seen.ts';
import { designFrom, pointPatch } from '../metrology/support/design-from.ts';

const SIZE = 320;
const PITCH = 0.5;
const CENTRES = [
  [50, 10],
  [-20, 40],
] as const;
const design = designFrom({
  references: CENTRES.map(([x, y], k) => ({
    id: `b${k}`,
    kind: 'ball',
    diameter: 12.7,
    at: [1.2 * x, 1.2 * y, 130],
  })),
  patches: CENTRES.map((centre, k) => pointPatch(`b${k}`, `b${k}`, centre, 12)),
});
const LIT = 100;
const isIn = (x: number, y: number, [cx, cy]: readonly [number, number]): boolean =>
  Math.hypot(x - cx, y - cy) < 6;
const middle = (SIZE - 1) / 2;
const PLAIN = Array.from({ length: SIZE }, (_, row) =>
  Array.from({ length: SIZE }, (_, column) => {
    const [x, y] = [-(column - middle) * PITCH, (middle - row) * PITCH];
    return CENTRES.some((centre) => isIn(x, y, centre)) ? LIT : 0;
  }),
);
/** As on any display: 1 with a foot, 2. */
const FORMS = [
  ['.#.', '##.', '.#.', '.#.', '###'],
  ['###', '..#', '###', '#..', '###'],
];
const DOT = 2;

describe.each(SIXTEEN)('seen from the $view, turned $turned, mirrored $mirrored', (turn) => {
  const seen = seenBy(turn, PLAIN);
  const picture = { width: SIZE, height: SIZE, grey: Uint8Array.from(seen.flat()) };
  const grid = { centre: [0, 0], pitch: PITCH, columns: SIZE, rows: SIZE } as const;
  const { grey } = withNumbers(picture, design, grid, turn as CameraOrientation);
  const isWhite = (column: number, row: number): boolean => grey[row * SIZE + column] === 255;

  test.each([0, 1])('number %d + 1 is written upright beside its patch, over nothing that is lit', (k) => {
    const own = seenBy(
      turn,
      PLAIN.map((pixels, row) =>
        pixels.map((_, column) => isIn(-(column - middle) * PITCH, (middle - row) * PITCH, CENTRES[k]!)),
      ),
    );
    const lit = own.flatMap((pixels, row) =>
      pixels.flatMap((on, column) => (on ? [[column, row] as const] : [])),
    );
    const [x, y] = [0, 1].map((axis) => lit.reduce((sum, place) => sum + place[axis]!, 0) / lit.length);
    // Searched within twice the patch's radius and a little.
    const found: string[] = [];
    for (let row = Math.round(y! - 40); row < y! + 40; row++)
      for (let column = Math.round(x! - 40); column < x! + 40; column++) {
        const fits = FORMS[k]!.every((line, j) =>
          [...line].every((dot, i) => isWhite(column + i * DOT, row + j * DOT) === (dot === '#')),
        );
        if (fits && isWhite(column + (k === 0 ? DOT : 0), row)) found.push(`${column} ${row}`);
      }
    // Each dot has two pixels a side.
    expect(found.length).toBeGreaterThan(0);
    expect(found.length).toBeLessThanOrEqual(4);
    for (const [column, row] of lit) expect(grey[row * SIZE + column]).toBe(LIT);
  });
});

test('a small picture has no room for numbers', () => {
  const small = { width: 64, height: 64, grey: new Uint8Array(64 * 64) };
  const grid = { centre: [0, 0], pitch: 2.5, columns: 64, rows: 64 } as const;
  expect(withNumbers(small, design, grid, SIXTEEN[0] as CameraOrientation)).toBe(small);
});

test.each([
  ['along (0, -0.19, 0.98)', 'along (0, −0.19, 0.98)'],
  ['y = -0.023 mm; x from -1 to 2', 'y = −0.023 mm; x from −1 to 2'],
  ['patch north-1 of 2026-01-31', 'patch north-1 of 2026-01-31'],
  ['`at: [-5, 0]` is -5 mm', '`at: [-5, 0]` is −5 mm'],
])('words for people have minus signs, ids and quoted words keep their hyphens: %s', (words, shown) => {
  expect(withMinusSigns(words)).toBe(shown);
});
