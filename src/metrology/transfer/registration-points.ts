/**
 * Tracked points as the registration takes them: where each was found and how well (tracker frame), and where it stands by
 * design and how well that place is known (substrate frame). mm; covariances 3 × 3 row-major, mm².
 *
 * At its focus a reference's place is as good as its fringes are read; along what they do not show, and along what a touching
 * ball may slide on, it is set by eye. A cube's apex is tracked, but its sphere lies in the nest or against the part, and it is turned
 * there from the hologram to the tracker: on either side the two differ by the centring.
 */
import type { Design } from '../../design/design.ts';
import type { Place } from '../../finding/finding.ts';
import { rotate } from '../../geometry/frame.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import type { Measured, TrackedPoint } from '../../scenario/tracked-point.ts';
import { holdOf } from '../budget/hold.ts';
import type { Practice } from '../budget/practice.ts';
import { RECTANGULAR } from '../budget/reference-errors.ts';
import { estimateReferences } from '../estimate/reference-estimate.ts';
import { SETTING } from '../estimate/unobserved.ts';

export interface RegistrationPoint {
  readonly name: string;
  readonly design: Vec3;
  readonly measured: Vec3;
  readonly measuredCovariance: Float64Array;
  readonly placeCovariance: Float64Array;
  /** Directions in which its place is by eye alone, substrate frame. */
  readonly byEye: readonly Vec3[];
  /** In the file of points. */
  readonly place?: Place;
}

/** Standard uncertainties where the file gives none; common practice of laser trackers, no source beyond the trade. */
export const TRACKER_PRACTICE = {
  /** mm, each axis of a Cartesian point. */
  axis: 0.02,
  /** mm */
  range: 0.01,
  /** rad: a second of arc, 5 µm at a metre. */
  angle: Math.PI / 180 / 3600,
} as const;

/** No tracked coordinate is taken as better than this, mm: ten nanometres. */
const LEAST = 1e-5;

export function registrationPoints(
  design: Design,
  tracked: readonly TrackedPoint[],
  practice: Practice,
): readonly RegistrationPoint[] {
  const places = estimateReferences(design, practice);
  return tracked.map(({ name, reference: id, side, measured, place }): RegistrationPoint => {
    const reference = design.references.find((each) => each.id === id);
    if (reference === undefined) throw new RangeError(`no reference ${id} in this design`);
    const shared = {
      name,
      ...(place === undefined ? {} : { place }),
      design: reference.at,
      measured: placeOf(measured),
      measuredCovariance: covarianceOf(measured),
    };
    const nest = (reference.given === 'touches' ? 0 : (reference.nest ?? practice.nest)) * RECTANGULAR;
    const u = Math.hypot((reference.cube?.centring ?? practice.apexCentring) * RECTANGULAR, nest);
    if (side === 'part') {
      const { slides } = holdOf(design, reference);
      return { ...shared, placeCovariance: withByEye(diagonal([u, u, u]), slides), byEye: slides };
    }
    const { full, stated, readings } = places.find((each) => each.reference === reference)!;
    if (readings.length === 0) return { ...shared, placeCovariance: diagonal([u, u, u]), byEye: [] };
    const unseen = stated.unobserved.map((v): Vec3 => [v[0]!, v[1]!, v[2]!]);
    // The fringes show the apex, centring and all, where it was read; the tracker finds it after it came to sit in its nest anew.
    const seated = full.covariance.map((entry, at) => (at % 4 === 0 ? entry + nest * nest : entry));
    return { ...shared, placeCovariance: withByEye(seated, unseen), byEye: unseen };
  });
}

/** x, y, z of a point, tracker frame. */
export function placeOf(measured: Measured): Vec3 {
  if (measured.kind === 'cartesian') return measured.at;
  const { range, azimuth, elevation } = measured;
  const level = range * Math.cos(elevation);
  return [level * Math.cos(azimuth), level * Math.sin(azimuth), range * Math.sin(elevation)];
}

/** Ranges are better than angles: the ellipsoid of a spherical reading lies flat across the line of sight. */
function covarianceOf(measured: Measured): Float64Array {
  if (measured.kind === 'cartesian') {
    const { axis } = TRACKER_PRACTICE;
    const [x, y, z] = measured.sigma ?? [axis, axis, axis];
    return diagonal([Math.max(x, LEAST), Math.max(y, LEAST), Math.max(z, LEAST)]);
  }
  const { range, azimuth, elevation } = measured;
  const { range: u, angle } = TRACKER_PRACTICE;
  const sigma = measured.sigma ?? [u, angle, angle];
  const [ca, sa] = [Math.cos(azimuth), Math.sin(azimuth)];
  const [ce, se] = [Math.cos(elevation), Math.sin(elevation)];
  const covariance = new Float64Array(9);
  addAlong(covariance, [ce * ca, ce * sa, se], Math.max(sigma[0], LEAST));
  addAlong(covariance, [-sa, ca, 0], Math.max(range * ce * sigma[1], LEAST));
  addAlong(covariance, [-se * ca, -se * sa, ce], Math.max(range * sigma[2], LEAST));
  return covariance;
}

const diagonal = ([x, y, z]: Vec3): Float64Array => Float64Array.of(x * x, 0, 0, 0, y * y, 0, 0, 0, z * z);

function withByEye(covariance: Float64Array, directions: readonly Vec3[]): Float64Array {
  const sum = covariance.slice();
  for (const direction of directions) addAlong(sum, direction, SETTING);
  return sum;
}

/** Adds u² along a unit vector. */
function addAlong(covariance: Float64Array, direction: Vec3, u: number): void {
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++) covariance[i * 3 + j]! += direction[i]! * direction[j]! * u * u;
}

/** R C Rᵀ. */
export function turned(covariance: Float64Array, rotation: readonly [Vec3, Vec3, Vec3]): Float64Array {
  const half = rowsOf(covariance).map((row) => rotate(rotation, row));
  const columns = [0, 1, 2].map((j) => rotate(rotation, [half[0]![j]!, half[1]![j]!, half[2]![j]!]));
  return Float64Array.from([0, 1, 2].flatMap((i) => [0, 1, 2].map((j) => columns[j]![i]!)));
}

const rowsOf = (c: Float64Array): readonly Vec3[] =>
  [0, 1, 2].map((i): Vec3 => [c[i * 3]!, c[i * 3 + 1]!, c[i * 3 + 2]!]);
