/** A coefficients.csv as rows, and what careless hands do to one: each change works on the text's numbers alone. */

export interface CsvTable {
  head: string[];
  columns: string[];
  rows: Record<string, string>[];
}

export function csvTable(text: string): CsvTable {
  const lines = text.trimEnd().split('\n');
  const [columns, ...rows] = lines.filter((line) => !line.startsWith('#')).map((line) => line.split(','));
  return {
    head: lines.filter((line) => line.startsWith('#')),
    columns: columns!,
    rows: rows.map((fields) => Object.fromEntries(columns!.map((name, k) => [name, fields[k]!]))),
  };
}

export const csvText = ({ head, columns, rows }: CsvTable, separator = ','): string =>
  `${[...head, columns.join(separator), ...rows.map((row) => columns.map((name) => row[name]).join(separator))].join('\n')}\n`;

type Row = Record<string, string>;
const C = 'coefficient_waves';
/** c1 and c2 of a roof are plain numbers. */
const isPhase = ({ basis, i, j }: Row): boolean => basis !== 'roof' || (i === '0' && j === '0');

const scaleBy = (row: Row, column: string, factor: number): void => {
  row[column] = String(Number(row[column]) * factor);
};
const eachPhase = (factor: (row: Row) => number) => (table: CsvTable) => {
  for (const row of table.rows) if (isPhase(row)) scaleBy(row, C, factor(row));
};

/** Whether a term changes its sign with x or y: odd powers, and Zernike sines and cosines by their angle. */
function isOdd({ basis, i, j }: Row, axis: 'x' | 'y'): boolean {
  const m = Number(j);
  if (basis !== 'zernike') return Number(axis === 'x' ? i : j) % 2 !== 0;
  if (axis === 'y') return m < 0;
  return m >= 0 ? m % 2 !== 0 : m % 2 === 0;
}
const mirror = (axis: 'x' | 'y') => (table: CsvTable) => {
  for (const row of table.rows) if (isOdd(row, axis)) scaleBy(row, C, -1);
};

/** By the name of the step that undoes them. */
export const CARELESS: Readonly<Record<string, (table: CsvTable) => void>> = {
  'sign-flipped': eachPhase(() => -1),
  'x-mirrored': mirror('x'),
  'y-mirrored': mirror('y'),
  'x-y-swapped': ({ rows }) => {
    for (const row of rows) {
      if (row.basis !== 'zernike') {
        [row.i, row.j] = [row.j!, row.i!];
        continue;
      }
      // x for y takes θ to a quarter turn less θ: cos mθ and sin mθ go over into each other and back by m
      const m = Number(row.j);
      const turned = ((Math.abs(m) % 4) + 4) % 4;
      if (turned === 1 || turned === 3) row.j = String(-m);
      const negative = m >= 0 ? turned === 2 || turned === 3 : turned === 0 || turned === 3;
      if (negative) scaleBy(row, C, -1);
    }
  },
  'radius-doubled': ({ rows }) => {
    for (const row of rows) scaleBy(row, 'unitRadius_mm', 2);
  },
  'radius-halved': ({ rows }) => {
    for (const row of rows) scaleBy(row, 'unitRadius_mm', 0.5);
  },
  'radians-for-waves': eachPhase(() => 2 * Math.PI),
  'waves-for-radians': eachPhase(() => 0.5 / Math.PI),
  'order-ignored': eachPhase((row) => Number(row.order)),
  'order-applied-twice': eachPhase((row) => 1 / Number(row.order)),
  'piston-lost': (table) => {
    table.rows = table.rows.filter(({ basis, i, j }) => basis === 'roof' || i !== '0' || j !== '0');
  },
  'unit-peak-zernikes': ({ rows }) => {
    for (const row of rows) {
      const factor = Math.sqrt((Number(row.i) + 1) * (row.j === '0' ? 1 : 2));
      if (row.basis === 'zernike') scaleBy(row, C, factor);
    }
  },
};
