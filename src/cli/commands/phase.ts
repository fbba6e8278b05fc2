/** `phase FILE --patch ID --points CSV`: phase and period at points of the user's, as CSV on stdout. */

import { tmpdir } from 'node:os';
import type { DesignedPatch } from '../../design/design.ts';
import { isSystemError, unwritable } from '../../disk/not-writable.ts';
import { Spool } from '../../disk/spool.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { didYouMean } from '../../quantity/nearest-name.ts';
import { type NumericRow, NumericTable, type WantedColumn } from '../../reading/tables/numeric-table.ts';
import { TableFaults } from '../../reading/tables/table-faults.ts';
import { type Register, type TalkOptions, talkative } from '../command.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { loadScenario } from '../load-scenario.ts';
import { feedInput } from '../read-input.ts';
import { refusing } from '../say.ts';
import { PhaseRows } from './phase-rows.ts';

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
        'order 1: E_out = E_in + m lambda Phi, zero at the patch centre before any bias. It is printed even if a rule is broken.\n' +
        'Any number of points in bounded memory: rows are kept in a temporary file (TMPDIR) until the last point was read, so that a table\n' +
        'with a bad row, from a file or from standard input, prints none. Other units by the column name: x_um, x [in].',
    )
    .addHelpText('after', '\nExample:\n  datumlight phase scenario.yaml --patch north-1 --points points.csv')
    .action((file: string, options: PhaseOptions) => end(phase(file, options, io)));

async function phase(file: string, options: PhaseOptions, io: Io): Promise<ExitCode> {
  const refuse = refusing(options, io);
  const loaded = await loadScenario(file, io);
  if (loaded.design === undefined) return refuse(loaded.file, loaded);
  const patch = loaded.design.patches.find(({ id }) => id === options.patch);
  if (patch === undefined) {
    const names = loaded.design.patches.map(({ id }) => id);
    const message = `the scenario has no patch ${JSON.stringify(options.patch)}`;
    const hint = didYouMean(options.patch, names) ?? `known patches: ${names.join(', ')}`;
    return refuse(loaded.file, { findings: [errorFinding('unknown-name', '--patch', message, hint)] });
  }
  const spool = new Spool();
  try {
    const { name, findings } = await spoolRows(patch, spool, options, io);
    if (findings.length > 0) return refuse(name, { findings });
    await copyOut(spool, io.stdout);
    return EXIT.fine;
  } finally {
    spool.close();
  }
}

const COLUMNS: readonly WantedColumn[] = [
  { stem: 'x', holds: 'length' },
  { stem: 'y', holds: 'length' },
];

/** Nothing is printed before the last point was read: a fault in the last row leaves no rows of the others behind. */
async function spoolRows(
  patch: DesignedPatch,
  spool: Spool,
  options: PhaseOptions,
  io: Io,
): Promise<{ readonly name: string; readonly findings: readonly Finding[] }> {
  const faults = new TableFaults(options.points === '-' ? '<stdin>' : options.points);
  let unwritten: Finding | undefined;
  const rows = new PhaseRows(patch, options.json === true, (text) => {
    unwritten ??= keptIn(spool, text);
  });
  const take = ({ values: [x, y], fields }: NumericRow): void => {
    // Of a table with a fault only the other faults are of use.
    if (faults.count > 0) return;
    const [xText, yText] = fields.map(({ text }, k) => (table.isPlain(k) ? text : undefined));
    rows.add(x!, y!, xText, yText);
  };
  const wanted = (): readonly WantedColumn[] => COLUMNS;
  const table = new NumericTable(faults, {
    wanted,
    rows: 'points',
    mostRows: Number.POSITIVE_INFINITY,
    take,
  });
  const { name, finding } = await feedInput(
    options.points,
    io,
    (piece) => table.push(piece) && unwritten === undefined,
  );
  if (finding !== undefined) return { name, findings: [finding] };
  const findings = unwritten === undefined ? table.end() : [];
  if (findings.length === 0) rows.end();
  return { name, findings: unwritten === undefined ? findings : [unwritten] };
}

/** Why the text cannot be kept, nothing if it is. */
function keptIn(spool: Spool, text: string): Finding | undefined {
  try {
    spool.add(text);
    return undefined;
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return unwritable(tmpdir(), error);
  }
}

async function copyOut(spool: Spool, stdout: Io['stdout']): Promise<void> {
  for (const piece of spool.pieces()) {
    if (!stdout.write(piece)) await drained(stdout);
    if (!stdout.writable) return;
  }
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
