/**
 * Where the readings say that each reference stands, from its own readings alone: a displacement δ, mm, substrate frame. The
 * move to make is −δ. Along directions that no reading sees δ is 0: the least move that explains what was read.
 */
import type { Design } from '../../design/design.ts';
import { dot, length, scale, subtract, type Vec3 } from '../../geometry/vector.ts';
import type { Reference } from '../../scenario/scenario.ts';
import type { Practice } from '../budget/practice.ts';
import { estimateReferences } from '../estimate/reference-estimate.ts';
import { readWhenMoved, type SteeringReading } from './steering-readings.ts';
import { type Candidate, candidatesOf, onlySolution, type Trial, trialOf } from './steering-signs.ts';
import type { SteeringProblem } from './steering-solve.ts';
import { type Uncertainty, uncertaintyOf } from './steering-uncertainty.ts';

export interface ReferenceSteering {
  readonly reference: Reference;
  readonly readings: readonly SteeringReading[];
  /** One, unless signs are not known. The unknowns are δ. */
  readonly candidates: readonly Candidate[];
  readonly trial: Trial | undefined;
  readonly problem: SteeringProblem;
  readonly uncertainty: Uncertainty;
  /** Orthonormal directions that no reading sees. */
  readonly unobserved: readonly Float64Array[];
}

/** For every reference that was read, in the scenario's order. */
export function steerReferences(
  design: Design,
  all: readonly SteeringReading[],
  practice: Practice,
): readonly ReferenceSteering[] {
  // A ring tells of the hologram or of the part, and no reference is moved by it.
  const readings = all.filter(({ reading }) => reading.countedPerMm === undefined);
  const estimates = estimateReferences(
    design,
    practice,
    readings.map(({ reading }) => reading),
  );
  return estimates.flatMap(({ reference, stated, full, sources }): ReferenceSteering[] => {
    const own = readings.filter(({ reading }) => reading.reference.id === reference.id);
    if (own.length === 0) return [];
    const read = readWhenMoved(design, own);
    const problem: SteeringProblem = {
      readings: own,
      rows: Float64Array.from(own.flatMap(({ reading }) => reading.direction)),
      unknowns: 3,
      estimate: full,
      sources,
      predict: (delta) => read(() => asVector(delta)),
    };
    return [
      {
        reference,
        readings: own,
        candidates: candidatesOf(problem),
        trial: trialOf(problem),
        problem,
        uncertainty: uncertaintyOf(problem, stated.unobserved, [1, 1, 1]),
        unobserved: stated.unobserved,
      },
    ];
  });
}

/** What is known along one direction: mm. */
interface Along {
  readonly direction: Vec3;
  readonly displacement: number;
  readonly sigma: number;
  readonly combined: number;
}

/** Cosines under this are of directions square to one another. */
const SQUARE = 1e-6;

/**
 * Where something is unobserved, what is known across it: along as many directions, square to one another and to what is not seen, as the
 * readings see, the first as near to the first reading's as that allows. A bare ball's are across its line of sight.
 */
export function knownAcross({ problem, candidates, unobserved }: ReferenceSteering): readonly Along[] {
  const solution = onlySolution(candidates);
  if (solution === undefined || unobserved.length === 0) return [];
  const { readings, estimate } = problem;
  const m = readings.length;
  const basis: Vec3[] = unobserved.map(asVector);
  const found: Vec3[] = [];
  for (const { reading } of readings) {
    const rest = basis.reduce<Vec3>((left, v) => subtract(left, scale(v, dot(left, v))), reading.direction);
    if (length(rest) < SQUARE) continue;
    const direction = scale(rest, 1 / length(rest));
    basis.push(direction);
    found.push(direction);
  }
  return found.map((direction): Along => {
    const [x, y, z] = direction;
    const own = readings.reduce((sum, { reading }, i) => {
      const { gains } = estimate;
      return sum + ((x * gains[i]! + y * gains[m + i]! + z * gains[2 * m + i]!) * reading.u) ** 2;
    }, 0);
    const all = direction.reduce(
      (sum, a, i) => sum + a * direction.reduce((row, b, j) => row + b * estimate.covariance[3 * i + j]!, 0),
      0,
    );
    return {
      direction,
      displacement: dot(direction, asVector(solution.unknowns)),
      sigma: Math.sqrt(own),
      combined: Math.sqrt(all),
    };
  });
}

export const asVector = (three: ArrayLike<number>): Vec3 => [three[0]!, three[1]!, three[2]!];
