/**
 * Where the readings say that the part is: three translations (mm) and three rotations (rad) in the part frame, about its
 * origin and along its axes, from all patches, what the references touch, and lengths measured otherwise.
 *
 * A reference at r goes with the part, δ = T + θ × r, held along the normals of what it touches and free to slide along the
 * rest; each slide is an unknown more. One whose place was given on the part is mounted there and goes with it altogether. One on a mount of
 * its own tells nothing of the part.
 */
import type { Design } from '../../design/design.ts';
import { placeFromParent } from '../../geometry/frame.ts';
import { dot, length, type Vec3 } from '../../geometry/vector.ts';
import { movesWithPart } from '../../kinds/reference.ts';
import { DEGREES, wishedDegrees } from '../../scenario/scenario.ts';
import { mountingErrors, readingErrors } from '../budget/error-models.ts';
import type { ErrorSource, Term } from '../budget/error-source.ts';
import { holdOf } from '../budget/hold.ts';
import { COMMON_PRACTICE, type Practice } from '../budget/practice.ts';
import { type Reading, readingsOf } from '../budget/readings.ts';
import { partRow } from '../budget/wave-error.ts';
import { type FreeMotions, freeMotionsOf } from './free-motion.ts';
import { estimate, type LinearEstimate } from './linear-estimate.ts';
import { termOf } from './reference-estimate.ts';

export interface PoseEstimate {
  readonly readings: readonly Reading[];
  /** From what the scenario states, the references' balls perfect and perfectly seated. */
  readonly stated: SixDegrees;
  /** With every term of the budget, by common practice where the scenario says nothing. */
  readonly full: SixDegrees;
  readonly sources: readonly ErrorSource[];
  /** What the part may do unseen. */
  readonly free: FreeMotions;
  /** The lever that turns rotations into lengths where they are compared, mm: the farthest reference from the origin, or a datum feature's own. */
  readonly size: number;
  /** The problem itself and its estimate with every term: x, y, z, then rx, ry, rz times `size`, then the slides; all mm. */
  readonly problem: {
    readonly rows: Float64Array;
    readonly estimate: LinearEstimate;
    readonly slides: readonly Slide[];
  };
}

/** A reference free to slide along a direction (unit vector, substrate frame) on what it touches. */
interface Slide {
  readonly reference: string;
  readonly direction: Vec3;
}

interface SixDegrees {
  /** 6 × 6 row-major, mm and rad; meaningless where not observed. */
  readonly covariance: Float64Array;
  /** Variance of each degree by term. */
  readonly variances: ReadonlyMap<Term, Float64Array>;
  /** 6 × readings, row-major: mm and rad for each mm of a reading. */
  readonly gains: Float64Array;
}

const STILL: Vec3 = [0, 0, 0];

/** No part is smaller than this for judging rotations, mm: with every reference on the origin none is seen anyway. */
const LEAST_SIZE = 1;

/** Those of the design's readings that tell of the part. */
const readingsOfPart = (design: Design): readonly Reading[] =>
  readingsOf(design).filter(({ reference }) => movesWithPart(reference));

/** From the given readings of the part: all that the design has, unless others are named; `known`: their sources of error, already worked out. */
export function estimatePose(
  design: Design,
  practice: Practice = COMMON_PRACTICE,
  readings: readonly Reading[] = readingsOfPart(design),
  known?: readonly ErrorSource[],
): PoseEstimate {
  const { size, slides, shared } = problemOf(design, readings);
  const { unknowns, rows } = shared;
  const sources = known ?? [
    ...readingErrors(design, readings, practice),
    ...mountingErrors(design, readings, practice),
  ];
  const stated = estimate({ ...shared, sources: [] });
  const full = estimate({ ...shared, sources });
  return {
    readings,
    stated: sixDegrees(stated, unknowns, size),
    full: sixDegrees(full, unknowns, size),
    sources,
    free: freeMotionsOf(stated.unobserved, size),
    size,
    problem: { rows, estimate: full, slides },
  };
}

/** The estimate from all that the design has, by common practice: worked out once for the rules and the report. */
export function poseOf(design: Design): PoseEstimate {
  const known = poses.get(design);
  if (known !== undefined) return known;
  const pose = estimatePose(design);
  poses.set(design, pose);
  return pose;
}

const poses = new WeakMap<Design, PoseEstimate>();

/** Variance of each degree from the given readings and errors alone, mm² and rad². */
export function varianceOf(
  design: Design,
  readings: readonly Reading[],
  sources: readonly ErrorSource[],
): Float64Array {
  const { size, shared } = problemOf(design, readings);
  const { covariance } = sixDegrees(estimate({ ...shared, sources }), shared.unknowns, size);
  return Float64Array.from(DEGREES, (_, k) => covariance[k * 7]!);
}

/** What the part may do unseen, and the size that it is judged by: as poseOf says, without the budget's work unless it is wanted too. */
export function freedomOf(design: Design): Pick<PoseEstimate, 'free' | 'size'> {
  const { wanted } = design.scenario;
  if (poses.has(design) || wishedDegrees(wanted).length > 0) return poseOf(design);
  const { size, shared } = problemOf(design, readingsOfPart(design));
  return { free: freeMotionsOf(estimate({ ...shared, sources: [] }).unobserved, size), size };
}

function problemOf(design: Design, readings: readonly Reading[]) {
  const { frame } = design.scenario.part;
  const size = Math.max(
    LEAST_SIZE,
    ...readings.map(({ reference, moment = STILL }) =>
      Math.max(length(placeFromParent(frame, reference.at)), length(moment)),
    ),
  );
  const slides = slidesOf(design, readings);
  const unknowns = 6 + slides.length;
  const rows = Float64Array.from(
    readings.flatMap((reading) => {
      const { reference, direction } = reading;
      const six = partRow(design, reading);
      const own = slides.map((slide) =>
        slide.reference === reference.id ? dot(direction, slide.direction) : 0,
      );
      return [...six.slice(0, 3), ...six.slice(3).map((entry) => entry / size), ...own];
    }),
  );
  const shared = {
    rows,
    unknowns,
    u: Float64Array.from(readings, ({ u }) => u),
    terms: readings.map(termOf),
  };
  return { size, slides, shared };
}

function slidesOf(design: Design, readings: readonly Reading[]): readonly Slide[] {
  const references = [...new Set(readings.map(({ reference }) => reference))];
  return references.flatMap((reference) =>
    holdOf(design, reference).slides.map((direction): Slide => {
      return { reference: reference.id, direction };
    }),
  );
}

/** The first six unknowns, rotations back from mm at the part's size to radians. */
function sixDegrees(found: LinearEstimate, unknowns: number, size: number): SixDegrees {
  const scale = [1, 1, 1, 1 / size, 1 / size, 1 / size];
  const readings = found.gains.length / unknowns;
  const covariance = new Float64Array(36);
  const gains = new Float64Array(6 * readings);
  for (let i = 0; i < 6; i++) {
    for (let j = 0; j < 6; j++)
      covariance[i * 6 + j] = found.covariance[i * unknowns + j]! * scale[i]! * scale[j]!;
    for (let k = 0; k < readings; k++) gains[i * readings + k] = found.gains[i * readings + k]! * scale[i]!;
  }
  const variances = new Map(
    [...found.variances].map(([term, values]) => [
      term,
      Float64Array.from(scale, (factor, degree) => values[degree]! * factor * factor),
    ]),
  );
  return { covariance, variances, gains };
}
