/**
 * Whether the readings after a move are those predicted, or those of a bench whose signs are all wrong or whose camera is turned or
 * mirrored otherwise than believed: so that moves in the wrong direction are found at once. In the readings' own units, fringes or waves.
 *
 * A move changes the readings by c, predicted less before. If pictures are taken for turned in a wrong way, the change comes out as
 * misread-changes.ts says; with all signs wrong as −c. Each move made by itself is off by a share of it, the same in all readings that it
 * changes: with jₖ what the k-th of them does, the readings' change has the covariance diag(u² + u²) + share² Σ jₖ jₖᵀ. Large moves that
 * hold each other in balance so allow the readings much, and only along with each other. A supposition is given up where the χ² of what it
 * leaves is less likely than CONTRADICTION.
 */
import { chiSquaredTail } from '../../algebra/distributions.ts';
import { choleskyFactor } from '../../algebra/triangular-factors.ts';
import type { Design } from '../../design/design.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { type BenchReading, subjectOf } from '../../scenario/bench-reading.ts';
import {
  type CameraOrientation,
  isSameOrientation,
  ORIENTATIONS,
  takenFor,
} from '../../scenario/camera-orientation.ts';
import { CONTRADICTION } from '../estimate/consistency.ts';
import {
  type Change,
  misread,
  type Subject,
  sourcesByPlace,
  subjectIn,
  valuesOf,
} from './misread-changes.ts';
import type { PredictedReading } from './moves-predicted.ts';
import { labelOf, steeringReadings } from './steering-readings.ts';
import { MOVE_ACCURACY } from './step.ts';

interface MovesRead {
  /** What was read before the moves, and what they were to do; see `predictedReadings`. */
  readonly predicted: readonly PredictedReading[];
  /** What is read now. Only what is in both, with known signs, is compared. */
  readonly taken: readonly BenchReading[];
}

/** What would explain the readings. */
export type Supposition =
  | { readonly kind: 'as predicted' }
  | { readonly kind: 'all signs wrong' }
  | { readonly kind: 'camera turned'; readonly orientation: CameraOrientation; readonly byPlace: boolean };

export interface MovesCheck {
  /** Those that the readings do not contradict: one where all is clear. */
  readonly fits: readonly Supposition[];
  readonly compared: number;
}

interface Compared {
  readonly subject: Subject;
  /** Its moves err alike. */
  readonly mover: string;
  /** Predicted, by all moves together and by each alone. */
  readonly change: Change;
  readonly singly: readonly Change[];
  /** Taken less before, and its variance. */
  readonly found: Change;
  readonly variance: Change;
}

/** `believed`: how the camera was taken to be turned as the readings were made. */
export function checkMoves(design: Design, read: MovesRead, believed: CameraOrientation): MovesCheck {
  const compared = comparedIn(design, read);
  const suppositions: Supposition[] = [{ kind: 'as predicted' }, { kind: 'all signs wrong' }];
  for (const orientation of ORIENTATIONS) {
    if (isSameOrientation(orientation, believed)) continue;
    for (const byPlace of [false, true]) suppositions.push({ kind: 'camera turned', orientation, byPlace });
  }
  const fits = suppositions.filter((supposition) => {
    const shown = shownIf(design, compared, supposition, believed);
    return shown !== undefined && isLikely(compared, shown);
  });
  return { fits, compared: compared.length };
}

function comparedIn(design: Design, { predicted, taken }: MovesRead): readonly Compared[] {
  return predicted.flatMap(({ reading, mover, values }): Compared[] => {
    // What the others decided says nothing of signs.
    if (!reading.signKnown) return [];
    const now = taken.find((one) => subjectOf(one) === subjectOf(reading) && isLike(one, reading));
    if (now === undefined) return [];
    const subject = subjectIn(design, reading);
    const pairs = values.flatMap((was) => {
      const is = steeringReadings(design, [now]).find((one) => labelOf(one) === was.label);
      return is === undefined ? [] : [{ was, value: is.value * is.perMm, u: is.reading.u * is.perMm }];
    });
    const each = <T>(of: (pair: (typeof pairs)[number]) => T): readonly (T | undefined)[] =>
      Array.from({ length: valuesOf(subject) }, (_, place) => {
        const pair = pairs.find(({ was }) => was.place === place);
        return pair && of(pair);
      });
    return [
      {
        ...{ subject, mover },
        change: each(({ was }) => was.change),
        singly: (values[0]?.singly ?? []).map((_, k) => each(({ was }) => was.singly[k]!)),
        found: each(({ was, value }) => value - was.before),
        variance: each(({ was, u }) => was.u ** 2 + u ** 2),
      },
    ];
  });
}

/** In the same unit and with its signs. */
const isLike = (one: BenchReading, other: BenchReading): boolean =>
  one.kind !== 'length' &&
  one.signKnown &&
  (one.kind === 'null' && other.kind === 'null' ? one.unit === other.unit : one.kind === other.kind);

/** What is read of a subject: the change by all moves together, then by each alone, and what those moves are of. */
interface Shown {
  readonly changes: readonly Change[];
  readonly mover: string;
}

/** Undefined where no one could take such pictures for what he expects. */
function shownIf(
  design: Design,
  compared: readonly Compared[],
  supposition: Supposition,
  believed: CameraOrientation,
): readonly Shown[] | undefined {
  const shownOf = ({ change, singly, mover }: Compared): Shown => ({ changes: [change, ...singly], mover });
  if (supposition.kind === 'as predicted') return compared.map(shownOf);
  if (supposition.kind === 'all signs wrong')
    return compared.map(shownOf).map(({ changes, mover }) => ({
      changes: changes.map((change) => change.map((value) => value && -value)),
      mover,
    }));
  const { orientation, byPlace } = supposition;
  const turn = (direction: Vec2): Vec2 => takenFor(orientation, believed, direction);
  const sources = byPlace ? sourcesByPlace(design, compared, turn) : compared;
  if (sources === undefined) return undefined;
  const all: Shown[] = [];
  for (const [k, { subject }] of compared.entries()) {
    const source = sources[k]!;
    const { changes, mover } = shownOf(source);
    const read = changes.map((change) => misread(design, subject, source.subject, change, turn));
    if (read.includes(undefined)) return undefined;
    all.push({ changes: read as readonly Change[], mover });
  }
  return all;
}

/** What is left of a value, its variance, and what an error of each move by itself does of it. */
interface Left {
  readonly value: number;
  readonly variance: number;
  readonly erring: readonly number[];
}

function isLikely(compared: readonly Compared[], shown: readonly Shown[]): boolean {
  const byMover = new Map<string, Left[]>();
  for (const [k, { found, variance }] of compared.entries()) {
    const { changes, mover } = shown[k]!;
    const [change, ...singly] = changes;
    const left = byMover.get(mover) ?? [];
    byMover.set(mover, left);
    for (const [place, is] of found.entries()) {
      const expected = change![place];
      if (is === undefined || expected === undefined) continue;
      left.push({
        value: is - expected,
        variance: Math.max(variance[place]!, LEAST_VARIANCE),
        erring: singly.map((each) => MOVE_ACCURACY * each[place]!),
      });
    }
  }
  const groups = [...byMover.values()];
  const count = groups.reduce((sum, { length }) => sum + length, 0);
  const chiSquared = groups.reduce((sum, left) => sum + chiSquaredOf(left), 0);
  return count === 0 || chiSquaredTail(chiSquared, count) >= CONTRADICTION;
}

/** No reading is better than this, fringes²: a millionth of a fringe. */
const LEAST_VARIANCE = 1e-12;

/**
 * dᵀ C⁻¹ d with C = D + A Aᵀ, D = diag(variances), by the inverse of a sum (G. H. Golub, C. F. Van Loan, *Matrix Computations*, sec. 2.1.4):
 * dᵀ D⁻¹ d − |L⁻¹ Aᵀ D⁻¹ d|² with L Lᵀ = 1 + Aᵀ D⁻¹ A, which is as large as there are moves and not as readings.
 */
function chiSquaredOf(left: readonly Left[]): number {
  const n = left[0]?.erring.length ?? 0;
  const inner = new Float64Array(n * n);
  const through = new Float64Array(n);
  let chiSquared = 0;
  for (const { value, variance, erring } of left) {
    chiSquared += value ** 2 / variance;
    for (let i = 0; i < n; i++) {
      through[i]! += (erring[i]! * value) / variance;
      for (let j = 0; j < n; j++) inner[i * n + j]! += (erring[i]! * erring[j]!) / variance;
    }
  }
  for (let i = 0; i < n; i++) inner[i * n + i]! += 1;
  const l = choleskyFactor(inner, n);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) through[i]! -= l[i * n + k]! * through[k]!;
    through[i]! /= l[i * n + i]!;
  }
  return through.reduce((rest, value) => rest - value * value, chiSquared);
}
