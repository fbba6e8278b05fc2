/**
 * Where the readings say that each reference stands, from its own readings alone: a displacement δ, mm, substrate frame. The
 * move to make is −δ. Along directions that no reading sees δ is 0: the least move that explains what was read.
 */
import type { Design } from '../../design/design.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import type { Reference } from '../../scenario/scenario.ts';
import type { Practice } from '../budget/practice.ts';
import { estimateReferences } from '../estimate/reference-estimate.ts';
import { readWhenMoved, type SteeringReading } from './steering-readings.ts';
import { type Candidate, candidatesOf, type Trial, trialOf } from './steering-signs.ts';
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
  readings: readonly SteeringReading[],
  practice: Practice,
): readonly ReferenceSteering[] {
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

export const asVector = (three: ArrayLike<number>): Vec3 => [three[0]!, three[1]!, three[2]!];
