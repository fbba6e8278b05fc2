/** Tables for the fuzz: rows of cells with cells, rows and columns changed, written in every manner that a spreadsheet has. */
import fc from 'fast-check';

/** A row of one cell that starts with `#` is a comment; the first other row is the head. */
export type Rows = readonly (readonly string[])[];

export const rowsOf = (text: string): Rows =>
  text
    .trimEnd()
    .split('\n')
    .map((line) => (line.startsWith('#') ? [line] : line.split(',')));

const isComment = (row: readonly string[]): boolean => row[0]?.startsWith('#') === true;

/** What stands in a cell by mistake. */
const ODD_CELLS = [
  '',
  ' ',
  '0',
  '-0',
  '1e999',
  '-1e7',
  '1e-300',
  'NaN',
  'Infinity',
  '1,5',
  '1.2.3',
  '0x10',
  '"',
  '"a""b"',
  '=1+1',
  '@SUM(A1)',
  '\u202e',
  '\u0000',
  '../x',
  'constructor',
  '__proto__',
  'x'.repeat(300),
  'nobody',
];

const change = fc.record({
  kind: fc.oneof(
    { weight: 3, arbitrary: fc.constantFrom('nudge', 'odd') },
    {
      weight: 1,
      arbitrary: fc.constantFrom(
        'drop cell',
        'drop row',
        'double row',
        'move row',
        'swap columns',
        'scale column',
        'rename',
      ),
    },
  ),
  row: fc.nat(),
  column: fc.nat(),
  other: fc.nat(),
  odd: fc.constantFrom(...ODD_CELLS),
  factor: fc.oneof(fc.double({ min: 0.9, max: 1.1, noNaN: true }), fc.constantFrom(-1, 0, 25.4, 1000, 1e-6)),
  name: fc.constantFrom(
    'x',
    'x_m',
    'y_mm',
    'order',
    'coefficient_nm',
    'unitRadius_in',
    'sx_mm',
    'case',
    'X_MM',
    '',
  ),
});
type Change = typeof change extends fc.Arbitrary<infer T> ? T : never;

const nudged = (cell: string, factor: number): string =>
  /^[+-]?\d/.test(cell) ? String(Number.parseFloat(cell) * factor) : cell;

function changed(
  rows: Rows,
  { kind, row: askedRow, column: askedColumn, other, odd, factor, name }: Change,
): Rows {
  const table = rows.filter((row) => !isComment(row));
  const head = table[0];
  if (head === undefined || head.length === 0) return rows;
  const chosen = table[askedRow % table.length]!;
  const column = askedColumn % head.length;
  const second = other % head.length;
  const each = (make: (row: readonly string[]) => Rows): Rows =>
    rows.flatMap((row) => (row === chosen ? make(row) : [row]));
  const inTable = (make: (row: readonly string[]) => readonly string[]): Rows =>
    rows.map((row) => (isComment(row) ? row : make(row)));
  switch (kind) {
    case 'nudge':
      return each((row) => [row.with(column % row.length, nudged(row[column % row.length]!, factor))]);
    case 'odd':
      return each((row) => [row.with(column % row.length, odd)]);
    case 'drop cell':
      return each((row) => [row.filter((_, k) => k !== column)]);
    case 'drop row':
      return each(() => []);
    case 'double row':
      return each((row) => [row, row]);
    case 'move row':
      return [...each(() => []), chosen];
    case 'swap columns':
      return inTable((row) =>
        row.map((cell, k) =>
          k === column ? (row[second] ?? '') : k === second ? (row[column] ?? '') : cell,
        ),
      );
    case 'scale column':
      return inTable((row) => row.map((cell, k) => (k === column ? nudged(cell, factor) : cell)));
    default:
      return rows.map((row) => (row === head ? row.map((cell, k) => (k === column ? name : cell)) : row));
  }
}

/** None to three changes, often none. */
export const withCellsChanged = (rows: fc.Arbitrary<Rows>): fc.Arbitrary<Rows> =>
  fc
    .tuple(
      rows,
      fc.oneof(
        { weight: 1, arbitrary: fc.constant([]) },
        { weight: 2, arbitrary: fc.array(change, { minLength: 1, maxLength: 3 }) },
      ),
    )
    .map(([whole, changes]) => changes.reduce(changed, whole).filter((row) => row.length > 0));

const PLAIN = { separator: ',', lineEnd: '\n', mark: '', quoted: false, decimalComma: false };
const dialect = fc.oneof(
  { weight: 2, arbitrary: fc.constant(PLAIN) },
  {
    weight: 1,
    arbitrary: fc.record({
      separator: fc.constantFrom(',', ';', '\t'),
      lineEnd: fc.constantFrom('\n', '\r\n', '\r'),
      mark: fc.constantFrom('', '\ufeff'),
      quoted: fc.boolean(),
      decimalComma: fc.constantFrom(false, false, true),
    }),
  },
);

export const asTable = (rows: fc.Arbitrary<Rows>): fc.Arbitrary<Uint8Array> =>
  fc.tuple(rows, dialect).map(([all, { separator, lineEnd, mark, quoted, decimalComma }]) => {
    const cellText = (cell: string): string => {
      const text = decimalComma ? cell.replace(/(\d)\.(\d)/, '$1,$2') : cell;
      return quoted ? `"${text.replaceAll('"', '""')}"` : text;
    };
    const lines = all.map((row) => (isComment(row) ? row[0]! : row.map(cellText).join(separator)));
    return Buffer.from(mark + lines.map((line) => line + lineEnd).join(''));
  });
