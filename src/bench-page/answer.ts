/** From the text of a readings file to the answer, as the command `steer` gives it, and to what a session keeps. */
import type { Design } from '../design/design.ts';
import { type Finding, withPlace } from '../finding/finding.ts';
import { patchNumbers } from '../metrology/sensing/order-of-work.ts';
import { alongSenses } from '../metrology/steering/seen-readings.ts';
import { readReadings } from '../reading/bench/read-readings.ts';
import type { SessionRound } from '../scenario/bench-session.ts';
import { type CameraOrientation, PLAIN_ORIENTATION } from '../scenario/camera-orientation.ts';
import type { RoundName } from '../scenario/round-name.ts';
import { type WorkedRound, workedRound } from '../writing/session/worked-round.ts';

const READINGS_FILE = 'readings.yml';

export type Answer = WorkedRound & { readonly camera: CameraOrientation };

/** Findings alone where the readings cannot be used as they stand. */
export function answerTo(
  design: Design,
  text: string,
  rounds: readonly SessionRound[] = [],
  moment: RoundName = 'before',
): Answer | { readonly refused: readonly Finding[] } {
  const read = readReadings(text, READINGS_FILE, design.scenario, patchNumbers(design));
  if (read.readings === undefined) return { refused: read.findings };
  const camera = { ...PLAIN_ORIENTATION, ...read.camera };
  const { readings, findings } = alongSenses(design, read.readings, camera);
  const placed = (finding: Finding): Finding => withPlace(finding, read.places);
  if (findings.length > 0) return { refused: findings.map(placed) };
  return { ...workedRound(design, { readings, camera, rounds, moment, placed }), camera };
}
