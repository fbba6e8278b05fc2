/** The fields of one line of a CSV, each with where it stands: for messages that point at it. */
import type { Spot } from './table-faults.ts';

/** Where it stands, its quotes included. */
export interface TextField extends Spot {
  /** Without quotes and the blanks around it. */
  readonly text: string;
}

/** `line` is the number `number` (from 0) of the text; `separator` is one character. A quoted field (RFC 4180) may hold it; a quote left open runs to the end of the line. */
export function fieldsOf(line: string, number: number, separator: string): TextField[] {
  const fields: TextField[] = [];
  let start = 0;
  let quoted = false;
  for (let k = 0; k <= line.length; k++) {
    if (line[k] === '"') quoted = !quoted;
    if (k < line.length && (quoted || line[k] !== separator)) continue;
    const whole = line.slice(start, k);
    const lead = whole.length - whole.trimStart().length;
    const own = whole.trim();
    const text = /^".*"$/.test(own) ? own.slice(1, -1).replaceAll('""', '"').trim() : own;
    fields.push({ text, line: number, at: start + lead, width: own.length });
    start = k + 1;
  }
  return fields;
}
