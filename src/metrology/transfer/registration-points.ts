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
import { holdOf } from '../budget/hold.ts';
import type { Practice } from '../budget/practice.ts';
import { RECTANGULAR } from '../budget/reference-errors.ts';
import { estimateReferences } from '../estimate/reference-estimate.ts';
import { SETTING } from '../estimate/unobserved.ts';
import { addAlong, diagonal } from './measured-place.ts';
import type { MeanPoint } from './repeated-points.ts';

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

export function registrationPoints(
  design: Design,
  tracked: readonly MeanPoint[],
  practice: Practice,
): readonly RegistrationPoint[] {
  const places = estimateReferences(design, practice);
  return tracked.map(({ name, reference: id, side, at, covariance, place }): RegistrationPoint => {
    const reference = design.references.find((each) => each.id === id);
    if (reference === undefined) throw new RangeError(`no reference ${id} in this design`);
    const shared = {
      name,
      ...(place === undefined ? {} : { place }),
      design: reference.at,
      measured: at,
      measuredCovariance: covariance,
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

function withByEye(covariance: Float64Array, directions: readonly Vec3[]): Float64Array {
  const sum = covariance.slice();
  for (const direction of directions) addAlong(sum, direction, SETTING);
  return sum;
}

/** R C Rᵀ. */
export function turned(covariance: Float64Array, rotation: readonly [Vec3, Vec3, Vec3]): Float64Array {
  const half = rowsOf(covariance).map((row) => rotate(rotation, row));
  const columns = [0, 1, 2].map((j) => rotate(rotation, [half[0]![j]!, half[1]![j]!, half[2]![j]!]));
  return Float64Array.from([0, 1, 2].flatMap((i) => [0, 1, 2].map((j) => columns[j]![i]!)));
}

const rowsOf = (c: Float64Array): readonly Vec3[] =>
  [0, 1, 2].map((i): Vec3 => [c[i * 3]!, c[i * 3 + 1]!, c[i * 3 + 2]!]);
