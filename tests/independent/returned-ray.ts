/**
 * A ray's whole way, out through a pattern, to what sends it back, and home, from the pattern's phase alone: directions by the grating
 * equation with difference quotients, plain Snell at the slab, a mirror's law at a sphere or plane, a cube as an inversion of the line.
 * mm, waves. Shares no code with src/optics.
 *
 *   W λ = E_in(P) + mλΦ(P) + L + mλΦ(P*) + E_in(P*): a longer way is a positive W. Its mean is a piston.
 */
import { dot, fromCosines, minus, normed, refract, toPlane, type Vector } from './ray.ts';

export interface Pattern {
  readonly wavelength: number;
  readonly order: number;
  /** Φ, waves at order 1. */
  readonly phase: (x: number, y: number) => number;
  /** E_in, mm. */
  readonly incident: (x: number, y: number) => number;
  /** Glass after the pattern only: that before it is in E_in. */
  readonly glassAfter?: { readonly thickness: number; readonly index: number };
}

interface Ray {
  readonly point: Vector;
  /** A unit vector. */
  readonly direction: Vector;
}

/** What a ray in air becomes: undefined where it misses. `path`, mm, from the one's point to the other's, as the light counts it. */
export type Bounce = (ray: Ray) => (Ray & { readonly path: number }) | undefined;

const plus = (a: Vector, b: Vector, times: number): Vector => [
  a[0] + times * b[0],
  a[1] + times * b[1],
  a[2] + times * b[2],
];

export const offBall =
  (centre: Vector, radius: number): Bounce =>
  ({ point, direction }) => {
    const toCentre = minus(centre, point);
    const nearest = dot(toCentre, direction);
    const chord = radius * radius - (dot(toCentre, toCentre) - nearest * nearest);
    if (chord < 0) return undefined;
    const path = nearest - Math.sqrt(chord);
    return { ...mirrored(point, direction, path, (hit) => normed(minus(hit, centre))), path };
  };

export const offPlane =
  (on: Vector, normal: Vector): Bounce =>
  ({ point, direction }) => {
    const path = dot(minus(on, point), normal) / dot(direction, normal);
    return { ...mirrored(point, direction, path, () => normed(normal)), path };
  };

/** A perfect cube: what leaves a point comes back parallel, as if it had started at the point's image through the apex. */
export const offCube =
  (apex: Vector): Bounce =>
  ({ point, direction }) => ({
    point: plus(apex, minus(apex, point), 1),
    direction: [-direction[0], -direction[1], -direction[2]],
    path: 0,
  });

function mirrored(point: Vector, direction: Vector, run: number, normalAt: (hit: Vector) => Vector): Ray {
  const hit = plus(point, direction, run);
  const normal = normalAt(hit);
  return { point: hit, direction: plus(direction, normal, -2 * dot(direction, normal)) };
}

/** Of the difference quotients, mm: third differences of a phase are some 1e-6 of the first at this step. */
const STEP = 1e-3;
const slopes = (of: (x: number, y: number) => number, x: number, y: number): readonly [number, number] => [
  (of(x + STEP, y) - of(x - STEP, y)) / (2 * STEP),
  (of(x, y + STEP) - of(x, y - STEP)) / (2 * STEP),
];

export interface Returned {
  readonly x: number;
  readonly y: number;
  readonly waves: number;
}

/** What leaves the pattern at a place: the path that it has, mm, and its slopes. It does not depend on what sends it back. */
export interface SentOut {
  readonly path: number;
  readonly slopes: readonly [number, number];
}

const crossing =
  ({ wavelength, order, phase, incident }: Pattern) =>
  (x: number, y: number): number =>
    incident(x, y) + order * wavelength * phase(x, y);

export function sentOut(pattern: Pattern, x: number, y: number): SentOut {
  const crossed = crossing(pattern);
  return { path: crossed(x, y), slopes: slopes(crossed, x, y) };
}

/** The ray that leaves (x, y), where and with what phase it comes home; undefined where it does not. */
export function returned(
  pattern: Pattern,
  bounce: Bounce,
  x: number,
  y: number,
  sent = sentOut(pattern, x, y),
): Returned | undefined {
  const { wavelength, glassAfter } = pattern;
  const crossed = crossing(pattern);
  const [kx, ky] = sent.slopes;
  const { thickness, index } = glassAfter ?? { thickness: 0, index: 1 };
  const inGlass = fromCosines(kx, ky, index);
  const exit = toPlane([x, y, 0], inGlass, thickness);
  const home = bounce({ point: exit.at, direction: refract(inGlass, index, 1) });
  if (home === undefined || home.direction[2] >= 0) return undefined;
  const entry = toPlane(home.point, home.direction, thickness);
  const back = toPlane(entry.at, refract(home.direction, 1, index), 0);
  const way = index * exit.way + home.path + entry.way + index * back.way;
  const [bx, by] = back.at;
  return { x: bx, y: by, waves: (sent.path + way + crossed(bx, by)) / wavelength };
}
