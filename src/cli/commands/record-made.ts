/** Of `record`: an alignment's record from its log, its session and its package; or why there is none. */
import type { Design } from '../../design/design.ts';
import { filesBeside } from '../../disk/files-beside.ts';
import { withUnixLineEnds } from '../../disk/line-ends.ts';
import { checkedPackage } from '../../disk/package-check.ts';
import { textOf } from '../../disk/text-file.ts';
import type { Code } from '../../finding/codes.ts';
import { errorFinding, type Finding, withPlace } from '../../finding/finding.ts';
import { type SteeredRound, seenRound } from '../../metrology/alignment/rounds.ts';
import { patchNumbers } from '../../metrology/sensing/order-of-work.ts';
import { steeringFindings } from '../../metrology/steering/steering-findings.ts';
import type { TextSource } from '../../reading/bench/log-round.ts';
import { type LogContext, readLog } from '../../reading/bench/read-log.ts';
import type { LoggedRound } from '../../scenario/alignment-log.ts';
import { sha256 as sha256Of } from '../../writing/manifest.ts';
import { orientationWords } from '../../writing/page/orientation-words.ts';
import { alignmentRecord } from '../../writing/record/alignment-record.ts';
import type { AlignmentRecord } from '../../writing/record/record-form.ts';
import { workOrder } from '../../writing/record/work-order.ts';
import { type GivenCamera, orientationFrom } from '../camera-options.ts';
import type { Loaded } from '../load-scenario.ts';
import type { Fault } from '../say.ts';
import { VERSION } from '../version.ts';
import type { RecordOptions } from './record.ts';

/** Beside the log. */
interface RecordInputs {
  readonly options: RecordOptions;
  readonly given: GivenCamera;
  /** Named by --session. */
  readonly session: LogContext['session'];
}

export interface MadeRecord {
  readonly record: AlignmentRecord;
  /** What the readings show to be wrong, each with the text that its place is in. */
  readonly faulty: readonly Required<Fault>[];
}

export function madeFrom(
  design: Design,
  { hash, named }: Loaded,
  { name, text }: { readonly name: string; readonly text: string },
  { options, given: camera, session }: RecordInputs,
): MadeRecord | { readonly faults: readonly Fault[] } {
  const scenario = { sha256: hash, named };
  const checked = checkedPackage(options.package, scenario);
  if ('findings' in checked) return { faults: [checked] };
  const { log, places, faults, sessionText } = readLog(text, name, {
    ...{ scenario: design.scenario, numbered: patchNumbers(design), files: textsBeside(options.log!) },
    ...{ hashes: { sha256: hash, files: Object.fromEntries(named) }, session },
    orient: (told) => orientationFrom(camera, told),
  });
  if (log === undefined) return { faults };
  const [otherwise] = log.rounds.flatMap((round) => turnedOtherwise(round, camera) ?? []);
  if (otherwise !== undefined) return { faults: [{ findings: [otherwise] }] };
  const refused = (rule: Code, message: string, hint: string): { readonly faults: readonly Fault[] } => ({
    faults: [{ findings: [errorFinding(rule, '--serial', message, hint)] }],
  });
  const given = options.serial?.trim();
  if (given !== undefined && log.serial !== undefined && given !== log.serial)
    return refused(
      'conflicting-keys',
      `the log is of hologram ${log.serial}, not of ${given}`,
      'remove --serial, or give the log of that hologram',
    );
  const serial = given ?? log.serial;
  if (serial === undefined)
    return refused(
      'missing-key',
      'the hologram has no serial number',
      'add `serial:` to the log, or give --serial',
    );
  const rounds: SteeredRound[] = [];
  for (const one of log.rounds) {
    const seen = seenRound(design, one);
    const { text: within, placeOf } = places.get(one.round)!;
    if ('findings' in seen)
      return {
        faults: [{ findings: seen.findings.map((finding) => withPlace(finding, placeOf)), text: within }],
      };
    rounds.push(seen.round);
  }
  const said = log.rounds.map(({ round }, k) => {
    const { steering, ambiguous } = rounds[k]!;
    const { text: within, placeOf } = places.get(round)!;
    const message = `the signs that were not seen leave more than one place of the part ${round === 'before' ? 'before clamping' : `when ${round}`}`;
    const hint = 'find them by a trial move: see `datumlight steer`';
    const unknown = steering.bench.findIndex((one) => one.kind !== 'length' && !one.signKnown);
    const findings = (
      ambiguous
        ? [
            {
              ...errorFinding('ambiguous-signs', round, message, hint),
              path: ['readings', Math.max(0, unknown)],
            },
          ]
        : steeringFindings(steering)
    ).map((finding) => withPlace(finding, placeOf));
    return { findings, text: within, ambiguous };
  });
  const ambiguous = said.filter((one) => one.ambiguous);
  if (ambiguous.length > 0) return { faults: ambiguous };
  const { manifest, sha256 } = checked.package;
  const record = alignmentRecord(design, log, rounds, {
    version: VERSION,
    serial,
    scenarioHash: hash,
    named,
    package: { sha256, version: manifest.version, draft: manifest.draft, files: hashesOnly(manifest.files) },
    order: workOrder(design),
    ...(sessionText === undefined ? {} : { sessionHash: sha256Of(withUnixLineEnds(sessionText)) }),
  });
  return { record, faulty: said };
}

/** A session says how the camera was turned in each of its rounds, and its readings are along the patches’ senses by that. */
function turnedOtherwise(
  { sessionRound, file, camera }: LoggedRound,
  { options, bench }: GivenCamera,
): Finding | undefined {
  const said = { ...bench, ...options };
  const other = KEYS.find((key) => said[key] !== undefined && said[key] !== camera[key]);
  if (sessionRound === undefined || other === undefined) return undefined;
  const message = `round ${sessionRound} of ${file} was read with the camera ${orientationWords(camera)}; it is given as ${orientationWords(orientationFrom({ options, bench }))}`;
  const hint = `remove --${Object.hasOwn(options, other) ? other : 'bench'}; state the camera of the log’s own readings in the log`;
  return errorFinding(
    'conflicting-keys',
    `--${Object.hasOwn(options, other) ? other : 'bench'}`,
    message,
    hint,
  );
}

const KEYS = ['view', 'turned', 'mirrored'] as const;

const hashesOnly = (files: AlignmentRecord['package']['files']): AlignmentRecord['package']['files'] =>
  Object.fromEntries(Object.entries(files).map(([name, { sha256 }]) => [name, { sha256 }]));

/** Readings files that a log names, looked for beside it. */
function textsBeside(log: string): TextSource {
  const files = filesBeside(log);
  return (name) => {
    const content = files(name);
    if ('fault' in content) {
      const hint = 'give the file’s name as seen from the log';
      return {
        finding: errorFinding('unreadable-file', name, `${name} cannot be read: ${content.fault}`, hint),
      };
    }
    const input = textOf(name, content);
    return 'finding' in input ? input : { text: input.text };
  };
}
