/**
 * Readings whose sign was not seen, or that are one of two, told by what the moves since the last round were to make of them: the one that is
 * as predicted is taken where the other is not. In the readings' own units, fringes or waves.
 *
 * Values are held against the prediction by their uncertainties of both rounds and a share of what each move by itself does; see moves-check.ts.
 * Taken for independent, they allow a sum of errors that all go along with one move a little less than that does.
 */
import { chiSquaredTail } from '../../algebra/distributions.ts';
import type { Design } from '../../design/design.ts';
import { type BenchReading, subjectOf } from '../../scenario/bench-reading.ts';
import { CONTRADICTION } from '../estimate/consistency.ts';
import type { PredictedReading } from './moves-predicted.ts';
import { labelOf, type SteeringReading, steeringReadings, valueIf } from './steering-readings.ts';
import { MOVE_ACCURACY } from './step.ts';

interface SettledSigns {
  /** As taken, those that are settled with their signs. */
  readonly readings: readonly BenchReading[];
  /** Patches whose reading is settled, and whether as it was given first, 1, or the other way. */
  readonly settled: ReadonlyMap<string, 1 | -1>;
}

/** `predicted`: from the round before; see `predictedReadings`. */
export function settledSigns(
  design: Design,
  predicted: readonly PredictedReading[],
  taken: readonly BenchReading[],
): SettledSigns {
  const settled = new Map<string, 1 | -1>();
  const readings = taken.map((reading) => {
    if (reading.kind === 'length' || reading.signKnown) return reading;
    const before = predicted.find((one) => subjectOf(one.reading) === subjectOf(reading));
    if (before === undefined || !isLike(before.reading, reading)) return reading;
    const now = steeringReadings(design, [reading]);
    const [plus, minus] = ([1, -1] as const).map((sign) => probability(before, now, sign)) as [
      number,
      number,
    ];
    const sign = plus > minus ? 1 : -1;
    if (Math.max(plus, minus) < CONTRADICTION || Math.min(plus, minus) >= CONTRADICTION) return reading;
    settled.set(subjectOf(reading), sign);
    return withSign(reading, sign);
  });
  return { readings, settled };
}

const isLike = (one: BenchReading, other: BenchReading): boolean =>
  one.kind === 'null' && other.kind === 'null' ? one.unit === other.unit : one.kind === other.kind;

/** That noise and errors of the moves make as much of a difference; 1 where no value is in both. */
function probability({ values }: PredictedReading, now: readonly SteeringReading[], sign: 1 | -1): number {
  let [chiSquared, count] = [0, 0];
  for (const one of now) {
    const was = values.find(({ label }) => label === labelOf(one));
    if (was === undefined) continue;
    const off = valueIf(one, sign) * one.perMm - was.before - was.change;
    const erring = was.singly.reduce((sum, each) => sum + (MOVE_ACCURACY * each) ** 2, 0);
    chiSquared += off ** 2 / (was.u ** 2 + (one.reading.u * one.perMm) ** 2 + erring);
    count++;
  }
  return count === 0 ? 1 : chiSquaredTail(chiSquared, count);
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
