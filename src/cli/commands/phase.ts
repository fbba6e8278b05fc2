/** `phase FILE --patch ID --points CSV`: phase and period at points of the user's, as CSV on stdout. */

import { patternsOf } from '../../design/design.ts';
import type { Pattern } from '../../design/pattern.ts';
import { UnusableInput } from '../../disk/text-file.ts';
import { errorFinding } from '../../finding/finding.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { trimmed } from '../../quantity/format.ts';
import { didYouMean } from '../../quantity/nearest-name.ts';
import { periodField, phaseField } from '../../writing/coefficients/phase-columns.ts';
import { jsonText } from '../../writing/json.ts';
import { type Register, type TalkOptions, talkative } from '../command.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { loadScenario } from '../load-scenario.ts';
import { type PointRow, type PointRows, pointRows } from '../point-rows.ts';
import { stdinTwice } from '../read-input.ts';
import { refusing } from '../say.ts';

interface PhaseOptions extends TalkOptions {
  readonly patch: string;
  readonly points: string;
}

export const registerPhase: Register = ({ program, io, end }) =>
  talkative(program.command('phase'))
    .argument('<file>', 'scenario; - for standard input')
    .requiredOption('--patch <id>', 'the patch; main for the main pattern')
    .requiredOption('--points <csv>', 'points x_mm,y_mm in the substrate frame; - for standard input')
    .summary('phase and period at given points, as CSV')
    .description(
      'Prints x_mm,y_mm,phase_waves,period_um for points of the pattern plane, in the substrate frame. The phase is in waves at\n' +
        'order 1: E_out = E_in + m lambda Phi, zero at the patch centre before any bias or where\n' +
        'coefficients.csv says, for a ring whose centre no light leaves. It is printed even if a rule is broken.\n' +
        'All points are read before the first row is printed: a table with a fault prints none. Points from standard input wait in a\n' +
        'temporary file (TMPDIR). Memory is bounded, whatever their number. Columns may have other units: x_um, x [in].',
    )
    .addHelpText('after', '\nExample:\n  datumlight phase scenario.yaml --patch north-1 --points points.csv')
    .action((file: string, options: PhaseOptions) => end(phase(file, options, io)));

async function phase(file: string, options: PhaseOptions, io: Io): Promise<ExitCode> {
  const refuse = refusing(options, io);
  const twice = stdinTwice(file, options.points, '--points', 'points');
  if (twice !== undefined) return refuse('<stdin>', { findings: [twice] });
  const loaded = await loadScenario(file, io);
  if (loaded.design === undefined) return refuse(loaded.file, loaded);
  const patterns = patternsOf(loaded.design).map(({ pattern }) => pattern);
  const patch = patterns.find(({ id }) => id === options.patch);
  if (patch === undefined) {
    const names = patterns.map(({ id }) => id);
    const message = `the scenario has no patch ${JSON.stringify(options.patch)}`;
    const hint = didYouMean(options.patch, names) ?? `known patches: ${names.join(', ')}`;
    return refuse(loaded.file, { findings: [errorFinding('unknown-name', '--patch', message, hint)] });
  }
  const read = await pointRows(options.points, io);
  if ('findings' in read) return refuse(read.name, read);
  try {
    await (options.json ? writeJson : writeCsv)(patch, read.points, io.stdout);
  } catch (error) {
    if (!(error instanceof UnusableInput)) throw error;
    return refuse(read.name, { findings: [error.finding] });
  } finally {
    read.points.close();
  }
  return EXIT.fine;
}

interface Found {
  readonly at: PointRow;
  /** Waves. */
  readonly phase: number;
  /** mm. */
  readonly period: number;
}

function foundAt(patch: Pattern, rows: readonly PointRow[]): readonly Found[] {
  const xs = Float64Array.from(rows, ({ x }) => x);
  const ys = Float64Array.from(rows, ({ y }) => y);
  const phases = patch.phase.phases(xs, ys);
  const { gx, gy } = patch.phase.gradients(xs, ys);
  return rows.map((at, i) => {
    const slope = Math.sqrt(gx[i]! * gx[i]! + gy[i]! * gy[i]!);
    return { at, phase: phases[i]!, period: 1 / slope };
  });
}

async function writeCsv(patch: Pattern, points: PointRows, out: Io['stdout']): Promise<void> {
  out.write('x_mm,y_mm,phase_waves,period_um\n');
  for await (const rows of points.blocks()) {
    const lines = foundAt(patch, rows).map(({ at: { x, y, texts }, phase, period }) => {
      const [xText, yText] = [texts[0] ?? trimmed(x, PLACE_DIGITS), texts[1] ?? trimmed(y, PLACE_DIGITS)];
      return `${xText},${yText},${phaseField(phase)},${periodField(period)}\n`;
    });
    if (!(await taken(out, lines.join('')))) return;
  }
}

/** Of a place that was given in another unit than mm. */
const PLACE_DIGITS = 9;

/** The one document, as `jsonText` has it, its points in blocks. */
async function writeJson(patch: Pattern, points: PointRows, out: Io['stdout']): Promise<void> {
  const frame = jsonText({ patch: patch.id, order: patch.order, points: [] });
  const [head, tail] = [frame.slice(0, frame.lastIndexOf('[') + 1), frame.slice(frame.lastIndexOf(']'))];
  out.write(head);
  let separator = '\n';
  for await (const rows of points.blocks()) {
    const texts = foundAt(patch, rows).map(({ at: { x, y }, phase, period }) => {
      const point = { x_mm: x, y_mm: y, phase_waves: phase, period_um: period * UM_PER_MM };
      const text = `${separator}${jsonText(point).trimEnd().replace(/^/gm, '    ')}`;
      separator = ',\n';
      return text;
    });
    if (!(await taken(out, texts.join('')))) return;
  }
  out.write(`\n  ${tail}`);
}

/** Resolves when the stream takes more; false where it never will. */
async function taken(stream: Io['stdout'], text: string): Promise<boolean> {
  if (text !== '' && !stream.write(text)) {
    await new Promise<void>((resume) => {
      const done = (): void => {
        stream.off('drain', done).off('close', done);
        resume();
      };
      stream.on('drain', done).on('close', done);
    });
  }
  return stream.writable;
}
