/**
 * The pixels of a frame by which a patch is read: those that lie whole in its outline, as far as the map tells, at full scale neither dark
 * nor bright. [column, row], pixels.
 */
import { covers, distanceToEdge } from '../../geometry/contains.ts';
import type { Outline } from '../../geometry/outline.ts';
import { boundaryPoints } from '../../geometry/sampling.ts';
import type { FrameMap } from './frame-map.ts';

/** A rectangle of whole pixels. */
export interface PixelBox {
  readonly left: number;
  readonly top: number;
  readonly columns: number;
  readonly rows: number;
}

/** Which pixels of a box are the patch's. */
export interface PixelMask {
  readonly box: PixelBox;
  /** 1 for each that is, row by row. */
  readonly inside: Uint8Array;
  readonly count: number;
  /** Part of the outline's points that lie in the frame. */
  readonly inFrame: number;
}

const EDGE_POINTS = 96;
/** Half the diagonal of a pixel: nearer to the edge than this it is not whole. */
const HALF_PIXEL = Math.SQRT1_2;

/** Pixels deeper in the outline than half a pixel and `margin` pixels. */
export function pixelsWithin(
  outline: Outline,
  { width, height }: { readonly width: number; readonly height: number },
  map: FrameMap,
  margin: number,
): PixelMask {
  const { xs, ys } = boundaryPoints(outline, EDGE_POINTS);
  let [left, right, top, bottom] = [Infinity, -Infinity, Infinity, -Infinity];
  let within = 0;
  for (let i = 0; i < xs.length; i++) {
    const [column, row] = map.toPixel([xs[i]!, ys[i]!]);
    if (column > -0.5 && row > -0.5 && column < width - 0.5 && row < height - 0.5) within++;
    left = Math.min(left, column);
    right = Math.max(right, column);
    top = Math.min(top, row);
    bottom = Math.max(bottom, row);
  }
  [left, top] = [Math.max(0, Math.ceil(left)), Math.max(0, Math.ceil(top))];
  const columns = Math.max(0, Math.min(width - 1, Math.floor(right)) - left + 1);
  const rows = Math.max(0, Math.min(height - 1, Math.floor(bottom)) - top + 1);
  const box = { left, top, columns, rows };
  const covered = new Uint8Array(columns * rows);
  for (let row = 0, at = 0; row < rows; row++)
    for (let column = 0; column < columns; column++, at++)
      if (covers(outline, map.toPattern([left + column, top + row]))) covered[at] = 1;
  const deepest = (HALF_PIXEL + margin) * map.pitch;
  // The pitch is that of the middle of the picture: with distortion a pixel elsewhere sees somewhat more or less.
  const near = Math.ceil(1.25 * (HALF_PIXEL + margin)) + 1;
  const inside = new Uint8Array(columns * rows);
  let count = 0;
  for (let row = 0, at = 0; row < rows; row++)
    for (let column = 0; column < columns; column++, at++) {
      if (covered[at] === 0) continue;
      if (
        isNearEdge(covered, box, column, row, near) &&
        distanceToEdge(outline, map.toPattern([left + column, top + row])) < deepest
      )
        continue;
      inside[at] = 1;
      count++;
    }
  return { box, inside, count, inFrame: within / xs.length };
}

/** Whether one of the pixels `near` away straight or aslant is not covered. */
function isNearEdge(
  covered: Uint8Array,
  { columns, rows }: PixelBox,
  column: number,
  row: number,
  near: number,
): boolean {
  for (const dr of [-near, 0, near])
    for (const dc of [-near, 0, near]) {
      const [c, r] = [column + dc, row + dr];
      if (c < 0 || r < 0 || c >= columns || r >= rows || covered[r * columns + c] === 0) return true;
    }
  return false;
}

/** A number by chance, 0 to 2³² − 1, but the same one whenever asked: the finaliser of MurmurHash3 (A. Appleby, public domain), from memory. */
export function scattered(index: number): number {
  let h = index + 1;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}
