/** Whether the moves told from earlier readings have led to those of now, in findings. Fringes along the patches' senses; mm. */
import type { Design } from '../../design/design.ts';
import type { Finding } from '../../finding/finding.ts';
import type { BenchReading } from '../../scenario/bench-reading.ts';
import type { BenchMove } from '../../scenario/bench-session.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { checkMoves } from './moves-check.ts';
import { movesFindings } from './moves-findings.ts';
import { predictedReadings } from './moves-predicted.ts';
import { steer } from './steering.ts';
import { toldMoves } from './told-moves.ts';

/** `moves`: those made since; by default all that are told from the readings before. */
export function movesSince(
  design: Design,
  before: readonly BenchReading[],
  taken: readonly BenchReading[],
  orientation: CameraOrientation,
  moves?: BenchMove,
): readonly Finding[] {
  const was = steer(design, before);
  const predicted = predictedReadings(design, was, moves ?? toldMoves(design, was));
  return movesFindings(checkMoves(design, { predicted, taken }, orientation));
}
