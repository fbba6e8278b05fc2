/**
 * A coefficient table that came back, as CSV, to a CoefficientTable, or to findings with line and column.
 *
 * Taken: what every table may have (table-scanner.ts), columns and rows in any order; the unit of each quantity in its column's name:
 * `coefficient_waves`, `_rad`, `_deg`, or `_nm`, `_um`, `_mm` of path at order 1; `unitRadius` or `unitDiameter` (older tables:
 * `normRadius`, `normDiameter`), `centreX` and `centreY` in `_nm`, `_um`, `_mm`, `_cm`, `_m`, `_in`. `index` and `order` may be left out;
 * other columns are passed over with a warning. Lines that start with `#` are the head: a sentence of the convention there (see
 * statedConvention) is taken at its word.
 * Not taken: decimal commas.
 */
import type { Finding } from '../../finding/finding.ts';
import { nearestName } from '../../quantity/nearest-name.ts';
import type { CoefficientTable, TableConvention } from '../../scenario/coefficient-table.ts';
import { TableBlocks } from './coefficient-blocks.ts';
import { columnNamed, type TableColumn, type TableColumns } from './coefficient-columns.ts';
import { placeAt, type Spot, TableFaults } from './table-faults.ts';
import { TableReader } from './table-reader.ts';
import type { TextField } from './table-scanner.ts';

interface TableReading {
  /** Undefined where a finding is an error. */
  readonly table: CoefficientTable | undefined;
  readonly findings: readonly Finding[];
}

/** Rows read; a table of ten thousand patches of degree eight has half as many. */
const MOST_ROWS = 1_000_000;

/** `wavelength`: mm, for a coefficient given as a length of path. */
export function readCoefficientTable(text: string, file: string, wavelength: number): TableReading {
  const reading = readAs(text, file, wavelength, 'as it stands');
  if (reading.table !== undefined) return reading;
  const [first] = reading.findings;
  for (const names of ['one row too low', 'one row too high'] as const) {
    if (first?.place === undefined || readAs(text, file, wavelength, names).table === undefined) continue;
    const message = `the names of the patches are ${names}: with them shifted back by one row, every row fits`;
    return { table: undefined, findings: [{ ...first, message, hint: 'shift the column patch back' }] };
  }
  return reading;
}

type Names = 'as it stands' | 'one row too low' | 'one row too high';

/** `names`: where the column of the patches stands against the others; each row then takes the name that was meant. */
function readAs(text: string, file: string, wavelength: number, names: Names): TableReading {
  const faults = new TableFaults(file);
  const comments: string[] = [];
  let blocks: TableBlocks | undefined;
  let ignored: readonly TextField[] = [];
  let patchAt = 0;
  let last: readonly TextField[] | undefined;
  const add = (fields: readonly TextField[], named: readonly TextField[]): void =>
    blocks?.add(fields.with(patchAt, named[patchAt]!));
  const reader = new TableReader(faults, {
    asHead: () => AS_HEAD,
    rows: 'coefficients',
    mostRows: MOST_ROWS,
    comment: (line) => comments.push(line),
    head: (fields, whole) => {
      const head = readHead(fields, whole, wavelength, faults);
      ignored = head.ignored;
      if (head.columns === undefined) return;
      patchAt = head.columns.of('patch')!.position;
      blocks = new TableBlocks(head.columns, faults, file);
    },
    row: (fields) => {
      if (names === 'as it stands') blocks?.add(fields);
      else if (names === 'one row too high') add(fields, last ?? fields);
      else if (last !== undefined) add(last, fields);
      last = fields;
    },
  });
  reader.push(text);
  reader.end();
  // the name of the last row is lost: it has more rows than one
  if (names === 'one row too low' && last !== undefined) add(last, last);
  const convention = statedConvention(comments.join('\n'));
  const read = blocks?.closed(convention) ?? [];
  if (faults.count > 0) return { table: undefined, findings: faults.closed() };
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
  for (const name of faults.count > 0 ? [] : missing) {
    const texts = unknown.map(({ text }) => text);
    const near = nearestName(name, texts);
    const field = unknown.find(({ text }) => text === near);
    const message =
      field === undefined
        ? `there is no column for ${name}`
        : `${JSON.stringify(field.text)} is not a known column; did you mean ${name}?`;
    faults.add(field ?? line, message, AS_HEAD);
  }
  if (faults.count > 0) return { columns: undefined, ignored: [] };
  return {
    columns: { of: (quantity) => found.get(quantity) },
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
