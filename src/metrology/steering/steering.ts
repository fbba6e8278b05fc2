/**
 * What to turn next: from the bench's readings to where each reference and the part stand. Displacements as found, mm and rad;
 * the moves to make are their negatives, and are made so where they are reported.
 */
import type { Design } from '../../design/design.ts';
import type { BenchReading } from '../../scenario/bench-reading.ts';
import { COMMON_PRACTICE, type Practice } from '../budget/practice.ts';
import { type PartSteering, steerPart } from './steering-part.ts';
import { type SteeringReading, steeringReadings } from './steering-readings.ts';
import { type ReferenceSteering, steerReferences } from './steering-reference.ts';

export interface Steering {
  readonly bench: readonly BenchReading[];
  readonly readings: readonly SteeringReading[];
  readonly references: readonly ReferenceSteering[];
  readonly part: PartSteering;
}

/** From at least one reading; the reader has checked that each names a patch or a measurement, and how many values it has. */
export function steer(
  design: Design,
  bench: readonly BenchReading[],
  practice: Practice = COMMON_PRACTICE,
): Steering {
  const readings = steeringReadings(design, bench, practice);
  return {
    bench,
    readings,
    references: steerReferences(design, readings, practice),
    part: steerPart(design, readings, practice),
  };
}
