/** An input file or `-` as text: its size and its encoding checked before anything is made of it. */
import { createReadStream, readFileSync, statSync } from 'node:fs';
import type { Finding } from '../finding/finding.ts';
import type { Io } from './io.ts';

/** Past this an input is refused, bytes: a scenario of 20,000 patches has a tenth of it. */
const LARGEST_INPUT = 64 * 1024 * 1024;

type Input =
  | { readonly name: string; readonly bytes: Uint8Array; readonly text: string }
  | { readonly name: string; readonly finding: Finding };

export async function readInput(file: string, io: Io): Promise<Input> {
  const name = file === '-' ? '<stdin>' : file;
  const fault = (rule: Finding['rule'], message: string, hint: string): Input => ({
    name,
    finding: { severity: 'error', rule, where: name, message, hint },
  });
  let bytes: Buffer | undefined;
  try {
    bytes =
      file !== '-' && statSync(file).isFile()
        ? readWhole(file, LARGEST_INPUT)
        : await readUpTo(file === '-' ? io.stdin : createReadStream(file), LARGEST_INPUT);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return fault('unreadable-file', `cannot be read: ${reason}`, 'check the name and the permissions');
  }
  if (bytes === undefined) {
    return fault('file-too-large', `is larger than ${LARGEST_INPUT} bytes`, 'split it');
  }
  try {
    return { name, bytes, text: new TextDecoder('utf-8', { fatal: true }).decode(bytes) };
  } catch {
    return fault('unreadable-file', 'is not UTF-8 text', 'save it as UTF-8');
  }
}

/** A file of the disk, whose size is known: without a stream, which takes milliseconds to begin. */
const readWhole = (file: string, most: number): Buffer | undefined =>
  statSync(file).size > most ? undefined : readFileSync(file);

async function readUpTo(stream: AsyncIterable<Buffer | string>, most: number): Promise<Buffer | undefined> {
  const chunks: Buffer[] = [];
  let size = 0;
  for await (const chunk of stream) {
    const bytes = Buffer.from(chunk as Buffer);
    size += bytes.length;
    if (size > most) return undefined;
    chunks.push(bytes);
  }
  return Buffer.concat(chunks);
}
