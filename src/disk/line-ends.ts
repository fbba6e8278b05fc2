/**
 * Line ends of text files: LF as they are written, CRLF after a checkout that converts them (`core.autocrlf` of git). The two mean the
 * same; what is compared or hashed by meaning goes through here. Binary files are what their bytes are.
 */
import { sha256 } from '../writing/manifest.ts';

const CR = 0x0d;
const LF = 0x0a;

/** Files of a package in which a line end means nothing but the end of a line; a PDF counts bytes. */
const TEXT_FILE = /\.(csv|json|svg|dxf|html|ya?ml|md)$/i;
const isTextFile = (name: string): boolean => TEXT_FILE.test(name);

export const withUnixLineEnds = (text: string): string => text.replaceAll('\r\n', '\n');

/** The same of bytes; those given where no line ends in CRLF. */
function withUnixLineEndsIn(bytes: Uint8Array): Uint8Array {
  const view = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (!view.includes('\r\n')) return bytes;
  const kept = Buffer.alloc(view.length);
  let length = 0;
  for (let k = 0; k < view.length; k++) {
    if (view[k] !== CR || view[k + 1] !== LF) kept[length++] = view[k]!;
  }
  return kept.subarray(0, length);
}

/** SHA-256 of what a user's file says, hex: of its bytes, CRLF as LF where it is text. As git does, what holds a zero byte is binary. */
export const meaningHash = (bytes: Uint8Array): string =>
  sha256(bytes.includes(0) ? bytes : withUnixLineEndsIn(bytes));

/** What stands in a package's file `name`, as it was written if its SHA-256 is `hash`; undefined where it is not that. */
export function asWritten(name: string, standing: Uint8Array, hash: string): Uint8Array | undefined {
  if (sha256(standing) === hash) return standing;
  if (!isTextFile(name)) return undefined;
  const unix = withUnixLineEndsIn(standing);
  return unix !== standing && sha256(unix) === hash ? unix : undefined;
}

/** How two contents of a package's file `name` differ. */
export function differenceOf(
  name: string,
  was: Uint8Array,
  is: Uint8Array,
): 'none' | 'line ends' | 'content' {
  const same = (a: Uint8Array, b: Uint8Array): boolean => Buffer.compare(a, b) === 0;
  if (same(was, is)) return 'none';
  return isTextFile(name) && same(withUnixLineEndsIn(was), withUnixLineEndsIn(is)) ? 'line ends' : 'content';
}
