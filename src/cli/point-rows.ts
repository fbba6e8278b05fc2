/**
 * The user's points, x and y, as rows in blocks: read twice, first all of them for their faults, then again for what is made of them, so that
 * no row is answered before the whole table is known to be sound. mm, substrate frame.
 */
import { tmpdir } from 'node:os';
import { isSystemError, unwritable } from '../disk/not-writable.ts';
import { NotKept, type Repeatable, repeatable } from '../disk/repeatable.ts';
import { TextPieces, UnusableInput, unreadable } from '../disk/text-file.ts';
import { errorFinding, type Finding } from '../finding/finding.ts';
import { withAsciiMinus } from '../reading/tables/number-field.ts';
import { NumericTable, type WantedColumn } from '../reading/tables/numeric-table.ts';
import { TableFaults } from '../reading/tables/table-faults.ts';
import type { Io } from './io.ts';

const WANTED: readonly WantedColumn[] = [
  { stem: 'x', holds: 'length' },
  { stem: 'y', holds: 'length' },
];

export interface PointRows {
  /** Throws UnusableInput where the input is no longer what it was. */
  blocks(): AsyncIterable<readonly PointRow[]>;
  close(): void;
}

export interface PointRow {
  readonly x: number;
  readonly y: number;
  /** As written, where that is in mm. */
  readonly texts: readonly [string | undefined, string | undefined];
}

/** The points, or why there are none; `name` is that of the input. */
export async function pointRows(
  file: string,
  io: Io,
): Promise<
  { readonly name: string } & ({ readonly points: PointRows } | { readonly findings: readonly Finding[] })
> {
  const name = file === '-' ? '<stdin>' : file;
  let source: Repeatable | undefined;
  try {
    source = await repeatable(file, io.stdin);
    const faults = new TableFaults(name);
    let count = 0;
    for await (const rows of blocksOf(source, name, faults)) count += rows.length;
    if (faults.count === 0) return { name, points: pointsOf(source, count, name) };
    source.close();
    return { name, findings: faults.closed() };
  } catch (error) {
    source?.close();
    if (error instanceof UnusableInput) return { name, findings: [error.finding] };
    if (error instanceof NotKept) return { name, findings: [unwritable(tmpdir(), error.reason)] };
    if (!isSystemError(error)) throw error;
    return { name, findings: [unreadable(name, error).finding] };
  }
}

const pointsOf = (source: Repeatable, count: number, name: string): PointRows => ({
  close: () => source.close(),
  async *blocks() {
    const faults = new TableFaults(name);
    let read = 0;
    for await (const rows of blocksOf(source, name, faults)) {
      read += rows.length;
      if (faults.count > 0 || read > count) break;
      yield rows;
    }
    if (faults.count === 0 && read === count) return;
    const message = 'changed while it was read: what was printed is not to be used';
    throw new UnusableInput(errorFinding('unreadable-file', name, message, 'run the command again'));
  },
});

/** The rows of one piece after another, until a fault makes the rest useless. */
async function* blocksOf(
  source: Repeatable,
  name: string,
  faults: TableFaults,
): AsyncIterable<readonly PointRow[]> {
  let rows: PointRow[] = [];
  const table = new NumericTable(faults, {
    wanted: () => WANTED,
    rows: 'points',
    mostRows: Number.POSITIVE_INFINITY,
    take: ({ values, fields }) => {
      const written = (k: 0 | 1) => (table.isPlain(k) ? withAsciiMinus(fields[k]!.text) : undefined);
      rows.push({ x: values[0]!, y: values[1]!, texts: [written(0), written(1)] });
    },
  });
  const text = new TextPieces(name);
  for await (const piece of source.pieces()) {
    const goesOn = table.push(text.piece(piece));
    yield rows;
    rows = [];
    if (!goesOn) return;
  }
  table.push(text.piece());
  table.end();
  yield rows;
}
