/** What is read as text: its size and its encoding checked before anything is made of it. */
import { errorFinding, type Finding } from '../finding/finding.ts';
import { LARGEST_FILE } from './files-beside.ts';

export type Input =
  | { readonly name: string; readonly bytes: Uint8Array; readonly text: string }
  | { readonly name: string; readonly finding: Finding };

const fault = (name: string, rule: Finding['rule'], message: string, hint: string): Input => {
  return { name, finding: errorFinding(rule, name, message, hint) };
};

/** Undefined `bytes` are more than LARGEST_FILE. */
export function textOf(name: string, bytes: Uint8Array | undefined): Input {
  if (bytes === undefined)
    return fault(name, 'file-too-large', `is larger than ${LARGEST_FILE} bytes`, 'split it');
  const why = notUtf8(bytes);
  if (why !== undefined) return fault(name, 'unreadable-file', why, 'save it as UTF-8');
  try {
    return { name, bytes, text: new TextDecoder('utf-8', { fatal: true }).decode(bytes) };
  } catch {
    return fault(name, 'unreadable-file', 'is not UTF-8 text', 'save it as UTF-8');
  }
}

/** What a file that is meant to be UTF-8 is, by the byte-order mark that it begins with. */
export const notUtf8 = ([first, second]: Uint8Array): string | undefined =>
  (first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff) ? 'is UTF-16 text' : undefined;

export function unreadable(name: string, error: unknown): Input {
  const reason = error instanceof Error ? error.message : String(error);
  return fault(name, 'unreadable-file', `cannot be read: ${reason}`, 'check the name and the permissions');
}
