/**
 * The null test by a ray: from the pattern along the normal of the surface at its design place to the surface where it has moved to, mirrored
 * there, and back to the pattern. What the wavefront is there against the design's own return. In air, mm. Shares no code with src/.
 */
import { dot, minus, normed, toPlane, type Vector } from './ray.ts';
import { followedBack, type Height, type Sheet, squareOn } from './surface-sheets.ts';

export interface Glass {
  readonly thickness: number;
  readonly index: number;
}

export interface Standing {
  readonly height: Height;
  /** Of the surface in the part frame, which stands at `origin`. */
  readonly vertex: readonly [number, number, number];
  readonly origin: readonly [number, number, number];
  /** Of the part frame about its own x, its new y, its new z, degrees; unturned without. */
  readonly rotation?: readonly [number, number, number];
}

const plus = (a: Vector, b: readonly number[], times = 1): Vector => [
  a[0] + times * b[0]!,
  a[1] + times * b[1]!,
  a[2] + times * b[2]!,
];

/** Turned by a small rotation vector: by its cosine and sine about its axis (Rodrigues). */
export function turned(v: Vector, [a, b, c]: readonly number[]): Vector {
  const angle = Math.hypot(a!, b!, c!);
  if (angle === 0) return v;
  const axis: Vector = [a! / angle, b! / angle, c! / angle];
  const across: Vector = [
    axis[1] * v[2] - axis[2] * v[1],
    axis[2] * v[0] - axis[0] * v[2],
    axis[0] * v[1] - axis[1] * v[0],
  ];
  const along = dot(axis, v);
  // 1 − cos = 2 sin²(angle/2), without cancellation.
  const less = 2 * Math.sin(angle / 2) ** 2;
  return plus(plus(v, across, Math.sin(angle)), minus(plus([0, 0, 0], axis, along), v), less);
}

/** The sheet of the surface after the part has moved by T, θ about its origin. */
export const movedSheet = (
  { height, vertex, origin, rotation }: Standing,
  motion: readonly number[],
): Sheet => ({
  height,
  toSubstrate: (own) => {
    const inPart = plus(turned(plus(own, vertex), motion.slice(3)), motion.slice(0, 3));
    return plus(inFrame(inPart, rotation), origin);
  },
});

const AXES = [0, 1, 2] as const;
const about = (axis: 0 | 1 | 2, degrees: number): readonly number[] =>
  AXES.map((k) => (k === axis ? (degrees * Math.PI) / 180 : 0));
/** From the part frame to the substrate's: the turn about z first, about axes that stand still, then y, then x; and back. */
const inFrame = (v: Vector, angles: readonly number[] = [0, 0, 0]): Vector =>
  [...AXES].reverse().reduce((at, axis) => turned(at, about(axis, angles[axis]!)), v);
const outOfFrame = (v: Vector, angles: readonly number[] = [0, 0, 0]): Vector =>
  AXES.reduce((at, axis) => turned(at, about(axis, -angles[axis]!)), v);

/** How far along `ray` from `from` the moved sheet lies, and the sheet's coordinates there; near the sheet's (x, y). */
export function reached(
  standing: Standing,
  motion: readonly number[],
  from: Vector,
  ray: Vector,
): { readonly way: number; readonly x: number; readonly y: number } {
  const { height, vertex, origin, rotation } = standing;
  const back = motion.slice(3).map((angle) => -angle);
  const toOwn = (place: Vector): Vector =>
    minus(
      turned(
        minus(outOfFrame(minus(place, origin as Vector), rotation), motion.slice(0, 3) as unknown as Vector),
        back,
      ),
      vertex as Vector,
    );
  const above = (way: number): number => {
    const [x, y, z] = toOwn(plus(from, ray, way));
    return z - height(x, y);
  };
  let way = 0;
  const h = 1e-3;
  for (let step = 0; step < 6; step++) way -= (above(way) * 2 * h) / (above(way + h) - above(way - h));
  const [x, y] = toOwn(plus(from, ray, way));
  return { way, x, y };
}

/** The sheet's coordinates whose normal passes a place of the pattern, by Newton on the design's normals from a guess. */
export function coordinatesAt(
  sheet: Sheet,
  [px, py]: readonly number[],
  x0: number,
  y0: number,
  glass?: Glass,
): readonly [number, number] {
  let [x, y] = [x0, y0];
  const h = 0.5;
  for (let step = 0; step < 4; step++) {
    const here = followedBack(sheet, x, y, glass).on;
    const [ex, ey] = [px! - here[0], py! - here[1]];
    const right = followedBack(sheet, x + h, y, glass).on;
    const up = followedBack(sheet, x, y + h, glass).on;
    const [a, c] = [(right[0] - here[0]) / h, (right[1] - here[1]) / h];
    const [b, d] = [(up[0] - here[0]) / h, (up[1] - here[1]) / h];
    const determinant = a * d - b * c;
    x += (d * ex - b * ey) / determinant;
    y += (a * ey - c * ex) / determinant;
  }
  return [x, y];
}

/** The path from a place of the pattern to the surface, −E_out, the normal there being found from a guess. */
export const pathAt = (sheet: Sheet, place: Vector, x0: number, y0: number, glass?: Glass): number =>
  followedBack(sheet, ...coordinatesAt(sheet, place, x0, y0, glass), glass).path;

/** Optical path of the return at the pattern less the design's own, for the ray that would meet the surface at (x, y): −2h to first order. */
export const displacedWavefront = (
  standing: Standing,
  motion: readonly number[],
  x: number,
  y: number,
): number => displacedReturn(standing, motion, x, y).path;

/** The same, and where on the pattern that ray comes home. */
export function displacedReturn(
  standing: Standing,
  motion: readonly number[],
  x: number,
  y: number,
): { readonly path: number; readonly home: Vector } {
  const design = movedSheet(standing, [0, 0, 0, 0, 0, 0]);
  const { at, back } = followedBack(design, x, y, undefined);
  const out: Vector = [-back[0], -back[1], -back[2]];
  const hit = reached(standing, motion, at, out);
  const { at: met, back: normal } = squareOn(movedSheet(standing, motion), hit.x, hit.y);
  const mirrored = normed(plus(out, normal, -2 * dot(out, normal)));
  const home = toPlane(met, mirrored, 0);
  // E_out is −path at P; after path + way and the way home it is way + home, where the design's return has +path.
  return { path: hit.way + home.way - pathAt(design, home.at, x, y), home: home.at };
}

/** What the hologram's own move adds to the beam at a place of the pattern: the optical path and its lateral gradient. */
export type BeamChange = (
  x: number,
  y: number,
) => { readonly path: number; readonly gradient: readonly [number, number] };

/**
 * The same where the beam has changed, too: the ray leaves the pattern with the normal's cosines and those that the beam adds. Where it comes
 * back, and how much longer its way is than the design's own; surface coordinates (x, y) of the design's ray.
 */
export function returnInBeam(
  standing: Standing,
  motion: readonly number[],
  change: BeamChange,
  x: number,
  y: number,
): { readonly on: readonly [number, number]; readonly longer: number } {
  const design = movedSheet(standing, [0, 0, 0, 0, 0, 0]);
  const { on, path, back } = followedBack(design, x, y, undefined);
  const before = change(...on);
  const [u, v] = [before.gradient[0] - back[0], before.gradient[1] - back[1]];
  const out: Vector = [u, v, Math.sqrt(1 - u * u - v * v)];
  const hit = reached(standing, motion, [on[0], on[1], 0], out);
  const { at: met, back: normal } = squareOn(movedSheet(standing, motion), hit.x, hit.y);
  const mirrored = normed(plus(out, normal, -2 * dot(out, normal)));
  const home = toPlane(met, mirrored, 0);
  const after = change(home.at[0], home.at[1]);
  const longer = before.path + after.path + hit.way + home.way - path - pathAt(design, home.at, x, y);
  return { on: [home.at[0], home.at[1]], longer };
}
