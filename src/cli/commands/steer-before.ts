/** Of `steer`, `--before`: whether the moves told from earlier readings have led to those of now. */
import type { Design } from '../../design/design.ts';
import { errorFinding, withPlace } from '../../finding/finding.ts';
import { patchNumbers } from '../../metrology/sensing/order-of-work.ts';
import { alongSenses } from '../../metrology/steering/seen-readings.ts';
import { readReadings } from '../../reading/bench/read-readings.ts';
import type { BenchReading } from '../../scenario/bench-reading.ts';
import { type GivenCamera, orientationFrom } from '../camera-options.ts';
import type { Io } from '../io.ts';
import { readInput } from '../read-input.ts';
import type { Fault } from '../say.ts';

/** What answers are given against. */
export interface BenchBefore {
  readonly given: GivenCamera;
  /** The readings before the moves, along the patches' senses; undefined where there are none. */
  readonly before: readonly BenchReading[] | undefined;
}

type Read = BenchBefore | { readonly name: string; readonly fault: Fault };

/** `inputs` are the command's other ones. */
export async function readBefore(
  design: Design,
  before: string | undefined,
  given: GivenCamera,
  inputs: readonly string[],
  io: Io,
): Promise<Read> {
  if (before === undefined) return { given, before };
  if (before === '-' && inputs.includes('-')) {
    const message = 'standard input cannot be both the readings before the moves and another input';
    const finding = errorFinding('conflicting-keys', '--before', message, 'name a file');
    return { name: '<stdin>', fault: { findings: [finding] } };
  }
  const input = await readInput(before, io);
  if ('finding' in input) return { name: input.name, fault: { findings: [input.finding] } };
  const { text, name } = input;
  const { readings, camera, findings, places } = readReadings(
    text,
    name,
    design.scenario,
    patchNumbers(design),
  );
  if (readings === undefined) return { name, fault: { findings, text } };
  const along = alongSenses(design, readings, orientationFrom(given, camera));
  if (along.findings.length === 0) return { given, before: along.readings };
  return { name, fault: { findings: along.findings.map((finding) => withPlace(finding, places)), text } };
}
