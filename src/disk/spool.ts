/**
 * Output kept aside until it is known to be whole: in memory while it is short, then in a temporary file, which has no name from the
 * moment it is open: a killed run leaves nothing behind.
 */
import { closeSync, mkdtempSync, openSync, readSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Characters kept in memory. */
const MOST_IN_MEMORY = 8 * 1024 * 1024;
/** Bytes read back at once. */
const PIECE = 256 * 1024;

export class Spool {
  readonly #mostInMemory: number;
  #held: string[] = [];
  #length = 0;
  #file: number | undefined;

  constructor(mostInMemory = MOST_IN_MEMORY) {
    this.#mostInMemory = mostInMemory;
  }

  /** Adds to the end; throws what the disk says where the temporary folder takes no more. */
  add(text: string): void {
    this.#held.push(text);
    this.#length += text.length;
    if (this.#length > this.#mostInMemory) this.#toFile();
  }

  /** All that was added, from the start, in pieces. */
  *pieces(): Iterable<Uint8Array> {
    if (this.#file === undefined) {
      for (const text of this.#held) yield Buffer.from(text);
      return;
    }
    this.#toFile();
    for (let at = 0; ; ) {
      const buffer = Buffer.allocUnsafe(PIECE);
      const count = readSync(this.#file, buffer, 0, PIECE, at);
      if (count === 0) return;
      yield buffer.subarray(0, count);
      at += count;
    }
  }

  /** Gives the temporary file back. */
  close(): void {
    if (this.#file !== undefined) closeSync(this.#file);
    this.#file = undefined;
    this.#held = [];
    this.#length = 0;
  }

  #toFile(): void {
    this.#file ??= namelessFile();
    const bytes = Buffer.from(this.#held.join(''));
    for (let at = 0; at < bytes.length; ) at += writeSync(this.#file, bytes, at);
    this.#held = [];
    this.#length = 0;
  }
}

function namelessFile(): number {
  const folder = mkdtempSync(join(tmpdir(), 'datumlight-'));
  try {
    return openSync(join(folder, 'spool'), 'wx+', 0o600);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
