/** The camera's orientation against whole pictures turned and mirrored as an image viewer does it. mm, pixels. */
import { describe, expect, test } from 'vitest';
import {
  type CameraOrientation,
  fromPicture,
  isMirrorImage,
  isPlain,
  ORIENTATIONS,
  pixelAt,
  placeOfPixel,
  toPicture,
} from '../../src/scenario/camera-orientation.ts';
import { SIXTEEN, seenBy } from '../independent/camera-seen.ts';

const [COLUMNS, ROWS, PITCH] = [5, 4, 0.5];
const CENTRE = [3, -7] as const;
/** Each pixel of the picture from the interferometer holds its place on the pattern: x to the left, y up. */
const PLAIN = Array.from({ length: ROWS }, (_, row) =>
  Array.from({ length: COLUMNS }, (_, column) => {
    const x = CENTRE[0] - PITCH * (column - (COLUMNS - 1) / 2);
    const y = CENTRE[1] + PITCH * ((ROWS - 1) / 2 - row);
    return [x, y] as const;
  }),
);

describe.each(SIXTEEN)('seen from the $view, turned $turned, mirrored $mirrored', (turn) => {
  const orientation = turn as CameraOrientation;
  const seen = seenBy(turn, PLAIN);
  const grid = { centre: CENTRE, pitch: PITCH, columns: seen[0]!.length, rows: seen.length };

  test('each place has the pixel that a whole picture turned so shows it at, and back', () => {
    for (const [row, places] of seen.entries())
      for (const [column, place] of places.entries()) {
        const [c, r] = pixelAt(orientation, grid, place);
        expect([c, r]).toEqual([expect.closeTo(column, 9), expect.closeTo(row, 9)]);
        const [x, y] = placeOfPixel(orientation, grid, [column, row]);
        expect([x, y]).toEqual([expect.closeTo(place[0], 9), expect.closeTo(place[1], 9)]);
      }
  });

  test('a picture is a mirror image where going from x to y turns clockwise in it', () => {
    const [[rx, ux], [ry, uy]] = [toPicture(orientation, [1, 0]), toPicture(orientation, [0, 1])];
    expect(isMirrorImage(orientation)).toBe(rx * uy - ux * ry < 0);
    expect(fromPicture(orientation, [rx, ux])).toEqual([1, expect.closeTo(0, 12)]);
  });

  test('it is plain only where the picture is as it was', () => {
    expect(isPlain(orientation)).toBe(JSON.stringify(seen) === JSON.stringify(PLAIN));
  });
});

test('the eight differ from each other', () => {
  const pictures = ORIENTATIONS.map((orientation) => JSON.stringify(seenBy(orientation, PLAIN)));
  expect(new Set(pictures).size).toBe(8);
});
