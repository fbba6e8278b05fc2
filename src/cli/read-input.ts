/** An input file or `-` as text, whole or piece by piece. */
import { closeSync, createReadStream, openSync, readFileSync, readSync, statSync } from 'node:fs';
import { LARGEST_FILE } from '../disk/files-beside.ts';
import { isSystemError } from '../disk/not-writable.ts';
import { type Input, NotUtf8, TextPieces, textOf, unreadable } from '../disk/text-file.ts';
import type { Finding } from '../finding/finding.ts';
import type { Io } from './io.ts';

export async function readInput(file: string, io: Io): Promise<Input> {
  if (file === '-') return fromStream('<stdin>', io.stdin);
  try {
    const stats = statSync(file);
    if (!stats.isFile()) return fromStream(file, createReadStream(file));
    // Its size is known: without a stream, which takes milliseconds to begin.
    return textOf(file, stats.size > LARGEST_FILE ? undefined : readFileSync(file));
  } catch (error) {
    return unreadable(file, error);
  }
}

async function fromStream(name: string, stream: AsyncIterable<Buffer | string>): Promise<Input> {
  const chunks: Buffer[] = [];
  let size = 0;
  try {
    for await (const chunk of stream) {
      const bytes = Buffer.from(chunk as Buffer);
      size += bytes.length;
      if (size > LARGEST_FILE) return textOf(name, undefined);
      chunks.push(bytes);
    }
  } catch (error) {
    return unreadable(name, error);
  }
  return textOf(name, Buffer.concat(chunks));
}

/** Bytes read at once. */
const PIECE = 256 * 1024;

/**
 * Gives the text to `take` piece by piece, however long it is, until that returns false. Memory is that of one piece, and a pipe is read
 * no faster than `take` works. The finding says why it cannot be read.
 */
export async function feedInput(
  file: string,
  io: Io,
  take: (piece: string) => boolean,
): Promise<{ readonly name: string; readonly finding?: Finding }> {
  const name = file === '-' ? '<stdin>' : file;
  const text = new TextPieces(name);
  try {
    if (file === '-') await feedStream(io.stdin, text, take);
    else if (statSync(file).isFile()) feedFile(file, text, take);
    else await feedStream(createReadStream(file), text, take);
    return { name };
  } catch (error) {
    if (error instanceof NotUtf8) return { name, finding: error.finding };
    if (!isSystemError(error)) throw error;
    return { name, finding: unreadable(name, error).finding };
  }
}

async function feedStream(
  stream: AsyncIterable<Buffer | string>,
  text: TextPieces,
  take: (piece: string) => boolean,
): Promise<void> {
  for await (const chunk of stream) if (!take(text.piece(Buffer.from(chunk as Buffer)))) return;
  take(text.piece());
}

function feedFile(file: string, text: TextPieces, take: (piece: string) => boolean): void {
  const buffer = Buffer.allocUnsafe(PIECE);
  const open = openSync(file, 'r');
  try {
    for (;;) {
      const count = readSync(open, buffer);
      if (count === 0) break;
      if (!take(text.piece(buffer.subarray(0, count)))) return;
    }
    take(text.piece());
  } finally {
    closeSync(open);
  }
}
