/**
 * The pixels of a frame by which a patch is read: those that lie whole in its outline, as far as the map tells, at full scale neither dark
 * nor bright. [column, row], pixels.
 */
import { fitPlane, type PlanePolynomial } from '../../algebra/plane-polynomial.ts';
import { covers, distanceToEdge } from '../../geometry/contains.ts';
import type { Outline } from '../../geometry/outline.ts';
import { boundaryPoints } from '../../geometry/sampling.ts';
import type { FrameMap } from '../location/frame-map.ts';

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
  const places = placesIn(box, map);
  for (let row = 0, at = 0; row < rows; row++)
    for (let column = 0; column < columns; column++, at++)
      if (covers(outline, [places.xs[at]!, places.ys[at]!])) covered[at] = 1;
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
        distanceToEdge(outline, [places.xs[at]!, places.ys[at]!]) < deepest
      )
        continue;
      inside[at] = 1;
      count++;
    }
  return { box, inside, count, inFrame: within / xs.length };
}

/** Where a map is asked: places a side of a box, and the degree of what is laid through them; cameras' distortion is a cubic. */
const ASKED = 6;
const DEGREE = 4;

/** The places on the pattern of a box's pixels, mm, row by row. */
function placesIn(box: PixelBox, map: FrameMap): { readonly xs: Float64Array; readonly ys: Float64Array } {
  const { left, top, columns, rows } = box;
  const [xs, ys] = [new Float64Array(columns * rows), new Float64Array(columns * rows)];
  if (Math.min(columns, rows) < ASKED) {
    for (let at = 0; at < xs.length; at++)
      [xs[at], ys[at]] = map.toPattern([left + (at % columns), top + Math.floor(at / columns)]);
    return { xs, ys };
  }
  const asked = ASKED * ASKED;
  const at = {
    columns: Float64Array.from(
      { length: asked },
      (_, i) => left + ((i % ASKED) * (columns - 1)) / (ASKED - 1),
    ),
    rows: Float64Array.from(
      { length: asked },
      (_, i) => top + (Math.floor(i / ASKED) * (rows - 1)) / (ASKED - 1),
    ),
  };
  const seen = Array.from(at.columns, (column, i) => map.toPattern([column, at.rows[i]!]));
  const [x, y] = fitPlane(
    at.columns,
    at.rows,
    [Float64Array.from(seen, ([x]) => x), Float64Array.from(seen, ([, y]) => y)],
    DEGREE,
  )!.polynomials as [PlanePolynomial, PlanePolynomial];
  const line = Float64Array.from({ length: columns }, (_, k) => left + k);
  for (let row = 0; row < rows; row++) {
    x.alongRow(line, top + row, xs.subarray(row * columns, (row + 1) * columns));
    y.alongRow(line, top + row, ys.subarray(row * columns, (row + 1) * columns));
  }
  return { xs, ys };
}

/** Whether one of the pixels `near` away straight or aslant is not covered. */
function isNearEdge(
  covered: Uint8Array,
  { columns, rows }: PixelBox,
  column: number,
  row: number,
  near: number,
): boolean {
  for (let r = row - near; r <= row + near; r += near)
    for (let c = column - near; c <= column + near; c += near) {
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
