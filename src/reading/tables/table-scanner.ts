/**
 * The rows of a table in a text, given in pieces of any length: memory is that of one row.
 *
 * Fields are separated by commas, semicolons or tabs, whichever the first row has; a first row with two of them is refused. Where the
 * taker says so, a first row with none of them is separated by runs of blanks, and lines above it are passed over. Lines end with LF, CRLF or CR. A field in double quotes (RFC 4180) may hold separators, line ends, and quotes written twice. Blank lines
 * and lines that start with `#` are passed over, above the first row also those that start with `"#`, as a spreadsheet writes them.
 */
import { quotedFields, SEPARATORS } from './quoted-fields.ts';
import type { Spot, TableFaults } from './table-faults.ts';

/** Where it stands, its quotes included. */
export interface TextField extends Spot {
  /** Without quotes and the blanks around it. */
  readonly text: string;
}

interface RowTaker {
  row(fields: readonly TextField[], whole: Spot): void;
  comment?(line: string, whole: Spot): void;
  /** Whether a first row with no other separator is separated by blanks. */
  readonly blanks?: boolean;
  /** Whether this line stands above the first row and is none; asked of each line until one is. */
  isAbove?(whole: Spot): boolean;
}

/** Characters of a row, in quotes across lines or not: longer is not a table of this program. */
const LONGEST_ROW = 65_536;

/** The separator of a table whose fields stand apart by blanks. */
export const BLANKS = ' ';

export class TableScanner {
  readonly #faults: TableFaults;
  readonly #taker: RowTaker;
  #rest = '';
  #line = 0;
  #separator: string | undefined;
  #stopped = false;
  #isFirst = true;

  constructor(faults: TableFaults, taker: RowTaker) {
    this.#faults = faults;
    this.#taker = taker;
  }

  /** Of the first row; where it has one field only a comma, or blanks if those separate; undefined above it. */
  get separator(): string | undefined {
    return this.#separator;
  }

  /** Takes no more; whatever is pushed then is passed over. */
  stop(): void {
    this.#stopped = true;
  }

  /** The next piece; false where no more is wanted. */
  push(piece: string): boolean {
    const text = this.#isFirst ? piece.replace(/^\uFEFF/, '') : piece;
    if (piece !== '') this.#isFirst = false;
    if (!this.#stopped) this.#scan(this.#rest + text, false);
    return !this.#stopped;
  }

  /** After the last piece: the row that no line end closes. */
  end(): void {
    if (!this.#stopped) this.#scan(this.#rest, true);
    this.#rest = '';
  }

  #scan(text: string, isEnd: boolean): void {
    const ends = new LineEnds(text, isEnd);
    let start = 0;
    while (!this.#stopped && start < text.length) {
      const next = this.#take(text, start, ends, isEnd);
      if (next === undefined) break;
      start = next;
    }
    this.#rest = text.slice(start);
    if (this.#rest.length > LONGEST_ROW && !this.#stopped) this.#tooLong(this.#rest);
  }

  /** The line or row at `start`; where the next one starts, undefined where the text ends within. */
  #take(text: string, start: number, ends: LineEnds, isEnd: boolean): number | undefined {
    const end = ends.from(start);
    if (end === undefined) return undefined;
    const line = text.slice(start, end.at);
    if (line.length > LONGEST_ROW) {
      this.#tooLong(line);
      return undefined;
    }
    const isComment = this.#separator === undefined ? /^\s*"?#/.test(line) : line.trimStart().startsWith('#');
    const isPassed =
      isComment ||
      line.trim() === '' ||
      (this.#separator === undefined && this.#taker.isAbove?.(this.#wholeOf(line)) === true);
    if (isPassed) {
      if (isComment) this.#taker.comment?.(line, this.#wholeOf(line));
      this.#line++;
      return end.next;
    }
    if (!line.includes('"')) {
      if (this.#separator === undefined) this.#chooseFrom([line], line);
      if (!this.#stopped) this.#taker.row(this.#plainFields(line), this.#wholeOf(line));
      this.#line++;
      return end.next;
    }
    return this.#takeQuoted(text, start, ends, isEnd);
  }

  #takeQuoted(text: string, start: number, ends: LineEnds, isEnd: boolean): number | undefined {
    const row = quotedFields(text, start, this.#separator ?? SEPARATORS, isEnd, this.#line);
    if (row === undefined) return undefined;
    const first = text.slice(start, ends.from(start)!.at);
    if ('fault' in row) {
      this.#faults.add(row.fault.spot, row.fault.message, row.fault.hint);
      // Where its last quote is missing nothing after it can be told apart.
      if (row.fault.isOpen || this.#separator === undefined) this.stop();
      this.#line = row.fault.spot.line + 1;
      return ends.from(row.fault.at)?.next ?? text.length;
    }
    if (this.#separator === undefined) this.#chooseFrom(row.gaps, first);
    // Of several blanks in a row one separates, the others hold nothing.
    const fields = this.#separator === BLANKS ? row.fields.filter(({ width }) => width > 0) : row.fields;
    if (!this.#stopped) this.#taker.row(fields, this.#wholeOf(first));
    this.#line = row.nextLine;
    return row.next;
  }

  /** The separator of the first row; `unquoted` are the stretches of it outside quotes. */
  #chooseFrom(unquoted: readonly string[], line: string): void {
    const found = SEPARATORS.filter((sign) => unquoted.some((stretch) => stretch.includes(sign)));
    this.#separator = found[0] ?? (this.#taker.blanks ? BLANKS : ',');
    if (found.length < 2) return;
    const names = found.map((sign) => (sign === '\t' ? 'tabs' : JSON.stringify(sign)));
    const message = `the header has ${names.join(' and ')}: it is not clear which separates the columns`;
    const hint = 'use one of them throughout, and put a name that contains another in double quotes';
    this.#faults.add(this.#wholeOf(line), message, hint);
    this.stop();
  }

  #wholeOf = (lineText: string): Spot => ({ line: this.#line, at: 0, width: lineText.length, lineText });

  #plainFields(lineText: string): TextField[] {
    if (this.#separator === BLANKS)
      return [...lineText.matchAll(/\S+/g)].map(({ 0: text, index: at }) => {
        return { text, line: this.#line, at, width: text.length, lineText };
      });
    const fields: TextField[] = [];
    let start = 0;
    for (const part of lineText.split(this.#separator!)) {
      const text = part.trim();
      const lead = part.length === text.length ? 0 : part.length - part.trimStart().length;
      fields.push({ text, line: this.#line, at: start + lead, width: text.length, lineText });
      start += part.length + 1;
    }
    return fields;
  }

  #tooLong(text: string): void {
    const spot = { line: this.#line, at: 0, width: 1, lineText: text.slice(0, 200) };
    const message = `a row is longer than ${LONGEST_ROW} characters, or its quotes are not closed`;
    this.#faults.add(spot, message, 'give a table of text with one row per line; close each quote');
    this.stop();
  }
}

/** The line ends of a text, looked for in one sweep: LF, CRLF or CR. A CR at the very end of a piece may be half of a CRLF. */
class LineEnds {
  readonly #text: string;
  readonly #isEnd: boolean;
  #lf = -2;
  #cr = -2;

  constructor(text: string, isEnd: boolean) {
    this.#text = text;
    this.#isEnd = isEnd;
  }

  from(start: number): { readonly at: number; readonly next: number } | undefined {
    const text = this.#text;
    if (this.#lf !== -1 && this.#lf < start) this.#lf = text.indexOf('\n', start);
    if (this.#cr !== -1 && this.#cr < start) this.#cr = text.indexOf('\r', start);
    const [lf, cr] = [this.#lf, this.#cr];
    if (cr >= 0 && (lf < 0 || cr < lf)) {
      if (cr === text.length - 1 && !this.#isEnd) return undefined;
      return { at: cr, next: lf === cr + 1 ? cr + 2 : cr + 1 };
    }
    if (lf >= 0) return { at: lf, next: lf + 1 };
    return this.#isEnd ? { at: text.length, next: text.length } : undefined;
  }
}
