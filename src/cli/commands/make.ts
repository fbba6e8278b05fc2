/** `make FILE --out DIR`: as check, then the package. A design that breaks a rule writes none, unless it is a draft. */

import type { Design } from '../../design/design.ts';
import { refusedFolder } from '../../disk/output-places.ts';
import { writePackage } from '../../disk/package-folder.ts';
import { drawingFont, shippedFiles } from '../../disk/shipped-files.ts';
import { Spool } from '../../disk/spool.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { findingsOf } from '../../rules/one-cause.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { letterFindings } from '../../writing/drawing/formats/pdf-letters.ts';
import { jsonText } from '../../writing/json.ts';
import type { FileContent } from '../../writing/manifest.ts';
import { type Package, packageFiles, packageWithPattern } from '../../writing/package/package.ts';
import type { Provenance } from '../../writing/provenance.ts';
import { type CameraOptions, cameraOrientation, withCameraOptions } from '../camera-options.ts';
import { type Register, type TalkOptions, talkative } from '../command.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { type Loaded, loadScenario } from '../load-scenario.ts';
import { countOf, listing, refusing, sayFindings, sayLine, tally } from '../say.ts';
import { VERSION } from '../version.ts';
import {
  asksForPattern,
  cellsOf,
  idlePatternOption,
  type PatternOptions,
  patternOf,
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
  const ofDesign = [
    ...loaded.findings,
    ...[...findingsOf(design), ...letterFindings(design.scenario, drawingFont())].map(loaded.placed),
  ];
  const head = {
    version: VERSION,
    scenarioHash: loaded.hash,
    named: loaded.named,
    draft: options.draft === true,
    ...(date === undefined ? {} : { date }),
  };
  const spool = new Spool(options.out);
  try {
    return await written({ ...loaded, design }, ofDesign, head, camera.orientation, spool, options, io);
  } finally {
    spool.discard();
  }
}

async function written(
  loaded: Loaded & { readonly design: Design },
  ofDesign: readonly Finding[],
  head: Provenance,
  orientation: CameraOrientation,
  spool: Spool,
  options: MakeOptions,
  io: Io,
): Promise<ExitCode> {
  const refuse = refusing(options, io);
  const { design } = loaded;
  const broken = countOf(ofDesign, 'error') > 0;
  const writes = !broken || options.draft === true;
  const asks = writes && asksForPattern(options);
  const cells = asks ? await cellsOf(design, options, head, spool) : undefined;
  const pattern = asks ? patternOf(design, options, { ...head, out: options.out }, spool, cells) : undefined;
  const isRefused = pattern !== undefined && 'refused' in pattern;
  const findings = [
    ...ofDesign,
    ...(pattern === undefined || isRefused ? [] : pattern.findings.map(loaded.placed)),
  ];
  if (!options.json) sayFindings(findings, loaded.text, io.stderr, io, options);
  if (isRefused) return refuse(loaded.file, { ...loaded, findings: [loaded.placed(pattern.refused)] });
  const { files, report }: Package<FileContent> =
    pattern === undefined
      ? packageFiles(design, findings, head, shippedFiles(), orientation)
      : packageWithPattern(design, findings, head, shippedFiles(), pattern.part, orientation);
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
