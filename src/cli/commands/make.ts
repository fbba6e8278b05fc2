/** `make FILE --out DIR`: as check, then the package. A design that breaks a rule writes none, unless it is a draft. */

import { type CellsUnderWay, cellsUnderWay } from '../../batch/pattern-cells.ts';
import type { Design } from '../../design/design.ts';
import { refusedFolder } from '../../disk/output-places.ts';
import { writePackage } from '../../disk/package-folder.ts';
import { drawingFont, shippedFiles } from '../../disk/shipped-files.ts';
import { Spool } from '../../disk/spool.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { shiftedFeatures } from '../../pattern/shift-limits.ts';
import { findingsOf } from '../../rules/one-cause.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { letterFindings } from '../../writing/drawing/formats/pdf-letters.ts';
import { jsonText } from '../../writing/json.ts';
import { begunPackage } from '../../writing/package/package.ts';
import { writtenFiles } from '../../writing/pattern/pattern-files.ts';
import type { Provenance } from '../../writing/provenance.ts';
import { type CameraOptions, cameraOrientation, withCameraOptions } from '../camera-options.ts';
import { type Register, type TalkOptions, talkative } from '../command.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { type Loaded, loadScenario } from '../load-scenario.ts';
import { countOf, listing, refusing, sayFindings, sayLine, tally } from '../say.ts';
import { VERSION } from '../version.ts';
import {
  type AskedPattern,
  asksForPattern,
  idlePatternOption,
  type PatternOptions,
  patternOf,
  patternWishes,
  withPatternOptions,
} from './make-pattern.ts';

interface MakeOptions extends TalkOptions, PatternOptions, CameraOptions {
  readonly out: string;
  readonly draft?: boolean;
}

export const registerMake: Register = ({ program, io, end }) =>
  withCameraOptions(withPatternOptions(talkative(program.command('make'))))
    .argument('<file>', 'scenario; - for standard input')
    .requiredOption('--out <dir>', 'folder for the package; written whole or not at all')
    .option('--draft', 'write even if a rule is broken; each drawing is marked NOT FOR FABRICATION')
    .summary('check, then write drawings, tables, report and sheet')
    .description(
      'Checks a scenario, then writes its package: drawings, phase tables, report, sheet and manifest.',
    )
    .addHelpText(
      'after',
      '\nExamples:\n  datumlight make examples/diverging-balls.yaml --out out/balls\n' +
        '  datumlight make examples/diverging-balls.yaml --out out/balls --pattern gds oas',
    )
    .action((file: string, options: MakeOptions) => end(make(file, options, io)));

async function make(file: string, options: MakeOptions, io: Io): Promise<ExitCode> {
  const refuse = refusing(options, io);
  const loaded = await loadScenario(file, io);
  const { design } = loaded;
  if (design === undefined) return refuse(loaded.file, loaded);
  const misplaced = refusedFolder('--out', options.out, [
    file,
    ...(options.bench === undefined ? [] : [options.bench]),
  ]);
  if (misplaced !== undefined) return refuse(loaded.file, { findings: [misplaced] });
  const date = sourceDate(io.env);
  if (typeof date === 'object') return refuse(loaded.file, { findings: [date] });
  const idle = idlePatternOption(options);
  if (idle !== undefined) return refuse(loaded.file, { findings: [idle] });
  const camera = await cameraOrientation(options, [file], io);
  if ('fault' in camera) return refuse(loaded.file, camera.fault);
  const head = {
    version: VERSION,
    scenarioHash: loaded.hash,
    named: loaded.named,
    draft: options.draft === true,
    ...(date === undefined ? {} : { date }),
  };
  const asked = asksForPattern(options) ? patternWishes(design, options, head) : undefined;
  const spool = new Spool(options.out);
  // Begun before the rules are asked: threads trace meanwhile.
  const cells =
    asked === undefined || 'refused' in asked
      ? undefined
      : cellsUnderWay(design, asked.wishes, spool, asked.threads);
  try {
    return await written({ ...loaded, design }, asked, cells, head, camera.orientation, spool, options, io);
  } finally {
    await cells?.stop();
    spool.discard();
  }
}

async function written(
  loaded: Loaded & { readonly design: Design },
  asked: AskedPattern | { readonly refused: Finding } | undefined,
  cells: CellsUnderWay | undefined,
  head: Provenance,
  orientation: CameraOrientation,
  spool: Spool,
  options: MakeOptions,
  io: Io,
): Promise<ExitCode> {
  const refuse = refusing(options, io);
  const { design } = loaded;
  const ofDesign = [
    ...loaded.findings,
    ...[...findingsOf(design), ...letterFindings(design.scenario, drawingFont())].map(loaded.placed),
  ];
  const broken = countOf(ofDesign, 'error') > 0;
  const writes = !broken || options.draft === true;
  const say = (findings: readonly Finding[]): void => {
    if (!options.json) sayFindings(findings, loaded.text, io.stderr, io, options);
  };
  const refused = (finding: Finding): ExitCode => {
    say(ofDesign);
    return refuse(loaded.file, { ...loaded, findings: [loaded.placed(finding)] });
  };
  if (writes && asked !== undefined && 'refused' in asked) return refused(asked.refused);
  const wishes = writes && asked !== undefined && 'wishes' in asked ? asked.wishes : undefined;
  const findings = [
    ...ofDesign,
    ...(wishes === undefined ? [] : shiftedFeatures(design, wishes.edgeShift).map(loaded.placed)),
  ];
  const named = wishes === undefined ? head : { ...head, patternFiles: writtenFiles(design, wishes) };
  const ended = begunPackage(design, findings, named, shippedFiles(), orientation);
  const pattern = wishes && (await patternOf(design, wishes, options.out, spool, cells));
  if (pattern !== undefined && 'refused' in pattern) return refused(pattern.refused);
  say(findings);
  const { files, report } = ended(pattern);
  if (writes) {
    const warn = (warnings: readonly Finding[]): void =>
      sayFindings(warnings, undefined, io.stderr, io, options);
    const fault = writePackage(options.out, files, { durable: true, warn });
    if (fault !== undefined) return refuse(loaded.file, { findings: [fault] });
  }
  if (options.json)
    io.stdout.write(
      jsonText({ ...listing(report), file: loaded.file, written: writes ? options.out : null }),
    );
  else if (!options.quiet) {
    const what = writes ? `wrote ${files.size} files to ${options.out}` : 'nothing written';
    const draft = options.draft ? ', a draft: NOT FOR FABRICATION' : '';
    sayLine(io.stdout, `${loaded.file}: ${what}${draft}: ${tally(findings)}`);
  }
  return broken ? EXIT.rulesBroken : EXIT.fine;
}

/** The last second of the year 9999, past which a date has no four digits for its year. */
const LAST_SECOND = 253_402_300_799;

/**
 * The date that SOURCE_DATE_EPOCH names (seconds since 1970, UTC), such as 2026-01-31; undefined where the variable is not set. What is
 * no such number is refused, as the specification of the variable has it (reproducible-builds.org, SOURCE_DATE_EPOCH 1.1: a malformed
 * value should end a build with a non-zero exit code; from memory).
 */
function sourceDate({ SOURCE_DATE_EPOCH: given }: NodeJS.ProcessEnv): string | Finding | undefined {
  if (given === undefined) return undefined;
  if (/^\d{1,12}$/.test(given) && Number(given) <= LAST_SECOND)
    return new Date(Number(given) * 1000).toISOString().slice(0, 10);
  const message = `is ${JSON.stringify(given)}, not a whole number of seconds since 1970`;
  const hint = 'set it to a number such as 1767225600, or unset it';
  return errorFinding('bad-value', 'SOURCE_DATE_EPOCH', message, hint);
}
