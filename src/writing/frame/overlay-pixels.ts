/** The overlay as pixels: lines and numbers in colour on the frame, each of its pixels repeated where the frame is small. */
import type { Vec2 } from '../../geometry/vector.ts';
import type { CameraFrame } from '../../scenario/camera-frame.ts';
import { DIGITS, DOTS } from '../picture/dot-letters.ts';
import type { Line } from './dark-fringes.ts';
import { COLOURS, placedLabels } from './overlay-labels.ts';
import type { OverlayMark, OverlayPatch } from './overlay-shapes.ts';

interface ColourPicture {
  readonly width: number;
  readonly height: number;
  /** Red, green, blue of each pixel. */
  readonly data: Uint8Array;
}

/** Five dots by five. */
const SIGNS: Readonly<Record<OverlayMark, string>> = {
  read: '0000100010101000100000000',
  unsure: '0111000010001000000000100',
  unread: '1000101010001000101010001',
};
const SIGN_WIDE = 5;
/** A frame with fewer pixels is enlarged to at least so many. */
const LEAST_SIDE = 800;
const DOTS_ACROSS = 240;

export function overlayPixels(
  { width, height }: CameraFrame,
  grey: Uint8Array,
  patches: readonly OverlayPatch[],
): ColourPicture {
  const times = Math.max(1, Math.ceil(LEAST_SIDE / Math.max(width, height)));
  const picture = enlarged(grey, width, height, times);
  const dot = Math.max(1, Math.round(Math.max(picture.width, picture.height) / DOTS_ACROSS));
  const thick = Math.max(1, Math.round(dot / 3));
  const scaled = ([column, row]: Vec2): Vec2 => [(column + 0.5) * times - 0.5, (row + 0.5) * times - 0.5];
  const draw = (lines: readonly Line[], colour: readonly number[], width: number, dash: boolean): void => {
    for (const [k, [a, b]] of lines.entries())
      if (!dash || k % DASH < DASH / 2) drawLine(picture, scaled(a), scaled(b), colour, width);
  };
  for (const { dark, outline, mark } of patches) {
    draw(dark, COLOURS.dark, 1, false);
    draw(outline, COLOURS[mark], thick, mark !== 'read');
  }
  const boxes = patches.map((patch) => {
    const [left, top] = scaled([patch.box.left, patch.box.top]);
    const [right, bottom] = scaled([patch.box.right, patch.box.bottom]);
    return { ...patch, box: { left, top, right, bottom } };
  });
  const wide = (number: number): number => (DOTS.wide + 1) * String(number).length + SIGN_WIDE;
  const labels = placedLabels(boxes, picture.width, picture.height, ({ number }) => [
    (wide(number) + 2) * dot,
    (DOTS.high + 2) * dot,
  ]);
  for (const { patch, left, top } of labels) {
    const corner: Vec2 = [Math.round(left), Math.round(top)];
    paint(picture, corner, [(wide(patch.number) + 2) * dot, (DOTS.high + 2) * dot], [0, 0, 0]);
    let column = corner[0] + dot;
    const letters = [...String(patch.number)].map((digit) => [DIGITS[Number(digit)]!, DOTS.wide] as const);
    for (const [pattern, across] of [...letters, [SIGNS[patch.mark], SIGN_WIDE] as const]) {
      for (const [k, lit] of [...pattern].entries())
        if (lit === '1')
          paint(
            picture,
            [column + (k % across) * dot, corner[1] + (1 + Math.floor(k / across)) * dot],
            [dot, dot],
            COLOURS[patch.mark],
          );
      column += (across + 1) * dot;
    }
  }
  return picture;
}

/** Lines of an edge to a dash and the gap after it. */
const DASH = 6;

function enlarged(grey: Uint8Array, width: number, height: number, times: number): ColourPicture {
  const [columns, rows] = [width * times, height * times];
  const data = new Uint8Array(columns * rows * 3);
  for (let row = 0; row < rows; row++) {
    const from = Math.floor(row / times) * width;
    for (let column = 0; column < columns; column++)
      data.fill(
        grey[from + Math.floor(column / times)]!,
        3 * (row * columns + column),
        3 * (row * columns + column + 1),
      );
  }
  return { width: columns, height: rows, data };
}

/** A rectangle, as far as it is in the picture. */
function paint(
  { width, height, data }: ColourPicture,
  [left, top]: Vec2,
  [wide, high]: Vec2,
  colour: readonly number[],
): void {
  for (let row = Math.max(0, top); row < Math.min(height, top + high); row++)
    for (let column = Math.max(0, left); column < Math.min(width, left + wide); column++)
      data.set(colour, 3 * (row * width + column));
}

function drawLine(
  picture: ColourPicture,
  [a, b]: Vec2,
  [c, d]: Vec2,
  colour: readonly number[],
  thick: number,
): void {
  const { width, height } = picture;
  const isFar =
    Math.max(a, c) < -thick ||
    Math.max(b, d) < -thick ||
    Math.min(a, c) > width + thick ||
    Math.min(b, d) > height + thick;
  if (isFar) return;
  const count = Math.min(MOST_STEPS, Math.max(1, Math.ceil(Math.hypot(c - a, d - b))));
  for (let k = 0; k <= count; k++) {
    const [x, y] = [a + ((c - a) * k) / count, b + ((d - b) * k) / count];
    paint(
      picture,
      [Math.round(x - (thick - 1) / 2), Math.round(y - (thick - 1) / 2)],
      [thick, thick],
      colour,
    );
  }
}

/** Of a line that leaves the picture far behind. */
const MOST_STEPS = 20_000;
