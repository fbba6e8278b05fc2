/**
 * The fringes of a ring by rays, one by one, with the hologram and the part where they were put: light that the pattern sends straight back,
 * or that meets a sphere or a plane of the part square on by design; and what an operator counts of them, edge to edge. The pattern keeps
 * the phase that it was drawn with. mm, radians, waves. Shares no code with src/.
 */
import { pathThroughEntry, pathThroughExit } from './fermat.ts';
import { turned } from './null-traced.ts';
import { minus, normed, size, type Vector } from './ray.ts';
import { type Bounce, offBall, offPlane, returned } from './returned-ray.ts';

export type Feature =
  | { readonly shape: 'sphere'; readonly centre: Vector; readonly radius: number }
  /** Square to z. */
  | { readonly shape: 'plane'; readonly point: Vector };

export interface RingBench {
  readonly wavelength: number;
  /** Undefined: collimated along +z. */
  readonly focus?: Vector;
  readonly glass?: { readonly thickness: number; readonly index: number; readonly side: 'before' | 'after' };
  /** Undefined: the light goes straight back. */
  readonly feature?: Feature;
  /** The part's origin. Its axes are the bench's. */
  readonly origin: Vector;
}

/** Six numbers each: a move, then a rotation vector; the hologram about the bench's origin, the part about its own. */
export interface Motions {
  readonly hologram?: readonly number[];
  readonly part?: readonly number[];
}

const STILL = [0, 0, 0, 0, 0, 0];
const plus = (a: Vector, b: Vector): Vector => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
const moveOf = (motion: readonly number[]): Vector => motion.slice(0, 3) as unknown as Vector;
/** A place of the bench as the moved hologram sees it. */
const seenFrom = (motion: readonly number[], place: Vector): Vector =>
  turned(
    minus(place, moveOf(motion)),
    motion.slice(3).map((angle) => -angle),
  );

/** E_in on the pattern. */
function arriving({ focus, glass }: RingBench, motion: readonly number[], x: number, y: number): number {
  const at: Vector = [x, y, 0];
  if (focus === undefined) {
    const [a, b, c] = turned(
      [0, 0, 1],
      motion.slice(3).map((angle) => -angle),
    );
    // A tilted plane wave stays one past the slab.
    return a * at[0] + b * at[1] + c * at[2];
  }
  const from = seenFrom(motion, focus);
  const sign = focus[2] < 0 ? 1 : -1;
  return glass?.side === 'before'
    ? pathThroughEntry(from, sign, at, glass.thickness, glass.index)
    : sign * size(minus(at, from));
}

/** E_out by design. */
function leaving({ glass, feature }: RingBench, x: number, y: number): number {
  if (feature === undefined || feature.shape === 'plane') return 0;
  const inAir = (q: Vector): number => size(minus(q, feature.centre));
  return glass?.side === 'after'
    ? -pathThroughExit([x, y, 0], glass.thickness, glass.index, inAir)
    : -inAir([x, y, 0]);
}

/** Of the feature where it stands now, in the moved hologram's frame. */
function bounceOf(
  { origin }: RingBench,
  feature: Feature,
  { hologram = STILL, part = STILL }: Motions,
): Bounce {
  const carried = (place: Vector): Vector =>
    seenFrom(hologram, plus(plus(origin, moveOf(part)), turned(minus(place, origin), part.slice(3))));
  if (feature.shape === 'sphere') return offBall(carried(feature.centre), feature.radius);
  const normal = minus(carried(plus(feature.point, [0, 0, -1])), carried(feature.point));
  return offPlane(carried(feature.point), normed(normal));
}

/** W at a place of the camera, piston and all; NaN where no ray comes. */
export function ringWaves(bench: RingBench, motions: Motions = {}): (x: number, y: number) => number {
  const { wavelength, feature, glass } = bench;
  const { hologram = STILL } = motions;
  const incident = (x: number, y: number): number => arriving(bench, hologram, x, y);
  if (feature === undefined)
    return (x, y) => (2 * (incident(x, y) - arriving(bench, STILL, x, y))) / wavelength;
  const pattern = {
    ...{ wavelength, order: 1, incident },
    phase: (x: number, y: number) => (leaving(bench, x, y) - arriving(bench, STILL, x, y)) / wavelength,
    ...(glass?.side === 'after' ? { glassAfter: glass } : {}),
  };
  const bounce = bounceOf(bench, feature, motions);
  return (x, y) => {
    let from: readonly [number, number] = [x, y];
    for (let round = 0; ; round++) {
      const home = returned(pattern, bounce, ...from);
      if (home === undefined) return Number.NaN;
      const [dx, dy] = [home.x - x, home.y - y];
      if (Math.hypot(dx, dy) < 1e-9 || round === 20) return home.waves;
      from = [from[0] - dx, from[1] - dy];
    }
  };
}

const ROUND = 24;

/** As counted from edge to edge along x and y, and from the inner edge to the outer, all round: positive where the path gets shorter. */
export function countedOn(
  waves: (x: number, y: number) => number,
  [inner, outer]: readonly [number, number],
): readonly [number, number, number] {
  const round = Array.from({ length: ROUND }, (_, k) => (2 * Math.PI * k) / ROUND);
  const mean = (radius: number): number =>
    round.reduce((sum, angle) => sum + waves(radius * Math.cos(angle), radius * Math.sin(angle)), 0) / ROUND;
  return [waves(-outer, 0) - waves(outer, 0), waves(0, -outer) - waves(0, outer), mean(inner) - mean(outer)];
}
