/** The options of `make` that ask for the written pattern, and from them its files; an option out of range comes back as a finding. */
import { availableParallelism } from 'node:os';
import { setImmediate } from 'node:timers/promises';
import type { Command } from 'commander';
import type { CellsUnderWay } from '../../batch/pattern-cells.ts';
import type { Design } from '../../design/design.ts';
import { isSystemError, unwritable } from '../../disk/not-writable.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { UntraceablePatch } from '../../pattern/trace-pattern.ts';
import { MM_PER_UM } from '../../quantity/conversion.ts';
import { evaluateQuantity } from '../../quantity/evaluate.ts';
import { DEFAULT_VERTEX_LIMIT, GDSII_MOST_VERTICES } from '../../writing/pattern/gdsii.ts';
import {
  PatternFiles,
  type PatternPart,
  type PatternWishes,
  type Spool,
} from '../../writing/pattern/pattern-files.ts';
import type { SliverWish } from '../../writing/pattern/pattern-notes.ts';
import type { PatternFormat } from '../../writing/pattern/write-pattern.ts';
import type { Provenance } from '../../writing/provenance.ts';

export interface PatternOptions {
  /** `gds` or `oas`, either once. */
  readonly pattern?: readonly string[];
  readonly patternDxf?: boolean;
  /** The main pattern too. */
  readonly main?: boolean;
  readonly every?: string;
  readonly edgeShift?: string;
  readonly slivers?: string;
  readonly asWritten?: boolean;
  readonly vertexLimit?: string;
  readonly databaseUnit?: string;
  /** Threads; default: one per core. */
  readonly jobs?: string;
}

export const asksForPattern = ({ pattern, patternDxf, main }: PatternOptions): boolean =>
  pattern !== undefined || patternDxf === true || main === true;

export const withPatternOptions = (command: Command): Command =>
  command
    .option('--pattern <format...>', 'also write the pattern: gds (GDSII stream), oas (OASIS), or both')
    .option('--pattern-dxf', 'also write the pattern as DXF, for small patterns')
    .option('--main', 'also write the main pattern into the pattern files, in a cell of its own')
    .option('--every <n>', 'write only every n-th pattern line, for illustration; marked not for fabrication')
    .option(
      '--edge-shift <length>',
      'outward shift of each written edge, e.g. "50 nm" or "-0.1 um" (default: 0)',
    )
    .option(
      '--vertex-limit <n>',
      `most vertices in a polygon, 4 to ${GDSII_MOST_VERTICES} (default: ${DEFAULT_VERTEX_LIMIT})`,
    )
    .option(
      '--slivers <word>',
      'written areas nowhere as wide as process.minFeature: keep or drop; counted either way (default: keep)',
    )
    .option(
      '--as-written',
      'write the pattern files as the writer sees the patterned surface: mirrored if it faces the interferometer',
    )
    .option(
      '--database-unit <length>',
      'of GDSII and OASIS: 1 nm or an integer fraction of it, e.g. "0.5 nm" (default: 1 nm)',
    )
    .option('--jobs <n>', 'threads that trace a large pattern (default: one per core)');

/** What an option of the pattern files is worth where none is asked for: refused, for its user believes that it did something. */
export function idlePatternOption(options: PatternOptions): Finding | undefined {
  if (asksForPattern(options)) return undefined;
  const { every, edgeShift, slivers, asWritten, vertexLimit, databaseUnit, jobs } = options;
  const given = Object.entries({
    every,
    'edge-shift': edgeShift,
    slivers,
    'as-written': asWritten,
    'vertex-limit': vertexLimit,
    'database-unit': databaseUnit,
    jobs,
  });
  const idle = given.find(([, value]) => value !== undefined);
  if (idle === undefined) return undefined;
  const message = 'applies to the pattern files only, and none is asked for';
  const hint = 'add --pattern gds, --pattern oas or --pattern-dxf';
  return errorFinding('bad-value', `--${idle[0]}`, message, hint);
}

export interface AskedPattern {
  readonly wishes: PatternWishes;
  /** At the most. */
  readonly threads: number;
}

/** What the options ask for; the finding where one of them is out of its range. */
export function patternWishes(
  design: Design,
  options: PatternOptions,
  { draft, date }: Pick<Provenance, 'draft' | 'date'>,
): AskedPattern | { readonly refused: Finding } {
  const refused = mainRefused(design, options);
  if (refused !== undefined) return { refused };
  try {
    const unit = lengthOf('--database-unit', options.databaseUnit);
    const wishes = {
      formats: [...new Set(options.pattern ?? [])].map(formatOf),
      dxf: options.patternDxf === true,
      main: options.main === true,
      every: wholeNumber('--every', options.every) ?? 1,
      edgeShift: lengthOf('--edge-shift', options.edgeShift) ?? 0,
      slivers: sliverWishOf(options.slivers),
      asWritten: options.asWritten === true,
      vertexLimit: wholeNumber('--vertex-limit', options.vertexLimit),
      stepsPerMicron: unit === undefined ? undefined : stepsOf(unit),
      date: date === undefined ? undefined : dateOf(date),
      draft,
    };
    return { wishes, threads: wholeNumber('--jobs', options.jobs) ?? availableParallelism() };
  } catch (error) {
    if (error instanceof RangeError) return { refused: outOfRange(error) };
    throw error;
  }
}

/** The files of the pattern, which wait in `spool` for their package, to go into `out`. `cells`: on their way elsewhere. */
export async function patternOf(
  design: Design,
  wishes: PatternWishes,
  out: string,
  spool: Spool,
  cells: CellsUnderWay | undefined,
): Promise<PatternPart | { readonly refused: Finding }> {
  try {
    const files = new PatternFiles(design, wishes, spool);
    for (let k = 0; k < files.cells; k++) {
      files.cell(k, await cells?.cell(k));
      // So that a thread that ends, and a disk that has kept what it was given, are heard of.
      await setImmediate();
    }
    return files.end();
  } catch (error) {
    if (error instanceof UntraceablePatch) return { refused: untraceable(design, error) };
    if (error instanceof RangeError) return { refused: outOfRange(error) };
    if (isSystemError(error)) return { refused: unwritable(out, error) };
    throw error;
  }
}

const outOfRange = ({ message }: RangeError): Finding => errorFinding('bad-value', 'the pattern', message);

/** `--main` where there is nothing to write, or nothing to write it into. */
function mainRefused(design: Design, { pattern, patternDxf, main }: PatternOptions): Finding | undefined {
  if (main !== true) return undefined;
  if (design.main === undefined)
    return errorFinding(
      'missing-key',
      '--main',
      'the scenario has no main pattern',
      'add `test` with the surface and its aperture, or leave out --main',
    );
  if (pattern !== undefined || patternDxf === true) return undefined;
  return errorFinding(
    'missing-key',
    '--main',
    'no pattern file is asked for',
    'add --pattern oas, or leave out --main',
  );
}

const untraceable = (design: Design, { patch, message }: UntraceablePatch): Finding => ({
  severity: 'error',
  rule: 'bad-value',
  where: patch,
  message,
  hint: 'leave out more around the place that is named, e.g. by a ring with a wider hole',
  path:
    patch === design.main?.id
      ? ['test', 'aperture']
      : ['patches', design.patches.findIndex(({ id }) => id === patch), 'outline'],
});

function formatOf(text: string): PatternFormat {
  if (text === 'gds' || text === 'oas') return text;
  throw new RangeError(`--pattern is ${JSON.stringify(text)}; expected gds or oas`);
}

function sliverWishOf(text: string | undefined): SliverWish {
  if (text === undefined || text === 'keep' || text === 'drop') return text ?? 'keep';
  throw new RangeError(`--slivers is ${JSON.stringify(text)}; expected keep or drop`);
}

function wholeNumber(option: string, text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  if (/^\d{1,9}$/.test(text) && Number(text) > 0) return Number(text);
  throw new RangeError(`${option} is ${JSON.stringify(text)}; expected a whole number, 1 or more`);
}

function lengthOf(option: string, text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  const result = evaluateQuantity(text, 'length', new Map());
  if ('value' in result) return result.value;
  throw new RangeError(`${option} is ${JSON.stringify(text)}: ${result.problem?.message ?? 'not a length'}`);
}

/** Rounding that a unit such as 0.5 nm may have against a whole number of steps a micron. */
const NEARLY_WHOLE = 1e-6;

function stepsOf(unit: number): number {
  const steps = MM_PER_UM / unit;
  const whole = Math.round(steps);
  if (whole > 0 && Math.abs(steps - whole) <= NEARLY_WHOLE * whole) return whole;
  throw new RangeError(`--database-unit is 1/${steps} of a micron; expected an integer fraction`);
}

function dateOf(day: string): readonly [number, number, number, number, number, number] {
  const [year, month, date] = day.split('-').map(Number) as [number, number, number];
  return [year, month, date, 0, 0, 0];
}
