/** What came of the mutants: a table by room, and the survivors. */
import { type Mutant, roomOf } from './sites.ts';
import type { Outcome, Status } from './trial.ts';

export interface Result extends Omit<Outcome, 'status'> {
  readonly mutant: Mutant;
  readonly status: Status | 'equivalent';
  readonly seconds: number;
  /** Why an equivalent one cannot be caught, or what a named one does to a user. */
  readonly reason?: string;
}

const COLUMNS = ['caught', 'timeout', 'survived', 'equivalent', 'invalid'] as const;

interface Row {
  readonly room: string;
  readonly drawn: number;
  readonly counts: readonly number[];
  /** Of those that a test could catch, the part that one did, in percent. */
  readonly share: string;
}

function rowOf(room: string, results: readonly Result[]): Row {
  const counts = COLUMNS.map((status) => results.filter((result) => result.status === status).length);
  const [caught, timeout, survived] = counts;
  const could = caught + timeout + survived;
  return {
    ...{ room, drawn: results.length, counts },
    share: could === 0 ? '–' : `${((100 * (caught + timeout)) / could).toFixed(0)} %`,
  };
}

const rows = (results: readonly Result[]): readonly Row[] => {
  const rooms = [...new Set(results.map(({ mutant }) => roomOf(mutant.file)))].sort();
  const each = rooms.map((room) =>
    rowOf(
      room,
      results.filter(({ mutant }) => roomOf(mutant.file) === room),
    ),
  );
  return [...each, rowOf('all', results)];
};

export const survivors = (results: readonly Result[]): readonly Result[] =>
  results.filter(({ status }) => status === 'survived');

/** One mutant in words: `src/optics/grating.ts:12: arithmetic: + → -`, and the line. */
export const inWords = ({ file, line, operator, change, lineText }: Mutant): string =>
  `${file}:${line}: ${operator}: ${change}\n    ${lineText}`;

export function textReport(results: readonly Result[]): string {
  const table = [
    ['room', 'drawn', ...COLUMNS, 'of those that can be caught'],
    ...rows(results).map(({ room, drawn, counts, share }) => [room, drawn, ...counts, share].map(String)),
  ];
  const widths = table[0].map((_, i) => Math.max(...table.map((row) => row[i].length)));
  const lines = table.map((row) =>
    row.map((cell, i) => (i === 0 ? cell.padEnd(widths[i]) : cell.padStart(widths[i]))).join('  '),
  );
  const left = survivors(results).map(({ mutant }) => inWords(mutant));
  return [...lines, ...(left.length === 0 ? [] : ['', 'Survived:', ...left]), ''].join('\n');
}

export function jsonReport(results: readonly Result[]): string {
  const byRoom = Object.fromEntries(
    rows(results).map(({ room, drawn, counts, share }) => [
      room,
      { drawn, ...Object.fromEntries(COLUMNS.map((status, i) => [status, counts[i]])), share },
    ]),
  );
  const mutants = results.map(({ mutant, ...outcome }) => {
    const { file, line, operator, change, lineText, key } = mutant;
    return { file, line, operator, change, lineText, key, ...outcome };
  });
  return `${JSON.stringify({ byRoom, mutants }, undefined, 2)}\n`;
}
