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
import { outliersOf, type Registration, register } from './registration.ts';
import { registrationPoints } from './registration-points.ts';
import { mixUp, refusal } from './registration-refusals.ts';
import { type MeanPoint, meanPoints } from './repeated-points.ts';
import { type Judged, type SidedPoint, type Swap, swapFinding, swapsOf } from './swapped-points.ts';
import { type DiameterError, diameterErrorOf } from './target-diameter.ts';

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
  /** Every point once, with what its repeats scatter by. */
  readonly points: readonly MeanPoint[];
  readonly ofRepeats: readonly Finding[];
  /** Exchanges of two names, each of which would explain the points; the best first. */
  readonly swaps: readonly Swap[];
  /** An error of diameter that would explain the points on the part. */
  readonly diameter: DiameterError | undefined;
}

/** From at least one point. Findings instead of a result where the points cannot give one. */
export function transfer(
  design: Design,
  tracked: readonly TrackedPoint[],
  practice: Practice = COMMON_PRACTICE,
): { readonly transfer: Transfer } | { readonly findings: readonly Finding[] } {
  const { points: means, findings: ofRepeats } = meanPoints(tracked);
  if (ofRepeats.some(({ severity }) => severity === 'error')) return { findings: ofRepeats };
  const all = registrationPoints(design, means, practice).map((point, k) => ({
    ...point,
    side: means[k]!.side,
  }));
  const sides = [
    { points: all.filter(({ side }) => side === 'hologram'), words: 'the points at the hologram’s foci' },
    { points: all.filter(({ side }) => side === 'part'), words: 'the points on the part' },
  ].filter(({ points }) => points.length > 0);
  const refused = sides.flatMap(({ points, words }) => refusal(points, words) ?? []);
  if (refused.length > 0) return { findings: refused };
  const mixed = sides.flatMap(({ points, words }) => mixUp(points, words) ?? []);
  // Points of one plane fit their mirror image as well; both sides together seldom lie in one.
  const together = sides.length > 1 && mixed.length === 0 ? mixUp(all, 'all points together') : undefined;
  const slips = together === undefined ? mixed : [together];
  const swaps = slips.some(({ rule }) => rule === 'mixed-units')
    ? []
    : swapsOf(all, judgedBy(design), isFine);
  if (slips.length > 0) return { findings: swaps.length > 0 ? [swapFinding(swaps, all)] : slips };

  const judged = judge(design, all);
  const { hologram, part, displacement } = judged;
  const diameter =
    part === undefined || swaps.length > 0 ? undefined : diameterOf(design, means, all, judged);
  return { transfer: { hologram, part, displacement, points: means, ofRepeats, swaps, diameter } };
}

/** Each side fitted, and the part's displacement from both. */
function judge(
  design: Design,
  all: readonly SidedPoint[],
): Pick<Transfer, 'hologram' | 'part' | 'displacement'> {
  const { frame } = design.scenario.part;
  const [hologram, part] = (['hologram', 'part'] as const).map((side) => {
    const points = all.filter((point) => point.side === side);
    return points.length === 0 ? undefined : register(points, frame);
  });
  return { hologram, part, displacement: displacementOf(design, hologram, part) };
}

/** For trials: undefined where the points give no motion. */
const judgedBy =
  (design: Design) =>
  (all: readonly SidedPoint[]): Judged => {
    const { hologram, part, displacement } = judge(design, all);
    return {
      registrations: [hologram, part].filter((each) => each !== undefined),
      displacement: displacement?.found,
    };
  };

const isFine = (registration: Registration): boolean => outliersOf(registration).length === 0;

function diameterOf(
  design: Design,
  means: readonly MeanPoint[],
  all: readonly SidedPoint[],
  { hologram, part }: Pick<Transfer, 'hologram' | 'part'>,
): DiameterError | undefined {
  const touching = all.flatMap((point, k) => {
    const of = design.references.find(({ id }) => id === means[k]!.reference)!;
    return point.side === 'part' ? [{ ...point, of }] : [];
  });
  return diameterErrorOf(
    design,
    touching,
    part!,
    (points) => register(points, design.scenario.part.frame),
    isFine,
    (shifted) => displacementOf(design, hologram, shifted)?.found,
  );
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
