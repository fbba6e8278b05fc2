/**
 * An input that is read more than once, in pieces, without ever standing in memory as a whole: a file is opened again; what comes from a
 * stream is kept, past some megabytes in a file of the temporary folder that has no name any more and so goes with the process.
 */
import {
  closeSync,
  createReadStream,
  mkdtempSync,
  openSync,
  readSync,
  rmSync,
  statSync,
  writeSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Readable } from 'node:stream';
import { isSystemError, type SystemError } from './not-writable.ts';

/** Bytes kept in memory before they go to a file. */
const MOST_KEPT = 8 * 1024 * 1024;
const PIECE = 64 * 1024;

export interface Repeatable {
  /** From the start, each time it is asked. */
  pieces(): AsyncIterable<Uint8Array>;
  close(): void;
}

/** What the system says of the temporary folder where it keeps no more. */
export class NotKept extends Error {
  readonly reason: SystemError;
  constructor(reason: SystemError) {
    super(reason.message);
    this.reason = reason;
  }
}

/** Throws what the system says of a file or a stream that cannot be read, NotKept where it cannot be kept. */
export async function repeatable(file: string, stdin: Readable): Promise<Repeatable> {
  if (file !== '-' && statSync(file).isFile())
    return { pieces: () => createReadStream(file, { highWaterMark: PIECE }), close: () => undefined };
  return kept(file === '-' ? stdin : createReadStream(file));
}

async function kept(stream: AsyncIterable<Buffer | string>): Promise<Repeatable> {
  const chunks: Buffer[] = [];
  let size = 0;
  let spool: number | undefined;
  try {
    for await (const chunk of stream) {
      const bytes = Buffer.from(chunk as Buffer);
      size += bytes.length;
      if (spool === undefined && size <= MOST_KEPT) {
        chunks.push(bytes);
        continue;
      }
      if (spool === undefined) {
        spool = keeping(nameless);
        for (const one of chunks.splice(0)) keepIn(spool, one);
      }
      keepIn(spool, bytes);
    }
  } catch (error) {
    if (spool !== undefined) closeSync(spool);
    throw error;
  }
  const from = spool;
  return {
    pieces: () => (from === undefined ? inMemory(chunks) : inFile(from)),
    close: () => {
      if (from !== undefined) closeSync(from);
    },
  };
}

/** A file that is open and has no name: where the system keeps names of open files, the folder stays until the process ends. */
function nameless(): number {
  const folder = mkdtempSync(join(tmpdir(), 'datumlight-'));
  const file = openSync(join(folder, 'input'), 'wx+', 0o600);
  try {
    rmSync(folder, { recursive: true, force: true });
  } catch {
    // It goes with the temporary folder.
  }
  return file;
}

const keepIn = (file: number, bytes: Buffer): void =>
  keeping(() => {
    for (let done = 0; done < bytes.length; ) done += writeSync(file, bytes, done);
  });

function keeping<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw isSystemError(error) ? new NotKept(error) : error;
  }
}

async function* inMemory(chunks: readonly Buffer[]): AsyncIterable<Uint8Array> {
  yield* chunks;
}

async function* inFile(file: number): AsyncIterable<Uint8Array> {
  for (let at = 0; ; ) {
    const piece = new Uint8Array(PIECE);
    const count = readSync(file, piece, 0, PIECE, at);
    if (count === 0) return;
    at += count;
    yield piece.subarray(0, count);
  }
}
