/**
 * What to turn next: from the bench's readings to where each reference and the part stand. Displacements as found, mm and rad;
 * the moves to make are their negatives, and are made so where they are reported.
 */
import type { Design } from '../../design/design.ts';
import type { BenchReading } from '../../scenario/bench-reading.ts';
import { COMMON_PRACTICE, type Practice } from '../budget/practice.ts';
import { isBeyond, type Solved, type Soundness, soundnessOf, stillContradicting } from './sound-readings.ts';
import { steerHologram } from './steering-hologram.ts';
import { steerPart } from './steering-part.ts';
import { type SteeringReading, steeringReadings } from './steering-readings.ts';
import { steerReferences } from './steering-reference.ts';

export interface Steering extends Solved {
  readonly bench: readonly BenchReading[];
  /** All that were read, sound or not. */
  readonly readings: readonly SteeringReading[];
  /** What all readings come to that are not beyond range; `references` and `part` are from the sound ones alone. */
  readonly asRead: Solved;
  readonly soundness: Soundness;
}

/** From at least one reading; the reader has checked that each names a patch or a measurement, and how many values it has. */
export function steer(
  design: Design,
  bench: readonly BenchReading[],
  practice: Practice = COMMON_PRACTICE,
): Steering {
  const readings = steeringReadings(design, bench, practice);
  const solved = (from: readonly SteeringReading[]): Solved => ({
    hologram: steerHologram(design, from),
    references: steerReferences(design, from, practice),
    part: steerPart(design, from, practice),
  });
  const asRead = solved(readings.filter((reading) => !isBeyond(reading)));
  const soundness = soundnessOf(readings, asRead);
  const { setAside, contradicting } = soundness;
  const without = (entries: { has(entry: number): boolean }): Solved =>
    solved(readings.filter(({ entry }) => !entries.has(entry)));
  // Of an entry with one value beyond range, the others are not trusted either.
  const sound = setAside.size === 0 ? asRead : without(setAside);
  const still = contradicting.length === 0 ? [] : stillContradicting(sound);
  if (still.length === 0) return { bench, readings, asRead, soundness, ...sound };
  const more = new Map([...setAside, ...still.map((entry) => [entry, 'contradicts'] as const)]);
  return { bench, readings, asRead, soundness: { ...soundness, setAside: more }, ...without(more) };
}
