/**
 * The user's points, x and y, as rows in blocks: read twice, first all of them for their faults, then again for what is made of them, so that
 * no row is answered before the whole table is known to be sound. mm, substrate frame.
 */
import { type Repeatable, repeatable } from '../disk/repeatable.ts';
import { notUtf8, unreadable } from '../disk/text-file.ts';
import { errorFinding, type Finding } from '../finding/finding.ts';
import { type NumericRow, NumericRows } from '../reading/tables/numeric-table.ts';
import { TableFaults } from '../reading/tables/table-faults.ts';
import type { Io } from './io.ts';

const WANTED = [
  { stem: 'x', is: 'length' },
  { stem: 'y', is: 'length' },
] as const;

export interface PointRows {
  readonly count: number;
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
    for await (const rows of decoded(source, faults)) count += rows.length;
    if (faults.count === 0) return { name, points: pointsOf(source, count, name) };
    source.close();
    return { name, findings: faults.closed() };
  } catch (error) {
    source?.close();
    if (error instanceof NotText)
      return { name, findings: [errorFinding('unreadable-file', name, error.message, 'save it as UTF-8')] };
    const input = unreadable(name, error);
    if (!('finding' in input)) throw error;
    return { name, findings: [input.finding] };
  }
}

class NotText extends Error {}

const pointsOf = (source: Repeatable, count: number, name: string): PointRows => ({
  count,
  close: () => source.close(),
  async *blocks() {
    const faults = new TableFaults(name);
    const table = { columns: undefined as NumericRows['columns'] };
    let read = 0;
    for await (const rows of decoded(source, faults, table)) {
      const { columns } = table;
      if (columns === undefined) continue;
      const isMm = columns.columns.map(({ scale }) => scale === 1);
      const written = (row: NumericRow, k: 0 | 1) => (isMm[k] ? columns.text(row.row, k) : undefined);
      read += rows.length;
      yield rows.map((row): PointRow => {
        return { x: row.values[0]!, y: row.values[1]!, texts: [written(row, 0), written(row, 1)] };
      });
    }
    if (faults.count > 0 || read !== count) throw new Error(`${name} changed while it was read`);
  },
});

async function* decoded(
  source: Repeatable,
  faults: TableFaults,
  table: { columns: NumericRows['columns'] } = { columns: undefined },
): AsyncIterable<readonly NumericRow[]> {
  const rows = new NumericRows(() => WANTED, Number.POSITIVE_INFINITY, faults);
  const decoder = new TextDecoder('utf-8', { fatal: true });
  const text = (bytes?: Uint8Array): string => {
    try {
      return bytes === undefined ? decoder.decode() : decoder.decode(bytes, { stream: true });
    } catch {
      throw new NotText('is not UTF-8 text');
    }
  };
  let isFirst = true;
  for await (const piece of source.pieces()) {
    const why = isFirst ? notUtf8(piece) : undefined;
    if (why !== undefined) throw new NotText(why);
    isFirst = false;
    const read = rows.push(text(piece));
    table.columns = rows.columns;
    yield read;
  }
  const last = [...rows.push(text()), ...rows.end()];
  table.columns = rows.columns;
  yield last;
}
