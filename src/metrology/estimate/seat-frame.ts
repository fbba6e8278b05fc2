/**
 * The hologram's frame as its seats carry it: six degrees of freedom from the measured centres of three spheres or more, and what
 * the lever from the seats makes of their uncertainty at the references and at the part. mm and rad, substrate frame.
 *
 * A frame moved by δ = T + θ × r shows at a seat as δ along each axis, read to the seat's own uncertainty: linear least squares,
 * weighted. At a place r the frame is off by J [T, θ], J = [1 | −[r]×], of covariance J C Jᵀ (JCGM 100, 5.2.2 and F.1.2).
 */
import { symmetricEigen } from '../../algebra/symmetric-eigen.ts';
import type { Design } from '../../design/design.ts';
import { length, type Vec3 } from '../../geometry/vector.ts';
import { DEGREES, type Degree } from '../../scenario/scenario.ts';
import { AXES } from '../budget/reference-errors.ts';
import { sensitivityRow } from '../sensing/sensitivity.ts';
import { seatCentre } from '../sight/seats.ts';
import { freeMotionsOf } from './free-motion.ts';
import { estimate } from './linear-estimate.ts';
import { observedCovariance } from './observed-covariance.ts';

interface SeatFrame {
  readonly seats: readonly { readonly id: string; readonly at: Vec3; readonly sigma: number }[];
  readonly sigma: Readonly<Record<Degree, number | null>>;
  readonly covariance: readonly (readonly (number | null)[])[];
  /** What three seats on a line, or fewer, leave free, in words. */
  readonly freeMotions: readonly string[];
  /** Null where a degree is free. */
  readonly atReferences: readonly ({ readonly id: string } & Lever)[] | null;
  readonly atPart: (Lever & { readonly rotations: Readonly<Record<'rx' | 'ry' | 'rz', number>> }) | null;
}

/** How far off the frame is at a place. */
export interface Lever {
  readonly at: Vec3;
  readonly sigma: Readonly<Record<'x' | 'y' | 'z', number>>;
  /** The longest half-axis of the error ellipsoid. */
  readonly largest: number;
}

/** No seats are nearer to each other for judging rotations, mm. */
const LEAST_SIZE = 1;

/** Undefined for a hologram without seats. */
export function seatFrame(design: Design): SeatFrame | undefined {
  const { seats, part } = design.scenario;
  if (seats.length === 0) return undefined;
  const centres = seats.map((seat) => seatCentre(design, seat));
  const size = Math.max(LEAST_SIZE, ...centres.map(length));
  const found = estimate({
    rows: Float64Array.from(
      centres.flatMap((at) =>
        AXES.flatMap(({ along }) =>
          sensitivityRow(along, at).map((entry, k) => (k < 3 ? entry : entry / size)),
        ),
      ),
    ),
    unknowns: 6,
    u: Float64Array.from(seats.flatMap(({ uncertainty }) => AXES.map(() => uncertainty))),
    terms: seats.flatMap(() => AXES.map(() => 'measured length' as const)),
    sources: [],
  });
  const free = freeMotionsOf(found.unobserved, size);
  const lever = (degree: number): number => (degree < 3 ? 1 : size);
  const entry = (i: number, j: number): number => found.covariance[i * 6 + j]! / (lever(i) * lever(j));
  const isWhole = free.basis.length === 0;
  const sigma = (k: number): number | null => (free.observed[k] ? Math.sqrt(entry(k, k)) : null);
  return {
    seats: seats.map(({ id, uncertainty }, k) => ({ id, at: centres[k]!, sigma: uncertainty })),
    sigma: Object.fromEntries(DEGREES.map((degree, k) => [degree, sigma(k)])) as SeatFrame['sigma'],
    covariance: observedCovariance(free.observed, entry),
    freeMotions: free.motions.map(({ words }) => words.replace("the part's", "the substrate's")),
    atReferences: isWhole
      ? design.references.map(({ id, at }) => {
          return { id, ...leverAt(at, entry) };
        })
      : null,
    atPart: isWhole
      ? {
          ...leverAt(part.frame.origin, entry),
          rotations: { rx: sigma(3)!, ry: sigma(4)!, rz: sigma(5)! },
        }
      : null,
  };
}

/** J C Jᵀ at a place, `entry` giving C in mm and rad. */
function leverAt(at: Vec3, entry: (i: number, j: number) => number): Lever {
  const rows = AXES.map(({ along }) => sensitivityRow(along, at));
  const covariance = Float64Array.from({ length: 9 }, (_, k) => {
    const [one, other] = [rows[Math.floor(k / 3)]!, rows[k % 3]!];
    let sum = 0;
    for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) sum += one[i]! * entry(i, j) * other[j]!;
    return sum;
  });
  const root = (variance: number): number => Math.sqrt(Math.max(0, variance));
  return {
    at,
    sigma: { x: root(covariance[0]!), y: root(covariance[4]!), z: root(covariance[8]!) },
    largest: root(symmetricEigen(covariance, 3).values[0]!),
  };
}
