/**
 * A finding as a person reads it:
 *
 *     scenario.yaml:12:14: `milimeter` is not a supported unit; did you mean `millimeter`? [error unknown-unit]
 *       12 |   thickness: 6 milimeter
 *          |              ^^^^^^^^^^^
 */
import picocolors from 'picocolors';
import type { Finding, Place } from './finding.ts';
import { visibleText } from './visible-text.ts';

/** Characters of a line of the file that are shown; of a longer line, those around the caret. */
const WIDEST_LINE = 100;
/** Characters shown before the caret in a line that is cut at its start. */
const LEAD = 30;
/** Characters of a message: a file's own text may be quoted in it. */
const LONGEST_MESSAGE = 600;

/**
 * The text of one finding, without a line end. `source` is the file's text, for the line and its caret; `colour` adds
 * terminal colours. Whatever is quoted from the file comes out without control characters.
 */
export function renderFinding(finding: Finding, source?: string, colour = false): string {
  const { bold, cyan, dim, red, yellow } = picocolors.createColors(colour);
  const { place, severity, rule, where, message, hint } = finding;
  const tint = severity === 'error' ? red : severity === 'warning' ? yellow : cyan;
  const head = place === undefined ? where : `${place.file}:${place.line}:${place.column}`;
  const sentence = clipped(hint === undefined ? message : `${message}; ${hint}`);
  const first = `${bold(visibleText(head))}: ${visibleText(sentence)} ${tint(`[${severity} ${rule}]`)}`;
  const line = place && (place.lineText ?? (source === undefined ? undefined : lineOf(source, place.line)));
  if (place === undefined || line === undefined) return first;
  const { text, caret } = frame(line, place);
  const gutter = String(place.line);
  return [
    first,
    `  ${dim(`${gutter} |`)} ${text}`.trimEnd(),
    `  ${dim(`${' '.repeat(gutter.length)} |`)} ${tint(caret)}`,
  ].join('\n');
}

const clipped = (text: string): string =>
  text.length > LONGEST_MESSAGE ? `${text.slice(0, LONGEST_MESSAGE)}…` : text;

/** Line `number` of the text, from 1, without its line end; undefined past the end. */
function lineOf(source: string, number: number): string | undefined {
  const starts = lineStarts(source);
  const start = starts[number - 1];
  if (start === undefined) return undefined;
  const line = source.slice(start, starts[number]).replace(/\r?\n$/, '');
  return number === 1 ? line.replace(/^\ufeff/, '') : line;
}

/** Where each line starts. Findings come by the thousand, and of one text at a time: that of the last is kept. */
function lineStarts(source: string): readonly number[] {
  if (last.source === source) return last.starts;
  const starts = [0];
  for (let end = source.indexOf('\n'); end >= 0; end = source.indexOf('\n', end + 1)) starts.push(end + 1);
  last = { source, starts };
  return starts;
}

let last: { readonly source: string; readonly starts: readonly number[] } = { source: '', starts: [0] };

/** The visible part of a line and the caret under the place; both start at the same column. */
function frame(line: string, place: Place): { text: string; caret: string } {
  const from = Math.min(place.column - 1, line.length);
  const to = Math.max(from + 1, place.endLine > place.line ? line.trimEnd().length : place.endColumn - 1);
  const start = line.length > WIDEST_LINE && from > WIDEST_LINE - LEAD ? from - LEAD : 0;
  const end = Math.min(line.length, start + WIDEST_LINE);
  const before = start > 0 ? '…' : '';
  const after = end < line.length ? '…' : '';
  const indent = before.length + from - start;
  const width = Math.max(1, Math.min(to, end) - from);
  return {
    text: `${before}${visibleText(line.slice(start, end))}${after}`,
    caret: `${' '.repeat(indent)}${'^'.repeat(width)}`,
  };
}
