/**
 * Where places on the pattern are seen: the oriented pattern scaled, turned a little and shifted, with the camera's distortion.
 *
 * In lengths of half the beam's diameter from the beam's middle, u to the right and v down in the picture, r² = u² + v²:
 *
 *     U = u (1 + k r²) + 2 p u v + q (r² + 2u²)        V = v (1 + k r²) + p (r² + 2v²) + 2 q u v
 *     column = x + a U − b V                            row = y + a V + b U
 *
 * Radial distortion and, for a centre of it that is not the beam's, decentring: D. C. Brown, Photogrammetric Engineering 32, 444 (1966).
 */
import type { Vec2 } from '../../geometry/vector.ts';
import { type CameraOrientation, fromPicture, toPicture } from '../../scenario/camera-orientation.ts';
import type { FrameMap } from './frame-map.ts';

/** [x, y, a, b, k, p, q]: x, y, a and b in pixels, the others of no unit. */
export type Place = Float64Array;
export const PLACE_UNKNOWNS = 7;

/** The pattern's middle and half the beam's diameter, mm. */
export interface Aperture {
  readonly centre: Vec2;
  readonly radius: number;
}

/** [column, row] of (u, v). */
export function seenAt(place: Place, u: number, v: number): Vec2 {
  const a = place[2]!;
  const b = place[3]!;
  const k = place[4]!;
  const p = place[5]!;
  const q = place[6]!;
  const square = u * u + v * v;
  const right = u * (1 + k * square) + 2 * p * u * v + q * (square + 2 * u * u);
  const down = v * (1 + k * square) + p * (square + 2 * v * v) + 2 * q * u * v;
  return [place[0]! + a * right - b * down, place[1]! + a * down + b * right];
}

/** How column and row grow with each of the seven, at (u, v): `columns` and `rows` are overwritten. */
export function placeSlopes(
  place: Place,
  u: number,
  v: number,
  columns: Float64Array,
  rows: Float64Array,
): void {
  const a = place[2]!;
  const b = place[3]!;
  const k = place[4]!;
  const p = place[5]!;
  const q = place[6]!;
  const square = u * u + v * v;
  const right = u * (1 + k * square) + 2 * p * u * v + q * (square + 2 * u * u);
  const down = v * (1 + k * square) + p * (square + 2 * v * v) + 2 * q * u * v;
  columns[0] = 1;
  columns[1] = 0;
  columns[2] = right;
  columns[3] = -down;
  columns[4] = square * (a * u - b * v);
  columns[5] = 2 * a * u * v - b * (square + 2 * v * v);
  columns[6] = a * (square + 2 * u * u) - 2 * b * u * v;
  rows[0] = 0;
  rows[1] = 1;
  rows[2] = down;
  rows[3] = right;
  rows[4] = square * (a * v + b * u);
  rows[5] = a * (square + 2 * v * v) + 2 * b * u * v;
  rows[6] = 2 * a * u * v + b * (square + 2 * u * u);
}

/** (u, v) of a place on the pattern. */
export function pictureCoordinates(
  orientation: CameraOrientation,
  { centre, radius }: Aperture,
  [x, y]: Vec2,
): Vec2 {
  const [right, up] = toPicture(orientation, [(x - centre[0]) / radius, (y - centre[1]) / radius]);
  return [right, -up];
}

export function mapOfPlace(
  orientation: CameraOrientation,
  aperture: Aperture,
  place: Place,
  uncertainty: number,
  errorsAt?: (at: Vec2) => Float64Array,
): FrameMap {
  const { centre, radius } = aperture;
  const scale = Math.hypot(place[2]!, place[3]!);
  return {
    orientation,
    pitch: radius / scale,
    toPixel: (at) => seenAt(place, ...pictureCoordinates(orientation, aperture, at)),
    toPattern: (pixel) => {
      const [u, v] = coordinatesSeenAt(place, pixel);
      const [x, y] = fromPicture(orientation, [u, -v]);
      return [centre[0] + radius * x, centre[1] + radius * y];
    },
    uncertainty,
    ...(errorsAt === undefined
      ? {}
      : { errorsAt: (at) => errorsAt(pictureCoordinates(orientation, aperture, at)) }),
  };
}

/** By Newton's method with the similarity's own slope: each step leaves some 3k r² of the error, a tenth or so. */
function coordinatesSeenAt(place: Place, [column, row]: Vec2): Vec2 {
  const [a, b] = [place[2]!, place[3]!];
  const square = a * a + b * b;
  let [u, v] = [0, 0];
  for (let step = 0; step < MOST_STEPS; step++) {
    const [atColumn, atRow] = seenAt(place, u, v);
    const [right, down] = [column - atColumn, row - atRow];
    u += (a * right + b * down) / square;
    v += (a * down - b * right) / square;
    if (Math.hypot(right, down) < SAME_PIXEL) break;
  }
  return [u, v];
}

/** Pixels: far below what any frame tells. */
const SAME_PIXEL = 1e-7;
const MOST_STEPS = 60;
