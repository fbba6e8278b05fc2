/** Whether the moves told from earlier readings have led to those of now, in findings. Fringes along the patches' senses; mm. */
import type { Design } from '../../design/design.ts';
import type { Finding } from '../../finding/finding.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import type { BenchReading } from '../../scenario/bench-reading.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { checkMoves, predictedReadings } from './moves-check.ts';
import { movesFindings } from './moves-findings.ts';
import { steer } from './steering.ts';
import { toldMoves } from './told-moves.ts';

/** `moves`: those made since, of each reference; by default all that are told from the readings before. */
export function movesSince(
  design: Design,
  before: readonly BenchReading[],
  taken: readonly BenchReading[],
  orientation: CameraOrientation,
  moves: (reference: string) => Vec3 = toldMoves(design, steer(design, before)),
): readonly Finding[] {
  const predicted = predictedReadings(design, before, moves);
  return movesFindings(checkMoves(design, { before, predicted, taken }, orientation));
}
