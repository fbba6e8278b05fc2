/** The fields of one row in which there are quotes (RFC 4180): a quoted field may hold separators, line ends, and quotes written twice. */
import type { Spot } from './table-faults.ts';
import type { TextField } from './table-scanner.ts';

/** What may separate the fields of a table. */
export const SEPARATORS: readonly string[] = [',', ';', '\t'];

type QuotedRow =
  | {
      readonly fields: readonly TextField[];
      /** What stands outside quotes. */
      readonly gaps: readonly string[];
      /** Where the next row starts: in the text, and its line. */
      readonly next: number;
      readonly nextLine: number;
    }
  | {
      readonly fault: {
        readonly spot: Spot;
        readonly message: string;
        readonly hint: string;
        /** Where in the text it was noticed. */
        readonly at: number;
        /** A quote is never closed. */
        readonly isOpen: boolean;
      };
    };

const HINT = 'put the whole field in double quotes, and write a double quote in it twice';

/**
 * The row at `start`, which is on line `line`; undefined where the text ends within it and more is to come. `separators` are the signs
 * that end a field.
 */
export function quotedFields(
  text: string,
  start: number,
  separators: readonly string[] | string,
  isEnd: boolean,
  line: number,
): QuotedRow | undefined {
  const walk = new Walk(text, start, line);
  const fields: TextField[] = [];
  const gaps: string[] = [];
  for (;;) {
    const fieldStart = walk.at;
    walk.skipBlanks(separators);
    const isQuoted = text[walk.at] === '"';
    const spot = walk.spot();
    let value = '';
    if (isQuoted) {
      gaps.push(text.slice(fieldStart, walk.at));
      const held = walk.quoted();
      if (held === undefined) {
        if (!isEnd) return undefined;
        return { fault: { spot, message: 'a quote is never closed', hint: HINT, at: walk.at, isOpen: true } };
      }
      value = held;
    }
    const closed = walk.at;
    const oneLine = walk.line === spot.line;
    const bare = walk.upTo(separators);
    if (walk.at >= text.length && !isEnd) return undefined;
    const misplaced = isQuoted ? bare.search(/\S/) : bare.indexOf('"');
    if (misplaced >= 0) {
      const message = isQuoted ? 'there is text after the closing quote' : 'a quote inside a field';
      const fault = {
        spot: walk.spotAt(closed + misplaced),
        message,
        hint: HINT,
        at: walk.at,
        isOpen: false,
      };
      return { fault };
    }
    gaps.push(bare);
    const own = isQuoted ? value : bare.trim();
    const width = isQuoted ? (oneLine ? closed - spot.start : 1) : own.length;
    fields.push({ text: own.trim(), line: spot.line, at: spot.at, width, lineText: spot.lineText });
    if (walk.isAtRowEnd()) {
      const next = walk.at + (text[walk.at] === '\r' && text[walk.at + 1] === '\n' ? 2 : 1);
      if (text[walk.at] === '\r' && walk.at === text.length - 1 && !isEnd) return undefined;
      return { fields, gaps, next: Math.min(next, text.length), nextLine: walk.line + 1 };
    }
    gaps.push(text[walk.at]!);
    walk.at++;
  }
}

/** A place in the text that knows its line. */
class Walk {
  at: number;
  line: number;
  readonly #text: string;
  #lineStart: number;

  constructor(text: string, at: number, line: number) {
    this.#text = text;
    this.at = at;
    this.#lineStart = at;
    this.line = line;
  }

  spot(): Spot & { readonly start: number } {
    return { ...this.spotAt(this.at), start: this.at };
  }

  spotAt(at: number): Spot {
    const lineText = /[^\r\n]*/.exec(this.#text.slice(this.#lineStart, this.#lineStart + LONGEST_SHOWN))![0];
    return { line: this.line, at: at - this.#lineStart, width: 1, lineText };
  }

  isAtRowEnd(): boolean {
    const sign = this.#text[this.at];
    return sign === undefined || sign === '\n' || sign === '\r';
  }

  skipBlanks(separators: readonly string[] | string): void {
    while (
      !this.isAtRowEnd() &&
      /\s/.test(this.#text[this.at]!) &&
      !separators.includes(this.#text[this.at]!)
    )
      this.at++;
  }

  /** What is between the quotes, past both; undefined where the second one is missing. */
  quoted(): string | undefined {
    const text = this.#text;
    let held = '';
    let from = this.at + 1;
    for (let k = from; k < text.length; k++) {
      const sign = text[k];
      if (sign === '\n' || (sign === '\r' && text[k + 1] !== '\n')) {
        this.line++;
        this.#lineStart = k + 1;
      }
      if (sign !== '"') continue;
      held += text.slice(from, k);
      if (text[k + 1] !== '"') {
        this.at = k + 1;
        return held;
      }
      held += '"';
      k++;
      from = k + 1;
    }
    this.at = text.length;
    return undefined;
  }

  /** What stands up to the next separator or the end of the row. */
  upTo(separators: readonly string[] | string): string {
    const from = this.at;
    while (!this.isAtRowEnd() && !separators.includes(this.#text[this.at]!)) this.at++;
    return this.#text.slice(from, this.at);
  }
}

/** Characters of a line that a place keeps. */
const LONGEST_SHOWN = 65_536;
