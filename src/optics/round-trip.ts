/**
 * The way of each ray from the pattern to a reference and back, and the fringes' phase that it leaves on the camera.
 *
 * mm; W in waves; P = (x, y, 0). A ray leaves P with the lateral optical cosines ∇E_in + mλ∇Φ, which plane glass after the
 * pattern keeps; it meets the real ball or cube, comes back to the pattern at P* after the path L, and is diffracted a second
 * time. Against the beam's own wave sent straight back, the camera (focused on the pattern) then sees at P*
 *   W λ = E_in(P) + mλΦ(P) + L + mλΦ(P*) + E_in(P*),
 * and the direction in which the ray goes on differs from that wave's by λ∇W. A longer way is a positive W. Glass before the
 * pattern matters through E_in alone. Source: Welford, Aberrations of Optical Systems, ch. 5 for the pattern's part; the rest
 * is the law of reflection and the plane slab.
 */
import { add, type Vec2, type Vec3 } from '../geometry/vector.ts';
import { type Ball, type Returned, reflectAtBall } from './ball.ts';
import { type CornerCube, returnFromCube } from './corner-cube.ts';
import { type DatumSurface, movedSurface, reflectAtSurface } from './datum-surface.ts';
import type { Eikonal } from './eikonal.ts';
import { directionFromLateral, type Ray, runToHeight, slabCrossing } from './ray.ts';

/** What the trace needs to know of a patch and the light on it. */
export interface TracedPatch {
  readonly order: number;
  /** In the air around. */
  readonly wavelength: number;
  readonly incident: Eikonal;
  readonly phase: {
    /** Φ in waves at order 1, with the bias. */
    phases(xs: Float64Array, ys: Float64Array): Float64Array;
    /** ∇Φ, waves/mm. */
    gradients(xs: Float64Array, ys: Float64Array): { gx: Float64Array; gy: Float64Array };
  };
  /** Plane glass, its index relative to the air around. Only glass after the pattern is crossed on the round trip. */
  readonly glass?: { readonly thickness: number; readonly index: number; readonly side: 'before' | 'after' };
  /** Whether a point of the pattern belongs to the patch; light that comes back elsewhere is lost. Default: all of it does. */
  readonly contains?: (x: number, y: number) => boolean;
}

export type TracedReference =
  | ({ readonly kind: 'ball' } & Ball)
  | ({ readonly kind: 'cube' } & CornerCube)
  | { readonly kind: 'surface'; readonly surface: DatumSurface };

/** What became of a ray: the first row is the only one that the camera sees. */
export const FATES = [
  'returned',
  'evanescent',
  'missed',
  'outside aperture',
  'dead zone',
  'beside patch',
] as const;
export type Fate = (typeof FATES)[number];

export interface RoundTripTrace {
  readonly count: number;
  /** Index into FATES for each ray. */
  readonly fate: Uint8Array;
  /** P*, where each ray comes back to the pattern; NaN for a ray that does not reach it. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** W at P* less `piston`, waves: of mean 0 over the returned rays. NaN as for x. */
  readonly waves: Float64Array;
  /** The mean of W over the returned rays, waves: not seen in the fringes. NaN where nothing returned. */
  readonly piston: number;
  /** The ray's lateral direction cosines after the pattern, less those of the beam's own return: λ∇W. NaN as for x. */
  readonly slopeX: Float64Array;
  readonly slopeY: Float64Array;
}

/**
 * Traces a ray from each of the points (xs, ys), mm, on the pattern. The reference stands `displacement` mm off the place
 * that it is given with. Throws a RangeError where xs and ys differ in length.
 */
export function traceRoundTrip(
  patch: TracedPatch,
  reference: TracedReference,
  xs: Float64Array,
  ys: Float64Array,
  displacement: Vec3 = [0, 0, 0],
): RoundTripTrace {
  if (xs.length !== ys.length)
    throw new RangeError(`${xs.length} x for ${ys.length} y: one of each for a point`);
  const count = xs.length;
  const { order, wavelength } = patch;
  const x = new Float64Array(count).fill(Number.NaN);
  const y = new Float64Array(count).fill(Number.NaN);
  const slopeX = new Float64Array(count);
  const slopeY = new Float64Array(count);
  const path = new Float64Array(count);
  const out = lateralCosines(patch, xs, ys);
  const fate = eachTrip(patch, movedReference(reference, displacement), xs, ys, out, (i, trip) => {
    [x[i], y[i]] = trip.at;
    [slopeX[i], slopeY[i]] = trip.cosines;
    path[i] = trip.path;
  });

  const waves = opticalPaths(patch, xs, ys);
  addTo(waves, opticalPaths(patch, x, y));
  const second = lateralCosines(patch, x, y);
  for (let i = 0; i < count; i++) {
    waves[i] = (waves[i] + path[i]) / wavelength;
    // p* + mλ∇Φ(P*) + ∇E_in(P*): the beam's own return has the cosines −∇E_in.
    slopeX[i] = slopeX[i] + second.px[i];
    slopeY[i] = slopeY[i] + second.py[i];
  }
  return { count, fate, x, y, waves, piston: removeMean(waves, fate), slopeX, slopeY };

  /** E_in + mλΦ, mm. */
  function opticalPaths(of: TracedPatch, px: Float64Array, py: Float64Array): Float64Array {
    const paths = of.phase.phases(px, py).map((waveCount) => waveCount * order * wavelength);
    of.incident.accumulate(px, py, 1, paths, count);
    return paths;
  }
}

/** What becomes of each ray alone, as indices into FATES: a quarter of the whole trace's work. Points and place as there. */
export const traceFates = (
  patch: TracedPatch,
  reference: TracedReference,
  xs: Float64Array,
  ys: Float64Array,
): Uint8Array => fateTracer(patch, xs, ys)(reference);

/** The same of one set of rays for many places of the reference: what leaves the pattern is worked out once. */
export function fateTracer(
  patch: TracedPatch,
  xs: Float64Array,
  ys: Float64Array,
): (reference: TracedReference) => Uint8Array {
  const out = lateralCosines(patch, xs, ys);
  return (reference) => eachTrip(patch, reference, xs, ys, out, () => {});
}

function eachTrip(
  patch: TracedPatch,
  reference: TracedReference,
  xs: Float64Array,
  ys: Float64Array,
  out: ReturnType<typeof lateralCosines>,
  landed: (index: number, trip: Trip) => void,
): Uint8Array {
  const fate = new Uint8Array(xs.length);
  for (let i = 0; i < xs.length; i++) {
    const trip = tripOf(patch, reference, [xs[i], ys[i]], [out.px[i], out.py[i]]);
    if (typeof trip === 'string') {
      fate[i] = FATES.indexOf(trip);
      continue;
    }
    landed(i, trip);
    if (patch.contains !== undefined && !patch.contains(trip.at[0], trip.at[1])) fate[i] = BESIDE_PATCH;
  }
  return fate;
}

/** ∇(E_in + mλΦ) at each point. */
export function lateralCosines(
  patch: Pick<TracedPatch, 'order' | 'wavelength' | 'incident' | 'phase'>,
  xs: Float64Array,
  ys: Float64Array,
) {
  const { gx: px, gy: py } = patch.phase.gradients(xs, ys);
  const perWave = patch.order * patch.wavelength;
  for (let i = 0; i < px.length; i++) {
    px[i] = px[i] * perWave;
    py[i] = py[i] * perWave;
  }
  patch.incident.accumulateGradient(xs, ys, 1, px, py, xs.length);
  return { px, py };
}

/** The reference moved by `displacement`; turning a cube about its apex changes only what it loses. */
export function movedReference(reference: TracedReference, displacement: Vec3): TracedReference {
  if (reference.kind === 'ball') return { ...reference, centre: add(reference.centre, displacement) };
  if (reference.kind === 'surface') {
    const { surface } = reference;
    return { ...reference, surface: movedSurface(surface, displacement, [0, 0, 0], surface.point) };
  }
  return { ...reference, apex: add(reference.apex, displacement) };
}

interface Trip {
  /** P*. */
  readonly at: Vec2;
  /** Lateral optical cosines with which the ray arrives at P*. */
  readonly cosines: Vec2;
  readonly path: number;
}

/** From P with the lateral cosines p, to the reference and back to the plane z = 0. */
export function tripOf(
  patch: Pick<TracedPatch, 'glass'>,
  reference: TracedReference,
  from: Vec2,
  p: Vec2,
): Trip | Fate {
  const glass = patch.glass?.side === 'after' && patch.glass.thickness > 0 ? patch.glass : undefined;
  const height = glass?.thickness ?? 0;
  const direction = directionFromLateral(p, 1, 1);
  if (direction === undefined) return 'evanescent';
  const inGlass = glass && slabCrossing(p[0] * p[0] + p[1] * p[1], glass.thickness, glass.index);
  const runIn = inGlass?.runPerCosine ?? 0;
  const point: Vec3 = [from[0] + p[0] * runIn, from[1] + p[1] * runIn, height];

  const back = meet(reference, { point, direction });
  if (typeof back === 'string') return back;
  const { point: leaving, direction: q } = back.ray;
  const run = runToHeight(back.ray, height);
  if (q[2] >= 0 || run < 0) return 'missed';
  const backInGlass = glass && slabCrossing(q[0] * q[0] + q[1] * q[1], glass.thickness, glass.index);
  const lateral = run + (backInGlass?.runPerCosine ?? 0);
  return {
    at: [leaving[0] + q[0] * lateral, leaving[1] + q[1] * lateral],
    cosines: [q[0], q[1]],
    path: (inGlass?.path ?? 0) + back.path + run + (backInGlass?.path ?? 0),
  };
}

function meet(reference: TracedReference, ray: Ray): Returned | Fate {
  if (reference.kind === 'ball') return reflectAtBall(reference, ray) ?? 'missed';
  if (reference.kind === 'surface') return reflectAtSurface(reference.surface, ray) ?? 'missed';
  return returnFromCube(reference, ray);
}

const RETURNED = FATES.indexOf('returned');
const BESIDE_PATCH = FATES.indexOf('beside patch');

function addTo(sum: Float64Array, more: Float64Array): void {
  for (let i = 0; i < sum.length; i++) sum[i] = sum[i] + more[i];
}

/** Takes the mean over the returned rays off all of them, and gives it back. */
function removeMean(waves: Float64Array, fate: Uint8Array): number {
  let sum = 0;
  let count = 0;
  for (let i = 0; i < waves.length; i++) {
    if (fate[i] !== RETURNED) continue;
    sum += waves[i];
    count++;
  }
  const mean = sum / count;
  for (let i = 0; i < waves.length; i++) waves[i] = waves[i] - mean;
  return mean;
}
