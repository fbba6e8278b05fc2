/**
 * The one reader of tables: delimited text, in pieces of any size, to rows of fields, each with its place.
 *
 * Taken: commas, semicolons or tabs between fields, as the first row that is not a comment has them; fields in quotes (RFC 4180, on one
 * line); a byte-order mark; lines that end in LF, CRLF or CR. Lines that are empty are passed over, and so are comments, which start with
 * `#`, quoted or not; they are kept until the first row, the head. Not taken, and told: decimal commas, fields across lines.
 */
import type { Spot, TableFaults } from './table-faults.ts';
import { fieldsOf, type TextField } from './text-fields.ts';

const SEPARATORS = [',', ';', '\t'] as const;
type Separator = (typeof SEPARATORS)[number];
const SEPARATOR_WORDS: Readonly<Record<Separator, string>> = {
  ',': 'commas',
  ';': 'semicolons',
  '\t': 'tabs',
};

/** Characters of a line: a row of a table has some hundred. */
const LONGEST_LINE = 100_000;

export interface TableRow {
  /** Number of its line in the text, from 0. */
  readonly line: number;
  readonly source: string;
  /** Its fields, without quotes and the blanks around them. */
  readonly texts: readonly string[];
}

export class TableRows {
  /** The comments before the head. */
  readonly comments: string[] = [];
  readonly #faults: TableFaults;
  #separator: Separator | undefined;
  #left = '';
  #line = 0;
  #isStopped = false;

  constructor(faults: TableFaults) {
    this.#faults = faults;
  }

  /** What separates the fields; known once the head is read. */
  get separator(): string {
    return this.#separator ?? ',';
  }

  /** The rows that are whole now, the head first of all. */
  push(text: string): TableRow[] {
    if (this.#isStopped) return [];
    let all = this.#left + text;
    if (this.#line === 0 && all.startsWith('\uFEFF')) all = all.slice(1);
    // A CR at the end may be half of a CRLF.
    const ready = all.endsWith('\r') ? all.slice(0, -1) : all;
    const lines = ready.split(LINE_END);
    this.#left = lines.pop()! + all.slice(ready.length);
    if (this.#left.length > LONGEST_LINE) lines.push(this.#left);
    return lines.flatMap((line) => this.#row(line));
  }

  /** The last row, where no line end follows it. */
  end(): TableRow[] {
    const last = this.#left.replace(/\r$/, '');
    this.#left = '';
    return last === '' || this.#isStopped ? [] : this.#row(last);
  }

  /** Reads no further. */
  stop(): void {
    this.#isStopped = true;
  }

  /** A row's fields with their places. */
  fields({ source, line }: TableRow): readonly TextField[] {
    return fieldsOf(source, line, this.separator);
  }

  /** Says that a row has not as many fields as the head. */
  misfit(row: TableRow, columns: number): void {
    const message = `has ${row.texts.length} fields but the header has ${columns} columns`;
    const open = (row.source.match(/"/g)?.length ?? 0) % 2 === 1;
    const why = open
      ? '; close the quotes on the same line'
      : this.separator === ',' && row.texts.length > columns
        ? '; write decimal points, not commas'
        : '';
    this.#faults.add(wholeLine(row), message, `give one field per column${why}`);
  }

  #row(source: string): TableRow[] {
    const line = this.#line++;
    if (this.#isStopped) return [];
    if (source.length > LONGEST_LINE) {
      this.#faults.add(
        { line, at: 0, width: 1 },
        `has more than ${LONGEST_LINE} characters`,
        'end each row with a line end',
      );
      this.stop();
      return [];
    }
    if (COMMENT.test(source)) {
      if (this.#separator === undefined) this.comments.push(source);
      return [];
    }
    if (source.trim() === '') return [];
    if (this.#separator === undefined) {
      const separator = this.#separatorOf(source, line);
      if (separator === undefined) {
        this.stop();
        return [];
      }
      this.#separator = separator;
    }
    return [{ line, source, texts: textsOf(source, line, this.#separator) }];
  }

  #separatorOf(head: string, line: number): Separator | undefined {
    const bare = head.replace(/"[^"]*"/g, '');
    const present = SEPARATORS.filter((sign) => bare.includes(sign));
    if (present.length <= 1) return present[0] ?? ',';
    const words = present.map((sign) => SEPARATOR_WORDS[sign]).join(' and ');
    const width = head.length;
    this.#faults.add(
      { line, at: 0, width },
      `the header has ${words}`,
      'separate the columns by one of them',
    );
    return undefined;
  }
}

const LINE_END = /\r\n|\n|\r/;
const COMMENT = /^\s*"?#/;

/** Without places: nearly all rows need none. */
function textsOf(source: string, line: number, separator: string): readonly string[] {
  if (source.includes('"')) return fieldsOf(source, line, separator).map(({ text }) => text);
  const texts = source.split(separator);
  for (let k = 0; k < texts.length; k++) texts[k] = texts[k]!.trim();
  return texts;
}

export const wholeLine = ({ line, source }: Pick<TableRow, 'line' | 'source'>): Spot => ({
  line,
  at: 0,
  width: source.length,
});

/** The rows of a whole text, no more than `most` and one beyond. */
export function rowsOf(
  text: string,
  most: number,
  faults: TableFaults,
): { readonly reader: TableRows; readonly head: TableRow | undefined; readonly rows: readonly TableRow[] } {
  const reader = new TableRows(faults);
  const all: TableRow[] = [];
  for (let at = 0; at < text.length && all.length <= most + 1; at += PIECE)
    for (const row of reader.push(text.slice(at, at + PIECE))) all.push(row);
  all.push(...reader.end());
  const [head, ...rows] = all;
  return { reader, head, rows };
}

/** Characters read at once. */
const PIECE = 1 << 16;
