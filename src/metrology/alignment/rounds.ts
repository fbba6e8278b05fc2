/** The rounds of an alignment, each worked out as `steer` does. */
import type { Design } from '../../design/design.ts';
import type { BenchReading } from '../../scenario/bench-reading.ts';
import { type Steering, steer } from '../steering/steering.ts';
import { type FoundPlace, foundPlace } from './found-place.ts';

export interface SteeredRound {
  readonly steering: Steering;
  /** Undefined as of foundPlace. */
  readonly place: FoundPlace | undefined;
  /** Unknown signs leave several places, or none was tried. */
  readonly ambiguous: boolean;
}

export function steeredRound(design: Design, readings: readonly BenchReading[]): SteeredRound {
  const steering = steer(design, readings);
  const { part } = steering;
  return {
    steering,
    place: foundPlace(part),
    ambiguous: part.readings.length > 0 && part.candidates.length !== 1,
  };
}
