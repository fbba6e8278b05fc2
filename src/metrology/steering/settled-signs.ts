/**
 * Readings whose sign was not seen, or that are one of two, told by what the moves since the last round were to make of them: the one that is
 * as predicted is taken where the other is not. In the readings' own units, fringes or waves.
 *
 * Values are held against the prediction by their uncertainties of both rounds and a share of what each move by itself does; see moves-check.ts.
 * Taken for independent, they allow a sum of errors that all go along with one move a little less than that does.
 */
import { chiSquaredTail } from '../../algebra/distributions.ts';
import type { Design } from '../../design/design.ts';
import { movesWithPart } from '../../kinds/reference.ts';
import { type BenchReading, subjectOf } from '../../scenario/bench-reading.ts';
import type { BenchMove } from '../../scenario/bench-session.ts';
import { CONTRADICTION } from '../estimate/consistency.ts';
import { type PredictedReading, predictedReadings } from './moves-predicted.ts';
import type { Steering } from './steering.ts';
import { displacementOf } from './steering-part.ts';
import { labelOf, type SteeringReading, steeringReadings, valueIf } from './steering-readings.ts';
import { asVector } from './steering-reference.ts';
import type { Candidate } from './steering-signs.ts';
import { MOVE_ACCURACY } from './step.ts';

interface SettledSigns {
  /** As taken, those that are settled with their signs. */
  readonly readings: readonly BenchReading[];
  /** Patches whose reading is settled, and whether as it was given first, 1, or the other way. */
  readonly settled: ReadonlyMap<string, 1 | -1>;
}

/** What is predicted if one of the combinations of signs is right that the readings before left open. */
type World = readonly PredictedReading[];

/**
 * `before`: the round before; `asked`: the moves since. Undefined where none were asked for: then the trial move was made, where one was told,
 * and nothing else was moved.
 */
export function settledSigns(
  design: Design,
  before: Steering,
  asked: BenchMove | undefined,
  taken: readonly BenchReading[],
): SettledSigns {
  const settled = new Map<string, 1 | -1>();
  let readings = taken;
  const groups =
    asked === undefined ? afterTrials(design, before) : [[predictedReadings(design, before, asked)]];
  for (const worlds of groups) {
    const world = worlds.length === 1 ? worlds[0] : onlyLikely(design, worlds, readings);
    if (world !== undefined) readings = readings.map((reading) => settledIn(design, world, reading, settled));
  }
  return { readings, settled };
}

/** Of the part and of each reference on a mount of its own, which have trial moves of their own. */
function afterTrials(design: Design, before: Steering): readonly (readonly World[])[] {
  const { part, references } = before;
  const still: BenchMove = { hologram: undefined, part: undefined, references: new Map() };
  const worlds = (
    mover: string,
    { candidates }: Pick<Steering['part'], 'candidates'>,
    moves: BenchMove,
    decided: (candidate: Candidate) => Steering,
  ): readonly World[] =>
    candidates.map((candidate) =>
      predictedReadings(design, decided(candidate), candidates.length > 1 ? moves : still).filter(
        (one) => one.mover === mover,
      ),
    );
  const ofPart = worlds(
    'part',
    part,
    { ...still, part: part.trial && displacementOf(part.trial.unknowns, part.pose.size) },
    (candidate) => ({ ...before, part: { ...part, candidates: [candidate] } }),
  );
  const own = references
    .filter(({ reference }) => !movesWithPart(reference))
    .map((one) => {
      const { id } = one.reference;
      const move = one.trial === undefined ? [] : [[id, asVector(one.trial.unknowns)] as const];
      return worlds(id, one, { ...still, references: new Map(move) }, (candidate) => ({
        ...before,
        references: references.map((each) => (each === one ? { ...one, candidates: [candidate] } : each)),
      }));
    });
  return [ofPart, ...own];
}

/** Undefined where several or none are as the readings are, with whatever signs those leave open. */
function onlyLikely(
  design: Design,
  worlds: readonly World[],
  taken: readonly BenchReading[],
): World | undefined {
  const likely = worlds.filter((world) => {
    const all = taken.flatMap((reading) => {
      const before = predictionOf(world, reading);
      if (before === undefined) return [];
      const now = steeringReadings(design, [reading]);
      const signs = now.some(({ signKnown }) => !signKnown) ? ([1, -1] as const) : ([1] as const);
      const off = signs.map((sign) => offBy(before, now, sign));
      return [off.reduce((best, next) => (next.chiSquared < best.chiSquared ? next : best))];
    });
    return isLikely({
      chiSquared: all.reduce((sum, { chiSquared }) => sum + chiSquared, 0),
      count: all.reduce((sum, { count }) => sum + count, 0),
    });
  });
  return likely.length === 1 ? likely[0] : undefined;
}

function settledIn(
  design: Design,
  world: World,
  reading: BenchReading,
  settled: Map<string, 1 | -1>,
): BenchReading {
  if (reading.kind === 'length' || reading.signKnown) return reading;
  const before = predictionOf(world, reading);
  if (before === undefined) return reading;
  const now = steeringReadings(design, [reading]);
  const [isPlus, isMinus] = ([1, -1] as const).map((sign) => isLikely(offBy(before, now, sign)));
  if (isPlus === isMinus) return reading;
  const sign = isPlus ? 1 : -1;
  settled.set(subjectOf(reading), sign);
  return withSign(reading, sign);
}

function predictionOf(world: World, reading: BenchReading): PredictedReading | undefined {
  return world.find((one) => subjectOf(one.reading) === subjectOf(reading) && isLike(one.reading, reading));
}

const isLike = (one: BenchReading, other: BenchReading): boolean =>
  one.kind === 'null' && other.kind === 'null' ? one.unit === other.unit : one.kind === other.kind;

interface OffBy {
  readonly chiSquared: number;
  readonly count: number;
}

/** Whether noise and errors of the moves make as much of a difference. */
const isLikely = ({ chiSquared, count }: OffBy): boolean =>
  count === 0 || chiSquaredTail(chiSquared, count) >= CONTRADICTION;

function offBy({ values }: PredictedReading, now: readonly SteeringReading[], sign: 1 | -1): OffBy {
  let [chiSquared, count] = [0, 0];
  for (const one of now) {
    const was = values.find(({ label }) => label === labelOf(one));
    if (was === undefined) continue;
    const off = valueIf(one, sign) * one.perMm - was.before - was.change;
    const erring = was.singly.reduce((sum, each) => sum + (MOVE_ACCURACY * each) ** 2, 0);
    chiSquared += off ** 2 / (was.u ** 2 + (one.reading.u * one.perMm) ** 2 + erring);
    count++;
  }
  return { chiSquared, count };
}

function withSign(
  reading: Exclude<BenchReading, { kind: 'length' }>,
  sign: 1 | -1,
): Exclude<BenchReading, { kind: 'length' }> {
  if (reading.kind === 'null')
    return {
      ...reading,
      signKnown: true,
      values: reading.values.map((one) => ({ ...one, value: sign * one.value })),
    };
  const { or, ...rest } = reading;
  const other = or ?? reading.fringes.map((count) => count && -count);
  return { ...rest, signKnown: true, fringes: sign > 0 ? reading.fringes : other };
}
