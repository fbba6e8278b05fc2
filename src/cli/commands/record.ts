/** `record FILE --log YAML --package DIR --out DIR`: an alignment's record, to be signed; `--check` whether one is still what it was. */
import { basename, join } from 'node:path';
import { placeFiles } from '../../disk/place-files.ts';
import type { Code } from '../../finding/codes.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { jsonText } from '../../writing/json.ts';
import { recordHtml } from '../../writing/record/record-html.ts';
import { reportedFinding } from '../../writing/report/reported-finding.ts';
import { type CameraOptions, cameraGiven, withCameraOptions } from '../camera-options.ts';
import { type Register, type TalkOptions, talkative } from '../command.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { loadScenario } from '../load-scenario.ts';
import { readInput, stdinTwice } from '../read-input.ts';
import { countOf, listing, refusing, sayFindings, sayLine, tally } from '../say.ts';
import { checkRecord } from './record-check.ts';
import { type MadeRecord, madeFrom } from './record-made.ts';
import { recordAt, refusedRecord } from './record-places.ts';

export interface RecordOptions extends TalkOptions, CameraOptions {
  readonly package: string;
  readonly log?: string;
  readonly session?: string;
  readonly out?: string;
  readonly serial?: string;
  readonly check?: string;
}

export const registerRecord: Register = ({ program, io, end }) =>
  withCameraOptions(talkative(program.command('record')))
    .argument('<file>', 'scenario; - for standard input')
    .requiredOption('--package <dir>', 'the package that the hologram was made from')
    .option('--log <yaml>', 'log of the alignment; - for standard input')
    .option(
      '--session <file>',
      'session of `steer`, if the log does not name it: its rounds are the readings',
    )
    .option('--out <dir>', 'folder for record.html and record.json; both are written, or neither')
    .option('--serial <text>', 'serial number of the hologram, if the log does not give it')
    .option('--check <json>', 'instead, check a record: its form, its content, its package and its figures')
    .summary('record of an alignment, to be signed and checked later')
    .description(
      'Writes down an alignment from its log: who, when, with which hologram and package, the readings before and after clamping and\n' +
        'reseating, where the part is with its uncertainty by JCGM 100, what clamping and reseating changed, what misalignment leaves in the\n' +
        'figure of the surface under test, and where the work departed from the order of work. A package of which any file has changed, or\n' +
        'that was made from another scenario, is refused, and so is a session of another scenario. Of a session all rounds are recorded; the\n' +
        'readings before clamping are its last ones, those after it the rounds that `steer --moment` marked so, or the log’s own. The camera’s\n' +
        'orientation is the session’s for its rounds; for the log’s own, the options go before readings file, log and bench file. Dates and times are those of the log. Contradicting readings are recorded as such: exit 1.\n' +
        'With --check: exit 0 if the record is as it was written and belongs to the package, and if its figures follow from its readings;\n' +
        'exit 3 if not.',
    )
    .addHelpText(
      'after',
      '\nLog:\n  serial: H-0042\n  date: 2026-01-31\n  operator: …\n  temperature: 20.4 degC\n  session: session.yml                        # of `steer --session`, in place of `before`\n  before: before.readings.yml                 # as `steer` takes them\n' +
        '  clamped: [{patch: north-1, fringes: 0.1}]   # or in place\n  reseated: reseated.readings.yml\n' +
        '  steps: [mount, {step: hologram, at: "09:10"}, coarse, references, clamp, reseat]   # kinds of `order` in report.json\n  remarks: …\n' +
        '\nA file named under `before`, `clamped` or `reseated` holds readings, one under `session` a session.\n' +
        '\nExamples:\n  datumlight record scenario.yaml --log log.yaml --package out/package --out out/record\n' +
        '  datumlight record scenario.yaml --log log.yaml --session session.yml --package out/package --out out/record\n' +
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
  const inputs = [file, log, ...(options.session === undefined ? [] : [options.session])];
  const camera = await cameraGiven(options, inputs, io);
  if ('fault' in camera) return refuse(loaded.file, camera.fault);
  const all = [...inputs, ...(options.bench === undefined ? [] : [options.bench])];
  const misplaced = refusedRecord(out, options.package, all);
  if (misplaced.length > 0) return refuse(loaded.file, { findings: misplaced });
  const input = await readInput(log, io);
  if ('finding' in input) return refuse(input.name, { findings: [input.finding] });
  const session = options.session === undefined ? undefined : await readInput(options.session, io);
  if (session !== undefined && 'finding' in session)
    return refuse(session.name, { findings: [session.finding] });
  const made = madeFrom(design, loaded, input, {
    ...{ options, given: camera.given },
    session: session && { name: basename(session.name), text: session.text },
  });
  if ('faults' in made) return refuse(input.name, ...made.faults);
  const files = recordAt(out).map((one) => ({
    ...one,
    content: one.path === join(out, 'record.json') ? jsonText(made.record) : recordHtml(made.record),
  }));
  const standing = refusedRecord(out, options.package, all, made.record);
  if (standing.length > 0) return refuse(loaded.file, { findings: standing });
  const unwritten = placeFiles(files);
  if (countOf(unwritten, 'error') > 0) return refuse(loaded.file, { findings: unwritten });
  return told(made, unwritten, input.name, out, options, io);
}

/** What a record is made from or written to, and a check has no use for. */
const MAKING = ['log', 'session', 'out', 'serial', 'bench', 'view', 'turned', 'mirrored'] as const;

function misusedOptions(file: string, options: RecordOptions): Finding | undefined {
  const { check, log, session, out, serial } = options;
  const fault = (rule: Code, option: string, message: string, hint: string): Finding =>
    errorFinding(rule, option, message, hint);
  if (check !== undefined) {
    const other = MAKING.find((option) => options[option] !== undefined);
    if (other !== undefined)
      return fault(
        'conflicting-keys',
        `--${other}`,
        `--${other} makes a record, --check checks one`,
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
  if (session === '-')
    return fault('bad-value', '--session', 'a session is kept in a file', 'name it, e.g. session.yml');
  return stdinTwice(file, log, '--log', 'log');
}

const MOST_LETTERS = 120;

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
