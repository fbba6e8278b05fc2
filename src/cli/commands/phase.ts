/** `phase FILE --patch ID --points CSV`: phase and period at points of the user's, as CSV on stdout. */

import type { DesignedPatch } from '../../design/design.ts';
import { errorFinding } from '../../finding/finding.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { didYouMean } from '../../quantity/nearest-name.ts';
import { readNumericTable } from '../../reading/tables/numeric-table.ts';
import { periodField, phaseField } from '../../writing/coefficients/phase-columns.ts';
import { jsonText } from '../../writing/json.ts';
import { type Register, type TalkOptions, talkative } from '../command.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { loadScenario } from '../load-scenario.ts';
import { readInput, stdinTwice } from '../read-input.ts';
import { refusing } from '../say.ts';

interface PhaseOptions extends TalkOptions {
  readonly patch: string;
  readonly points: string;
}

export const registerPhase: Register = ({ program, io, end }) =>
  talkative(program.command('phase'))
    .argument('<file>', 'scenario; - for standard input')
    .requiredOption('--patch <id>', 'the patch')
    .requiredOption('--points <csv>', 'points x_mm,y_mm in the substrate frame; - for standard input')
    .summary('phase and period at given points, as CSV')
    .description(
      'Prints x_mm,y_mm,phase_waves,period_um for points of the pattern plane, in the substrate frame. The phase is in waves at\n' +
        'order 1: E_out = E_in + m lambda Phi, zero at the patch centre before any bias or where\n' +
        'coefficients.csv says, for a ring whose centre no light leaves. It is printed even if a rule is broken.',
    )
    .addHelpText('after', '\nExample:\n  datumlight phase scenario.yaml --patch north-1 --points points.csv')
    .action((file: string, options: PhaseOptions) => end(phase(file, options, io)));

/** Rows joined before they are written: large enough to be quick, small enough to stay in memory. */
const ROWS_AT_ONCE = 4096;

async function phase(file: string, options: PhaseOptions, io: Io): Promise<ExitCode> {
  const refuse = refusing(options, io);
  const twice = stdinTwice(file, options.points, '--points', 'points');
  if (twice !== undefined) return refuse('<stdin>', { findings: [twice] });
  const loaded = await loadScenario(file, io);
  if (loaded.design === undefined) return refuse(loaded.file, loaded);
  const patch = loaded.design.patches.find(({ id }) => id === options.patch);
  if (patch === undefined) {
    const names = loaded.design.patches.map(({ id }) => id);
    const message = `the scenario has no patch ${JSON.stringify(options.patch)}`;
    const hint = didYouMean(options.patch, names) ?? `known patches: ${names.join(', ')}`;
    return refuse(loaded.file, { findings: [errorFinding('unknown-name', '--patch', message, hint)] });
  }
  const input = await readInput(options.points, io);
  if ('finding' in input) return refuse(input.name, { findings: [input.finding] });
  const table = readNumericTable(input.text, input.name, ['x_mm', 'y_mm']);
  if ('findings' in table) return refuse(input.name, { findings: table.findings, text: input.text });
  const [xs, ys] = table.columns;
  await writeRows(patch, xs, ys, table.texts, options, io);
  return EXIT.fine;
}

/** Resolves when the stream takes more, or never will. */
const drained = (stream: Io['stdout']): Promise<void> =>
  new Promise((resume) => {
    const done = (): void => {
      stream.off('drain', done).off('close', done);
      resume();
    };
    stream.on('drain', done).on('close', done);
  });

async function writeRows(
  patch: DesignedPatch,
  xs: Float64Array,
  ys: Float64Array,
  texts: readonly (readonly string[])[],
  options: PhaseOptions,
  io: Io,
): Promise<void> {
  const phases = patch.phase.phases(xs, ys);
  const { gx, gy } = patch.phase.gradients(xs, ys);
  const periodAt = (i: number): number => 1 / Math.sqrt(gx[i] * gx[i] + gy[i] * gy[i]);
  if (options.json) {
    const points = Array.from(xs, (x, i) => ({
      x_mm: x,
      y_mm: ys[i],
      phase_waves: phases[i],
      period_um: periodAt(i) * UM_PER_MM,
    }));
    io.stdout.write(jsonText({ patch: patch.id, order: patch.order, points }));
    return;
  }
  io.stdout.write('x_mm,y_mm,phase_waves,period_um\n');
  for (let start = 0; start < xs.length; start += ROWS_AT_ONCE) {
    const rows: string[] = [];
    for (let i = start; i < Math.min(xs.length, start + ROWS_AT_ONCE); i++) {
      rows.push(`${texts[0][i]},${texts[1][i]},${phaseField(phases[i])},${periodField(periodAt(i))}\n`);
    }
    if (!io.stdout.write(rows.join(''))) await drained(io.stdout);
    if (!io.stdout.writable) return;
  }
}
