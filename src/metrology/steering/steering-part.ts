/**
 * Where the readings say that the part stands: displaced by T (mm) and turned by the rotation vector θ (rad), both along the
 * part frame's axes as designed, about the part's origin: a point p of the part is found at T + R(θ)p. What the references
 * touch may slide; see pose-estimate.ts. The move to make is −T and −θ about the part's own origin, in either order.
 */
import type { Design } from '../../design/design.ts';
import {
  directionToParent,
  placeFromParent,
  rotate,
  rotateBack,
  rotationFromVector,
} from '../../geometry/frame.ts';
import { add, scale, subtract, type Vec3 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { movesWithPart } from '../../kinds/reference.ts';
import type { Practice } from '../budget/practice.ts';
import { freeMotionsOf } from '../estimate/free-motion.ts';
import { estimatePose, type PoseEstimate } from '../estimate/pose-estimate.ts';
import { readWhenMoved, type SteeringReading } from './steering-readings.ts';
import { asVector } from './steering-reference.ts';
import { type Candidate, candidatesOf, type Trial, trialOf } from './steering-signs.ts';
import type { SteeringProblem } from './steering-solve.ts';
import { type Uncertainty, uncertaintyOf } from './steering-uncertainty.ts';
import { weaklySeen, withoutThese } from './weakly-seen.ts';

export interface PartSteering {
  readonly pose: PoseEstimate;
  /** Those of the references that move with the part. */
  readonly readings: readonly SteeringReading[];
  /** The unknowns are T, θ times `pose.size`, then slides. Empty where too many signs are unknown to try them all. */
  readonly candidates: readonly Candidate[];
  readonly trial: Trial | undefined;
  readonly problem: SteeringProblem;
  /** mm and rad. */
  readonly uncertainty: Uncertainty;
}

/** A rigid displacement of the part: T mm, θ rad, as above. */
export interface Displacement {
  readonly translation: Vec3;
  readonly rotation: Vec3;
}

export function steerPart(design: Design, all: readonly SteeringReading[], practice: Practice): PartSteering {
  const readings = all.filter(
    ({ reading }) => movesWithPart(reading.reference) && !isReadBy(reading.reference, 'alignment'),
  );
  const whole = estimatePose(
    design,
    practice,
    readings.map(({ reading }) => reading),
  );
  const { size, problem: linear } = whole;
  const unknowns = 6 + linear.slides.length;
  const weak = weaklySeen(linear.estimate, unknowns);
  const seen = withoutThese(linear.estimate, unknowns, weak);
  const free = weak.length === 0 ? whole.free : freeMotionsOf(seen.unobserved, size);
  const pose = { ...whole, free, problem: { ...linear, estimate: seen } };
  const read = readWhenMoved(design, readings);
  const problem: SteeringProblem = {
    readings,
    rows: linear.rows,
    unknowns,
    estimate: seen,
    sources: pose.sources,
    predict: (at) =>
      read((reference) => referenceMove(design, pose, at, reference), displacementOf(at, size)),
  };
  return {
    pose,
    readings,
    candidates: candidatesOf(problem),
    trial: trialOf(problem),
    problem,
    uncertainty: uncertaintyOf(problem, free.basis, [1, 1, 1, 1 / size, 1 / size, 1 / size]),
  };
}

/** T and θ from the unknowns. */
export const displacementOf = (unknowns: ArrayLike<number>, size: number): Displacement => ({
  translation: asVector(unknowns),
  rotation: scale([unknowns[3]!, unknowns[4]!, unknowns[5]!], 1 / size),
});

/** Where a point of the part, given where it stands by design (substrate frame), goes with the part: its displacement. */
export function moveWithPart(design: Design, { translation, rotation }: Displacement, at: Vec3): Vec3 {
  const { frame } = design.scenario.part;
  const place = placeFromParent(frame, at);
  const moved = add(translation, rotate(rotationFromVector(rotation), place));
  return directionToParent(frame, subtract(moved, place));
}

/** The reference's displacement: with the part, and its slides, which turn with the part. */
function referenceMove(
  design: Design,
  { size, problem }: PoseEstimate,
  unknowns: Float64Array,
  reference: string,
): Vec3 {
  const { frame } = design.scenario.part;
  const displacement = displacementOf(unknowns, size);
  const { at } = design.references.find(({ id }) => id === reference)!;
  let move = moveWithPart(design, displacement, at);
  for (const [k, slide] of problem.slides.entries()) {
    if (slide.reference !== reference) continue;
    const inPart = rotateBack(frame.rotation, slide.direction);
    const turned = rotate(rotationFromVector(displacement.rotation), inPart);
    move = add(move, scale(directionToParent(frame, turned), unknowns[6 + k]!));
  }
  return move;
}
