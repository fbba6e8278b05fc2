/** What happens to the rows of a coefficient table at a fabricator's: changes of its text's numbers, by code of the tests alone. */
import { CARELESS } from '../../cli/support/coefficient-csv.ts';
import type { Change, Row } from './returned-table.ts';

export const C = 'coefficient_waves';
export const RADIUS = 'unitRadius_mm';
export const CENTRE = ['centreX_mm', 'centreY_mm'];
export const LENGTHS = [RADIUS, ...CENTRE];

export const times = (row: Row, column: string, by: number): void => {
  row[column] = String(Number(row[column]) * by);
};
export const each =
  (change: (row: Row) => void, of: (row: Row) => boolean = () => true): Change =>
  ({ rows }) =>
    rows.filter(of).forEach(change);
export const lengths = (columns: readonly string[], by: number): Change =>
  each((row) => {
    for (const column of columns) times(row, column, by);
  });
/** A roof's c1 and c2 are slopes. */
export const isPhase = ({ basis, index }: Row): boolean => basis !== 'roof' || index === '0';
export const phases = (by: (row: Row) => number): Change => each((row) => times(row, C, by(row)), isPhase);
export const inOrder =
  (...changes: readonly Change[]): Change =>
  (table) => {
    for (const change of changes) change(table);
  };
export const careless = (...steps: readonly string[]): Change =>
  inOrder(...steps.map((step) => CARELESS[step]!));
export const isTerm = (patch: string, i: string, j: string) => (row: Row) =>
  row.patch === patch && row.basis === 'xy' && row.i === i && row.j === j;
export const without =
  (is: (row: Row) => boolean): Change =>
  (table) => {
    table.rows = table.rows.filter((row) => !is(row));
  };
/** A column moved against the others by so many rows; what falls out at one end comes in at the other. */
export const moved =
  (column: string, by: number): Change =>
  ({ rows }) => {
    const values = rows.map((row) => row[column]!);
    rows.forEach((row, k) => {
      row[column] = values[(k - by + rows.length) % rows.length]!;
    });
  };
export const renamed = (names: Readonly<Record<string, string>>): Change =>
  each((row) => {
    row.patch = names[row.patch!] ?? row.patch!;
  });

/** Orders of Zernike rows as the textbooks list them: Noll 1976, table I; the fringe set. The first 15 and 16. */
export const NOLL = '0,0 1,1 1,-1 2,0 2,-2 2,2 3,-1 3,1 3,-3 3,3 4,0 4,2 4,-2 4,4 4,-4'.split(' ');
export const FRINGE = '0,0 1,1 1,-1 2,0 2,2 2,-2 3,1 3,-1 4,0 3,3 3,-3 4,2 4,-2 5,1 5,-1 6,0'.split(' ');
/** The rows, in the order of ISO 24157, take the coefficients in another order; what lies past the list is left out. */
export const listed =
  (order: readonly string[], norm: (n: number, m: number) => number): Change =>
  (table) => {
    const rows = table.rows.filter(({ basis }) => basis === 'zernike');
    const values = new Map(rows.map(({ i, j, [C]: value }) => [`${i},${j}`, Number(value)]));
    rows.forEach((row, k) => {
      const [n, m] = (order[k] ?? '').split(',').map(Number) as [number, number];
      row[C] = k < order.length ? String((values.get(order[k]!) ?? 0) * norm(n, m)) : '';
    });
    table.rows = table.rows.filter(({ [C]: value }) => value !== '');
  };

/** Linear terms alone, turned: all that a small turn of a steep pattern is at first, and enough to be wrong by. */
export function turnedTerms(angle: number): Change {
  return ({ rows }) => {
    for (const row of rows) {
      if (row.basis !== 'xy' || Number(row.i) + Number(row.j) !== 1) continue;
      const other = rows.find(
        (one) => one.patch === row.patch && one.basis === 'xy' && one.i === row.j && one.j === row.i,
      )!;
      if (row.i !== '1') continue;
      const [x, y] = [Number(row[C]), Number(other[C])];
      row[C] = String(Math.cos(angle) * x - Math.sin(angle) * y);
      other[C] = String(Math.sin(angle) * x + Math.cos(angle) * y);
    }
  };
}
