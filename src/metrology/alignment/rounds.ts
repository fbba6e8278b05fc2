/** The rounds of an alignment, each worked out as `steer` does. */
import type { Design } from '../../design/design.ts';
import type { Finding } from '../../finding/finding.ts';
import type { BenchReading } from '../../scenario/bench-reading.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { alongSenses } from '../steering/seen-readings.ts';
import { type Steering, steer } from '../steering/steering.ts';
import { type FoundPlace, foundPlace } from './found-place.ts';

export interface SteeredRound {
  readonly steering: Steering;
  /** Undefined as of foundPlace. */
  readonly place: FoundPlace | undefined;
  /** Unknown signs leave several places, or none was tried. */
  readonly ambiguous: boolean;
}

/** From readings as they were seen in a camera of this orientation; findings where they cannot be, their paths those of a readings file. */
export function seenRound(
  design: Design,
  {
    readings: seen,
    camera,
  }: { readonly readings: readonly BenchReading[]; readonly camera: CameraOrientation },
): { readonly round: SteeredRound } | { readonly findings: readonly Finding[] } {
  const { readings, findings } = alongSenses(design, seen, camera);
  return findings.length > 0 ? { findings } : { round: steeredRound(design, readings) };
}

/** From readings along the patches' senses. */
export function steeredRound(design: Design, readings: readonly BenchReading[]): SteeredRound {
  const steering = steer(design, readings);
  const { part } = steering;
  return {
    steering,
    place: foundPlace(part),
    ambiguous: part.readings.length > 0 && part.candidates.length !== 1,
  };
}
