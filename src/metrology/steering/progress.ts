/**
 * How far an alignment has come: whether each move still to make is under its own standard uncertainty, so that another one would follow
 * the noise of the readings, and what the moves would leave of each reading. mm and rad inside; residuals in standard uncertainties are
 * Baarda's (see consistency.ts).
 */
import { chiSquaredTail } from '../../algebra/distributions.ts';
import { symmetricEigen } from '../../algebra/symmetric-eigen.ts';
import type { Design } from '../../design/design.ts';
import { kindOf } from '../../kinds/kinds.ts';
import { movesWithPart } from '../../kinds/reference.ts';
import { DEGREES } from '../../scenario/scenario.ts';
import type { Steering } from './steering.ts';
import type { HologramSteering } from './steering-hologram.ts';
import type { SteeringReading } from './steering-readings.ts';
import { type Candidate, onlySolution } from './steering-signs.ts';
import type { Solution, SteeringProblem } from './steering-solve.ts';

/** A degree of freedom, or several together, whose move is over its standard uncertainty. */
interface Over {
  /** `hologram`, `part`, or the id of a reference on a mount of its own. */
  readonly of: string;
  readonly degree: string;
}

/** What the moves leave of a reading. */
interface Left {
  readonly reading: SteeringReading;
  /** Read less expected, mm; undefined where no move is decided. */
  readonly residual: number | undefined;
  /** Over the residual's own standard uncertainty; undefined for a reading that no other checks. */
  readonly normalised: number | undefined;
}

export interface Progress {
  /**
   * Everything that can be read was read, all moves are decided, and none is over its standard uncertainty; or all of them together are noise
   * for the second time, so that moves would go on following it.
   */
  readonly done: boolean;
  /** Everything was read and decided, and the moves together are no more than the readings' noise. */
  readonly settled: boolean;
  readonly over: readonly Over[];
  /** References that can be read and were not. */
  readonly unread: readonly string[];
  readonly undecided: boolean;
  readonly left: readonly Left[];
}

/** A residual over this many of its standard uncertainties is named. */
const SUSPECT_RESIDUAL = 3;
export const isSuspect = ({ normalised }: Left): boolean => Math.abs(normalised ?? 0) > SUSPECT_RESIDUAL;

/** `settledBefore`: so was the round before, after whose moves these readings were taken. */
export function progressOf(
  design: Design,
  { hologram, references, part, readings, soundness }: Steering,
  settledBefore = false,
): Progress {
  const read = new Set(readings.map(({ reading }) => reading.reference.id));
  const own = references.filter(({ reference }) => !movesWithPart(reference));
  const ofPart = part.readings.length === 0 ? [] : [part];
  const ofHologram = hologram === undefined ? [] : [hologram];
  const { size } = part.pose;
  const over: Over[] = [
    ...(hologram === undefined ? [] : overOfHologram(hologram)),
    ...ofPart.flatMap(({ candidates, uncertainty }) =>
      overIn('part', DEGREES, candidates, [1, 1, 1, 1 / size, 1 / size, 1 / size], uncertainty.sigma),
    ),
    ...own.flatMap(({ reference, candidates, uncertainty }) =>
      overIn(reference.id, ['x', 'y', 'z'], candidates, [1, 1, 1], uncertainty.sigma),
    ),
  ];
  const together = [
    ...ofHologram.map((each) => ({ of: 'hologram', ...each })),
    ...ofPart.map((each) => ({ of: 'part', ...each })),
    ...own.map((each) => ({ of: each.reference.id, ...each })),
  ].filter(({ problem, candidates }) => isOverTogether(problem, onlySolution(candidates)));
  over.push(
    ...together
      .filter(({ of }) => !over.some((one) => one.of === of))
      .map(({ of }) => ({ of, degree: TOGETHER })),
  );
  const undecided = [...ofHologram, ...ofPart, ...own].some(
    ({ candidates }) => onlySolution(candidates) === undefined,
  );
  const readable = readableIn(design);
  const unread = design.references
    .filter(({ id }) => readable.has(id) && !read.has(id))
    .filter((reference) => kindOf(reference).words.noCount === undefined)
    .map(({ id }) => id);
  const isWhole = unread.length === 0 && !undecided && soundness.setAside.size === 0;
  const settled = isWhole && together.length === 0;
  return {
    done: isWhole && (over.length === 0 || (settled && settledBefore)),
    settled,
    over,
    unread,
    undecided,
    left: [...ofHologram, part, ...own].flatMap(({ readings, candidates }) => leftOf(readings, candidates)),
  };
}

/** References that a patch looks at or a measurement names, in the scenario's order: others are a tracker's or a measuring machine's matter. */
export function readableIn({ references, patches, scenario }: Design): ReadonlySet<string> {
  const named = new Set([
    ...patches.map(({ reference }) => reference.id),
    ...scenario.measurements.map(({ reference }) => reference),
  ]);
  return new Set(references.map(({ id }) => id).filter((id) => named.has(id)));
}

/** In place of a degree: none is over by itself, but the readings see a combination of them that is. */
const TOGETHER = 'degrees together';
/** χ² of the moves that noise exceeds with this probability. */
const NOISE = 0.05;
/** Combinations whose variance is this much under the largest are not seen. */
const UNSEEN = 1e-12;

/** Degrees that hang together may each be under its own uncertainty while what the readings tell of them is not: χ² of all by their covariance. */
function isOverTogether(
  { estimate, readings, unknowns: n }: SteeringProblem,
  solution: Solution | undefined,
): boolean {
  if (solution === undefined) return false;
  const m = readings.length;
  const scaled = estimate.gains.map((gain, k) => gain * readings[k % m]!.reading.u);
  const covariance = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++)
      for (let k = 0; k < m; k++) covariance[i * n + j]! += scaled[i * m + k]! * scaled[j * m + k]!;
  const { values, vectors } = symmetricEigen(covariance, n);
  let [chiSquared, degrees] = [0, 0];
  vectors.forEach((vector, k) => {
    if (!(values[k]! > UNSEEN * values[0]!)) return;
    chiSquared += vector.reduce((sum, v, i) => sum + v * solution.unknowns[i]!, 0) ** 2 / values[k]!;
    degrees++;
  });
  return degrees > 0 && chiSquaredTail(chiSquared, degrees) < NOISE;
}

function overIn(
  of: string,
  degrees: readonly string[],
  candidates: readonly Candidate[],
  scales: readonly number[],
  sigma: readonly (number | undefined)[],
): readonly Over[] {
  const solution = onlySolution(candidates);
  if (solution === undefined) return [];
  return degrees.flatMap((degree, k) => {
    const limit = sigma[k];
    return limit !== undefined && Math.abs(solution.unknowns[k]! * scales[k]!) > limit
      ? [{ of, degree }]
      : [];
  });
}

/** Turns about x and y, and along z, as they are told. */
function overOfHologram({ candidates, turned, sigma }: HologramSteering): readonly Over[] {
  const solution = onlySolution(candidates);
  if (solution === undefined) return [];
  const { translation, rotation } = turned(solution.unknowns);
  const told = [
    ['rx', rotation[0], sigma.turn[0]],
    ['ry', rotation[1], sigma.turn[1]],
    ['z', translation[2], sigma.shift[2]],
  ] as const;
  return told.flatMap(([degree, value, limit]) =>
    limit !== undefined && Math.abs(value) > limit ? [{ of: 'hologram', degree }] : [],
  );
}

function leftOf(readings: readonly SteeringReading[], candidates: readonly Candidate[]): readonly Left[] {
  const solution = onlySolution(candidates);
  return readings.map((reading, k) => ({
    reading,
    residual: solution?.residuals[k],
    normalised: solution?.consistency.normalised[k],
  }));
}
