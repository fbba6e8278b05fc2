/** `record FILE --log YAML --package DIR --out DIR`: an alignment's record, to be signed; `--check` whether one is still what it was. */
import { join } from 'node:path';
import type { Design } from '../../design/design.ts';
import { filesBeside } from '../../disk/files-beside.ts';
import { checkedPackage } from '../../disk/package-check.ts';
import { placeFiles } from '../../disk/place-files.ts';
import { textOf } from '../../disk/text-file.ts';
import type { Code } from '../../finding/codes.ts';
import { errorFinding, type Finding, withPlace } from '../../finding/finding.ts';
import { type SteeredRound, seenRound } from '../../metrology/alignment/rounds.ts';
import { steeringFindings } from '../../metrology/steering/steering-findings.ts';
import type { TextSource } from '../../reading/bench/log-round.ts';
import { readLog } from '../../reading/bench/read-log.ts';
import { jsonText } from '../../writing/json.ts';
import { alignmentRecord } from '../../writing/record/alignment-record.ts';
import type { AlignmentRecord } from '../../writing/record/record-form.ts';
import { recordHtml } from '../../writing/record/record-html.ts';
import { WORK_ORDER } from '../../writing/record/work-order.ts';
import { reportedFinding } from '../../writing/report/reported-finding.ts';
import { type Register, type TalkOptions, talkative } from '../command.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { type Loaded, loadScenario } from '../load-scenario.ts';
import { readInput, stdinTwice } from '../read-input.ts';
import { countOf, type Fault, listing, refusing, sayFindings, sayLine, tally } from '../say.ts';
import { VERSION } from '../version.ts';
import { checkRecord } from './record-check.ts';
import { recordAt, refusedRecord } from './record-places.ts';

export interface RecordOptions extends TalkOptions {
  readonly package: string;
  readonly log?: string;
  readonly out?: string;
  readonly serial?: string;
  readonly check?: string;
}

export const registerRecord: Register = ({ program, io, end }) =>
  talkative(program.command('record'))
    .argument('<file>', 'scenario; - for standard input')
    .requiredOption('--package <dir>', 'the package that the hologram was made from')
    .option('--log <yaml>', 'log of the alignment; - for standard input')
    .option('--out <dir>', 'folder for record.html and record.json; both are written, or neither')
    .option('--serial <text>', 'serial number of the hologram, if the log does not give it')
    .option('--check <json>', 'instead, check a record: its form, its content, its package and its figures')
    .summary('record of an alignment, to be signed and checked later')
    .description(
      'Writes down an alignment from its log: who, when, with which hologram and package, the readings before and after clamping and\n' +
        'reseating, where the part is with its uncertainty by JCGM 100, what clamping and reseating changed, what misalignment leaves in the\n' +
        'figure of the surface under test, and where the work departed from the order of work. A package of which any file has changed, or\n' +
        'that was made from another scenario, is refused. Dates and times are those of the log. Contradicting readings are recorded as such: exit 1.\n' +
        'With --check: exit 0 if the record is as it was written and belongs to the package, and if its figures follow from its readings;\n' +
        'exit 3 if not.',
    )
    .addHelpText(
      'after',
      '\nLog:\n  serial: H-0042\n  date: 2026-01-31\n  operator: …\n  temperature: 20.4 degC\n  before: before.readings.yml                 # as `steer` takes them\n' +
        '  clamped: [{patch: north-1, fringes: 0.1}]   # or in place\n  reseated: reseated.readings.yml\n' +
        '  steps: [{step: hologram, at: "09:10"}, coarse, references, part, verification]\n  remarks: …\n' +
        '\nExamples:\n  datumlight record scenario.yaml --log log.yaml --package out/package --out out/record\n' +
        '  datumlight record scenario.yaml --check out/record/record.json --package out/package',
    )
    .action((file: string, options: RecordOptions) => end(record(file, options, io)));

async function record(file: string, options: RecordOptions, io: Io): Promise<ExitCode> {
  const refuse = refusing(options, io);
  const misused = misusedOptions(file, options);
  if (misused !== undefined) return refuse(misused.where, { findings: [misused] });
  const loaded = await loadScenario(file, io);
  const { design } = loaded;
  if (design === undefined) return refuse(loaded.file, loaded);
  if (!options.json) sayFindings(loaded.findings, loaded.text, io.stderr, io, options);
  if (options.check !== undefined) return checkRecord(design, loaded, options.check, options, io);
  const [log, out] = [options.log!, options.out!];
  const misplaced = refusedRecord(out, options.package, [file, log]);
  if (misplaced.length > 0) return refuse(loaded.file, { findings: misplaced });
  const input = await readInput(log, io);
  if ('finding' in input) return refuse(input.name, { findings: [input.finding] });
  const made = madeFrom(design, loaded, input, options);
  if ('faults' in made) return refuse(input.name, ...made.faults);
  const files = recordAt(out).map((one) => ({
    ...one,
    content: one.path === join(out, 'record.json') ? jsonText(made.record) : recordHtml(made.record),
  }));
  const standing = refusedRecord(out, options.package, [file, log], made.record);
  if (standing.length > 0) return refuse(loaded.file, { findings: standing });
  const unwritten = placeFiles(files);
  if (countOf(unwritten, 'error') > 0) return refuse(loaded.file, { findings: unwritten });
  return told(made, unwritten, input.name, out, options, io);
}

function misusedOptions(file: string, { check, log, out, serial }: RecordOptions): Finding | undefined {
  const fault = (rule: Code, option: string, message: string, hint: string): Finding =>
    errorFinding(rule, option, message, hint);
  if (check !== undefined) {
    const other =
      log !== undefined
        ? '--log'
        : out !== undefined
          ? '--out'
          : serial !== undefined
            ? '--serial'
            : undefined;
    if (other !== undefined)
      return fault(
        'conflicting-keys',
        other,
        `${other} makes a record, --check checks one`,
        'remove one of the two',
      );
    return stdinTwice(file, check, '--check', 'record');
  }
  if (log === undefined)
    return fault('missing-key', '--log', 'there is no log', 'name the log of the alignment with --log');
  if (out === undefined)
    return fault('missing-key', '--out', 'there is no folder for the record', 'name one with --out');
  if (serial !== undefined && (serial.trim() === '' || serial.length > MOST_LETTERS))
    return fault(
      'bad-value',
      '--serial',
      'the serial number is empty or too long',
      `give 1 to ${MOST_LETTERS} characters`,
    );
  return stdinTwice(file, log, '--log', 'log');
}

const MOST_LETTERS = 120;

interface MadeRecord {
  readonly record: AlignmentRecord;
  /** What the readings show to be wrong, each with the text that its place is in. */
  readonly faulty: readonly Required<Fault>[];
}

function madeFrom(
  design: Design,
  { hash, named }: Loaded,
  { name, text }: { readonly name: string; readonly text: string },
  options: RecordOptions,
): MadeRecord | { readonly faults: readonly Fault[] } {
  const scenario = { sha256: hash, named };
  const checked = checkedPackage(options.package, scenario);
  if ('findings' in checked) return { faults: [checked] };
  const { log, places, faults } = readLog(text, name, design.scenario, textsBeside(options.log!));
  if (log === undefined) return { faults };
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
    order: WORK_ORDER,
  });
  return { record, faulty: said };
}

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

function told(
  { record: made, faulty }: MadeRecord,
  warnings: readonly Finding[],
  name: string,
  out: string,
  options: RecordOptions,
  io: Io,
): ExitCode {
  const findings = [...faulty.flatMap((one) => one.findings), ...warnings];
  const code = countOf(findings, 'error') > 0 ? EXIT.rulesBroken : EXIT.fine;
  if (options.json) {
    const head = { format: 'datumlight-recorded/1', ok: code === EXIT.fine, file: name, written: out };
    io.stdout.write(jsonText(listing({ ...head, findings: findings.map(reportedFinding), record: made })));
    return code;
  }
  for (const one of faulty) sayFindings(one.findings, one.text, io.stderr, io, options);
  sayFindings(warnings, undefined, io.stderr, io, options);
  if (options.quiet) return code;
  for (const { by, significant, probability } of made.changes)
    sayLine(
      io.stdout,
      `change by ${by}: ${significant ? 'significant' : 'not significant'}, probability ${probability.toPrecision(2)} without any movement`,
    );
  for (const { words } of made.deviations) sayLine(io.stdout, `deviation from the order of work: ${words}`);
  sayLine(
    io.stdout,
    `${name}: wrote record.html and record.json of hologram ${made.serial} to ${out}, SHA-256 ${made.sha256}; ${tally(findings)}`,
  );
  return code;
}
