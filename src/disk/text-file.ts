/** What is read as text: its size and its encoding checked before anything is made of it. */
import { errorFinding, type Finding } from '../finding/finding.ts';
import { LARGEST_FILE } from './files-beside.ts';

export type Input =
  | { readonly name: string; readonly bytes: Uint8Array; readonly text: string }
  | { readonly name: string; readonly finding: Finding };

const fault = (
  name: string,
  rule: Finding['rule'],
  message: string,
  hint: string,
): Input & { readonly finding: Finding } => {
  return { name, finding: errorFinding(rule, name, message, hint) };
};

/** Undefined `bytes` are more than LARGEST_FILE. */
export function textOf(name: string, bytes: Uint8Array | undefined): Input {
  if (bytes === undefined)
    return fault(name, 'file-too-large', `is larger than ${LARGEST_FILE} bytes`, 'split it');
  try {
    return { name, bytes, text: new TextDecoder('utf-8', { fatal: true }).decode(bytes) };
  } catch {
    return notUtf8(name, bytes);
  }
}

const notUtf8 = (name: string, bytes: Uint8Array): Input & { readonly finding: Finding } => {
  const [first, second] = bytes;
  const isUtf16 = (first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff);
  const message = isUtf16 ? 'is UTF-16 text, not UTF-8' : 'is not UTF-8 text';
  return { name, finding: errorFinding('unreadable-file', name, message, 'save it as UTF-8') };
};

/** An input that turned out to be of no use while it was read piece by piece. */
export class UnusableInput extends Error {
  readonly finding: Finding;
  constructor(finding: Finding) {
    super(finding.message);
    this.finding = finding;
  }
}

/** Decodes UTF-8 that comes in pieces, its byte order mark left out; throws UnusableInput. */
export class TextPieces {
  readonly #decoder = new TextDecoder('utf-8', { fatal: true });
  readonly #name: string;
  #start: Uint8Array | undefined;

  constructor(name: string) {
    this.#name = name;
  }

  /** The text of the next bytes, but for a character that they end within; without bytes, after the last. */
  piece(bytes?: Uint8Array): string {
    if (bytes !== undefined && bytes.length > 0) this.#start ??= bytes.slice(0, 2);
    try {
      return this.#decoder.decode(bytes, { stream: bytes !== undefined });
    } catch {
      throw new UnusableInput(notUtf8(this.#name, this.#start ?? new Uint8Array()).finding);
    }
  }
}

export function unreadable(name: string, error: unknown): Input & { readonly finding: Finding } {
  const reason = error instanceof Error ? error.message : String(error);
  return fault(name, 'unreadable-file', `cannot be read: ${reason}`, 'check the name and the permissions');
}
