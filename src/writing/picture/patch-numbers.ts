/**
 * The patches' numbers in a picture of the whole aperture, as the sheet and the drawings number them from 1: upright whichever way the
 * camera is turned, beside the patch where it is dark there, on a black ground in its middle elsewhere.
 */
import type { Design } from '../../design/design.ts';
import { boundsOf } from '../../geometry/extent.ts';
import type { Outline } from '../../geometry/outline.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import type { GreyPicture } from '../../metrology/camera/fringe-picture.ts';
import { type CameraOrientation, type PixelGrid, pixelAt } from '../../scenario/camera-orientation.ts';
import { DIGITS, DOTS } from './dot-letters.ts';

const { wide: WIDE, high: HIGH } = DOTS;
/** Dots left dark around a number, so that two of them are not read as one. */
const APART = 3;
/** A dot is this share of the picture's width, so that numbers are read in print; smaller pictures have no room for numbers. */
const DOTS_ACROSS = 160;
const SMALLEST = 100;
/** Brighter than any outline, and told from the fringes' white by its form alone. */
const WHITE = 255;

/** Columns and rows, the first and one past the last. */
interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export function withNumbers(
  picture: GreyPicture,
  { patches }: Design,
  grid: PixelGrid,
  orientation: CameraOrientation,
): GreyPicture {
  if (picture.width < SMALLEST) return picture;
  const dot = Math.max(1, Math.round(picture.width / DOTS_ACROSS));
  const grey = picture.grey.slice();
  const drawn = { ...picture, grey };
  for (const [k, { outline }] of patches.entries()) {
    const text = String(k + 1);
    const { minX, maxX, minY, maxY } = boundsOf(besideWhat(outline));
    const corners: readonly Vec2[] = [
      [minX, minY],
      [maxX, maxY],
    ];
    const seen = boxOf(corners.map((corner) => pixelAt(orientation, grid, corner)));
    const size: Vec2 = [((WIDE + 1) * text.length - 1) * dot, HIGH * dot];
    const places = boxesFor(seen, size, (APART + 1) * dot);
    const place = places.find((box) => isDark(drawn, widened(box, APART * dot))) ?? places.at(-1)!;
    write(drawn, text, place, dot);
  }
  return drawn;
}

/** Of a ring a place of its band, on the diagonal, where patches seldom stand: a number beside the whole would seem another patch's. */
function besideWhat(outline: Outline): Outline {
  if (outline.shape !== 'ring') return outline;
  const { centre, inner, outer } = outline;
  const [x, y] = [
    centre[0] + ((inner + outer) / 2) * Math.SQRT1_2,
    centre[1] + ((inner + outer) / 2) * Math.SQRT1_2,
  ];
  return { shape: 'circle', centre: [x, y], radius: outer - inner };
}

const boxOf = (corners: readonly Vec2[]): Box => ({
  left: Math.floor(Math.min(...corners.map(([column]) => column))),
  right: Math.ceil(Math.max(...corners.map(([column]) => column))) + 1,
  top: Math.floor(Math.min(...corners.map(([, row]) => row))),
  bottom: Math.ceil(Math.max(...corners.map(([, row]) => row))) + 1,
});

/** Right of the patch, left, above, below; and in its middle. */
function boxesFor({ left, right, top, bottom }: Box, [width, height]: Vec2, gap: number): readonly Box[] {
  const [middle, centre] = [Math.round((left + right - width) / 2), Math.round((top + bottom - height) / 2)];
  const at = (x: number, y: number): Box => ({ left: x, right: x + width, top: y, bottom: y + height });
  return [
    at(right + gap, centre),
    at(left - gap - width, centre),
    at(middle, top - gap - height),
    at(middle, bottom + gap),
    at(middle, centre),
  ];
}

const widened = ({ left, right, top, bottom }: Box, by: number): Box => ({
  left: left - by,
  right: right + by,
  top: top - by,
  bottom: bottom + by,
});

/** Whether a box lies in the picture and nothing is in it. */
function isDark({ width, height, grey }: GreyPicture, { left, right, top, bottom }: Box): boolean {
  if (left < 0 || top < 0 || right > width || bottom > height) return false;
  for (let row = top; row < bottom; row++)
    for (let column = left; column < right; column++) if (grey[row * width + column] !== 0) return false;
  return true;
}

function write({ width, height, grey }: GreyPicture, text: string, place: Box, dot: number): void {
  const paint = ({ left, right, top, bottom }: Box, level: number): void => {
    for (let row = Math.max(0, top); row < Math.min(height, bottom); row++)
      grey.fill(level, row * width + Math.max(0, left), row * width + Math.min(width, right));
  };
  paint(widened(place, dot), 0);
  for (const [k, digit] of [...text].entries()) {
    for (const [i, lit] of [...DIGITS[Number(digit)]!].entries()) {
      if (lit === '0') continue;
      const left = place.left + ((WIDE + 1) * k + (i % WIDE)) * dot;
      const top = place.top + Math.floor(i / WIDE) * dot;
      paint({ left, right: left + dot, top, bottom: top + dot }, WHITE);
    }
  }
}
