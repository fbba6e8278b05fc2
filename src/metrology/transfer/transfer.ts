/**
 * The part in the hologram's frame by a tracker: retroreflectors at their foci tie the tracker to the hologram, those that touch
 * the part's datums tie it to the part; the one after the inverse of the other is where the part stands.
 *
 * T (mm) and θ (rad, a rotation vector) are the part's displacement from its design place as in steering-part.ts: along the part
 * frame's axes, about its origin. The move to make is −T and −θ.
 */
import type { Design } from '../../design/design.ts';
import type { Finding } from '../../finding/finding.ts';
import { carriedPast, composed, inverse, placeFromParent, rotationVector } from '../../geometry/frame.ts';
import { add, cross, length, type Vec3 } from '../../geometry/vector.ts';
import type { TrackedPoint } from '../../scenario/tracked-point.ts';
import { COMMON_PRACTICE, type Practice } from '../budget/practice.ts';
import type { Displacement } from '../steering/steering-part.ts';
import { type Registration, register } from './registration.ts';
import { type RegistrationPoint, registrationPoints } from './registration-points.ts';
import { mixUp, refusal } from './registration-refusals.ts';

export interface Transfer {
  /** Undefined where no point is at a focus. */
  readonly hologram: Registration | undefined;
  readonly part: Registration | undefined;
  /** Undefined unless both are there. */
  readonly displacement:
    | {
        readonly found: Displacement;
        /** The farthest point from the part's origin, mm: the lever at which its turns count. */
        readonly size: number;
        /** 6 × 6 row-major, mm and rad: of the tracker alone, and with all else. */
        readonly trackerCovariance: Float64Array;
        readonly covariance: Float64Array;
      }
    | undefined;
}

/** From at least one point. Findings instead of a result where the points cannot give one. */
export function transfer(
  design: Design,
  tracked: readonly TrackedPoint[],
  practice: Practice = COMMON_PRACTICE,
): { readonly transfer: Transfer } | { readonly findings: readonly Finding[] } {
  const all = registrationPoints(design, tracked, practice);
  const of = (side: TrackedPoint['side']): readonly RegistrationPoint[] =>
    all.filter((_, k) => tracked[k]!.side === side);
  const sides = [
    { points: of('hologram'), words: 'the points at the hologram’s foci' },
    { points: of('part'), words: 'the points on the part' },
  ].filter(({ points }) => points.length > 0);
  const refused = sides.flatMap(({ points, words }) => refusal(points, words) ?? []);
  if (refused.length > 0) return { findings: refused };
  const mixed = sides.flatMap(({ points, words }) => mixUp(points, words) ?? []);
  if (mixed.length > 0) return { findings: mixed };
  // Points of one plane fit their mirror image as well; both sides together seldom lie in one.
  const together = sides.length > 1 ? mixUp(all, 'all points together') : undefined;
  if (together !== undefined) return { findings: [together] };

  const { frame } = design.scenario.part;
  const [hologram, part] = (['hologram', 'part'] as const).map((side) => {
    const points = of(side);
    return points.length === 0 ? undefined : register(points, frame);
  });
  return { transfer: { hologram, part, displacement: displacementOf(design, hologram, part) } };
}

function displacementOf(
  design: Design,
  hologram: Registration | undefined,
  part: Registration | undefined,
): Transfer['displacement'] {
  if (hologram === undefined || part === undefined) return undefined;
  const { frame } = design.scenario.part;
  // In the part frame: F⁻¹ H⁻¹ P F.
  const motion = composed(inverse(composed(hologram.toTracker, frame)), composed(part.toTracker, frame));
  const found = { translation: motion.origin, rotation: rotationVector(motion.rotation) };
  // Errors of P act before the motion, those of H after it; a turn after it takes T along.
  const before = columnsOf((small) => withLever(carriedPast(motion, small), found.translation));
  const after = columnsOf((small) => withLever(small, found.translation));
  const both = (of: (registration: Registration) => Float64Array): Float64Array => {
    const [p, h] = [sandwich(before, of(part)), sandwich(after, of(hologram))];
    return p.map((value, k) => value + h[k]!);
  };
  const places = [...hologram.points, ...part.points].map(({ design: at }) =>
    length(placeFromParent(frame, at)),
  );
  return {
    found,
    size: Math.max(1, ...places),
    trackerCovariance: both(({ trackerCovariance }) => trackerCovariance),
    covariance: both(({ covariance }) => covariance),
  };
}

type Small = readonly [Vec3, Vec3];

const withLever = ([move, turn]: Small, translation: Vec3): Small => [
  add(move, cross(turn, translation)),
  turn,
];

/** The 6 × 6 matrix of a linear map of small motions, row-major. */
function columnsOf(map: (small: Small) => Small): Float64Array {
  const matrix = new Float64Array(36);
  for (let j = 0; j < 6; j++) {
    const unit = (from: number): Vec3 => [+(j === from), +(j === from + 1), +(j === from + 2)];
    map([unit(0), unit(3)])
      .flat()
      .forEach((value, i) => {
        matrix[i * 6 + j] = value;
      });
  }
  return matrix;
}

/** M C Mᵀ. */
function sandwich(m: Float64Array, c: Float64Array): Float64Array {
  const half = new Float64Array(36);
  const whole = new Float64Array(36);
  for (let i = 0; i < 6; i++)
    for (let j = 0; j < 6; j++) for (let k = 0; k < 6; k++) half[i * 6 + j]! += m[i * 6 + k]! * c[k * 6 + j]!;
  for (let i = 0; i < 6; i++)
    for (let j = 0; j < 6; j++)
      for (let k = 0; k < 6; k++) whole[i * 6 + j]! += half[i * 6 + k]! * m[j * 6 + k]!;
  return whole;
}
