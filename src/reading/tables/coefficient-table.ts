/**
 * A coefficient table that came back, as CSV, to a CoefficientTable, or to findings with line and column.
 *
 * Taken: columns and rows in any order; commas, semicolons or tabs between fields; fields in quotes (RFC 4180, on one line);
 * the unit of each quantity in its column's name: `coefficient_waves`, `_rad`, `_deg`, or `_nm`, `_um`, `_mm` of path at order 1;
 * `unitRadius` or `unitDiameter` (older tables: `normRadius`, `normDiameter`), `centreX` and `centreY` in `_nm`, `_um`, `_mm`, `_cm`, `_m`, `_in`. `index` and `order` may
 * be left out; other columns are passed over with a warning. Lines that start with `#` are the head: a sentence of the
 * convention there (see statedConvention) is taken at its word.
 * Not taken: decimal commas, fields across lines.
 */
import type { Finding } from '../../finding/finding.ts';
import { nearestName } from '../../quantity/nearest-name.ts';
import type { CoefficientTable, TableConvention } from '../../scenario/coefficient-table.ts';
import { TableBlocks } from './coefficient-blocks.ts';
import { columnNamed, type TableColumn, type TableColumns } from './coefficient-columns.ts';
import { placeAt, type Spot, TableFaults } from './table-faults.ts';
import { rowsOf, wholeLine } from './table-rows.ts';
import type { TextField } from './text-fields.ts';

interface TableReading {
  /** Undefined where a finding is an error. */
  readonly table: CoefficientTable | undefined;
  readonly findings: readonly Finding[];
}

/** Rows read; a table of ten thousand patches of degree eight has half as many. */
const MOST_ROWS = 1_000_000;

/** `wavelength`: mm, for a coefficient given as a length of path. */
export function readCoefficientTable(text: string, file: string, wavelength: number): TableReading {
  const faults = new TableFaults(file);
  const failed = (): TableReading => ({ table: undefined, findings: faults.closed() });
  const { reader, head, rows } = rowsOf(text, MOST_ROWS, faults);
  if (head === undefined) {
    const hint = 'give the table from the package, or one with the same columns';
    if (faults.count === 0) faults.add({ line: 0, at: 0, width: 1 }, 'the table is empty', hint);
    return failed();
  }
  const convention = statedConvention(reader.comments.join('\n'));
  const { columns, ignored } = readHead(reader.fields(head), wholeLine(head), wavelength, faults);
  if (columns === undefined) return failed();
  const blocks = new TableBlocks(columns, convention, faults, file);
  const beyond = rows[MOST_ROWS];
  if (beyond !== undefined) {
    faults.tooMany(
      wholeLine(beyond),
      `the table has more than ${MOST_ROWS} rows`,
      `at most ${MOST_ROWS}; split it`,
    );
    return failed();
  }
  for (const row of rows) {
    if (row.texts.length === columns.count) blocks.add(reader.fields(row));
    else reader.misfit(row, columns.count);
  }
  if (blocks.isEmpty && faults.count === 0)
    faults.add(wholeLine(head), 'the table has a header but no rows', 'give the rows of the table');
  const read = blocks.closed();
  if (faults.list.length > 0) return failed();
  const findings = ignored.map((field): Finding => {
    const message = `column ${JSON.stringify(field.text)} is ignored`;
    const place = placeAt(file, field);
    const hint = 'it is ignored in the comparison';
    return { severity: 'warning', rule: 'bad-table', where: file, message, hint, place };
  });
  return { table: { convention, blocks: read }, findings };
}

const NEEDED = ['patch', 'basis', 'i', 'j', 'coefficient', 'unitRadius', 'centreX', 'centreY'] as const;
const AS_HEAD =
  'the header must be patch,basis,index,i,j,coefficient_waves,unitRadius_mm,centreX_mm,centreY_mm,order, in any order';

/** The columns, undefined where a fault is reported; and the fields of those that are passed over. */
function readHead(
  fields: readonly TextField[],
  line: Spot,
  wavelength: number,
  faults: TableFaults,
): { readonly columns: TableColumns | undefined; readonly ignored: readonly TextField[] } {
  const found = new Map<string, TableColumn>();
  const unknown: TextField[] = [];
  fields.forEach((field, position) => {
    const column = columnNamed(field.text, position, wavelength);
    if (column === undefined) unknown.push(field);
    else if (typeof column === 'string') faults.add(field, column, AS_HEAD);
    else if (found.has(column.quantity)) {
      const message = `column ${JSON.stringify(field.text)} repeats ${column.quantity}`;
      faults.add(field, message, 'keep one of the two');
    } else found.set(column.quantity, column);
  });
  const missing = NEEDED.filter((name) => !found.has(name));
  if (missing.length > 0 && fields.every(({ text }) => text === '' || Number.isFinite(Number(text)))) {
    faults.add(line, 'the first line contains numbers, not column names', AS_HEAD);
    return { columns: undefined, ignored: [] };
  }
  for (const name of faults.list.length > 0 ? [] : missing) {
    const texts = unknown.map(({ text }) => text);
    const near = nearestName(name, texts);
    const field = unknown.find(({ text }) => text === near);
    const message =
      field === undefined
        ? `there is no column for ${name}`
        : `${JSON.stringify(field.text)} is not a known column; did you mean ${name}?`;
    faults.add(field ?? line, message, AS_HEAD);
  }
  if (faults.list.length > 0) return { columns: undefined, ignored: [] };
  return {
    columns: { count: fields.length, of: (quantity) => found.get(quantity) },
    ignored: unknown.filter(({ text }) => text !== ''),
  };
}

/**
 * What the head of a coefficient table says of signs, axes and orders, in the sentences that the package's own head uses:
 *   E_out(P) = E_in(P) + m * lambda * Phi(P)      or with - for the opposite sign
 *   x right and y up as seen from the part side   or left, down; or from the interferometer side, which turns x round
 *   waves at order 1                              or at order m: the phase times the working order
 * A sentence that is not there, or says something else, leaves the package's own convention.
 */
function statedConvention(head: string): TableConvention {
  const sign = /E_out\s*(?:\(P\))?\s*=\s*E_in\s*(?:\(P\))?\s*([+\-\u2212])\s*m\b/.exec(head)?.[1];
  const axes = /x (right|left) and y (up|down) as seen from the (part|interferometer) side/.exec(head);
  const side = axes?.[3] === 'interferometer' ? -1 : 1;
  const at = /waves at order (1|m)\b/.exec(head)?.[1];
  return {
    sign: sign === undefined || sign === '+' ? 1 : -1,
    xRuns: (axes?.[1] === 'left') !== side < 0 ? -1 : 1,
    yRuns: axes?.[2] === 'down' ? -1 : 1,
    phaseAt: at === 'm' ? 'order m' : 'order 1',
  };
}
