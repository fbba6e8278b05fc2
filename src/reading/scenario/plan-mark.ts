/**
 * The last line of a scenario that `plan` completed: by it a later run knows the file as its own, and that nobody has edited it since. A
 * comment with a checksum of all that stands before it: SHA-256, the first 16 hex digits, with LF for every end of a line, so that a
 * checkout that converts them changes nothing. The line before it says what was planned for, where that is not among the wishes.
 */
import { createHash } from 'node:crypto';
import { sameData } from './fill-open-places.ts';

const WORDS = '# written by `datumlight plan`; checksum of the lines above: ';
const MARK = new RegExp(`^${WORDS}([0-9a-f]{16})\\r?\\n?`, 'm');
const AIM = '# planned for ';
const AIM_AND_MARK = new RegExp(`(?:^${AIM}.*\\r?\\n)?${MARK.source}`, 'gm');

/** The text with its mark and its aim in words, those of a former run taken out; without, where a comment at the end would change what the text means. */
export function withPlanMark(text: string, aim?: string): string {
  const newline = text.includes('\r\n') ? '\r\n' : '\n';
  const body = text.replace(AIM_AND_MARK, '');
  const ended = body.endsWith('\n') ? body : `${body}${newline}`;
  const lines = aim === undefined ? ended : `${ended}${AIM}${aim}${newline}`;
  const marked = `${lines}${WORDS}${checksumOf(lines)}${newline}`;
  return sameData(marked, text) ? marked : text;
}

/** Whether a text is as `plan` wrote it. */
export function hasPlanMark(text: string): boolean {
  const found = MARK.exec(text);
  return (
    found !== null &&
    found.index + found[0].length === text.length &&
    found[1] === checksumOf(text.slice(0, found.index))
  );
}

const checksumOf = (lines: string): string =>
  createHash('sha256').update(lines.replaceAll('\r\n', '\n')).digest('hex').slice(0, 16);
