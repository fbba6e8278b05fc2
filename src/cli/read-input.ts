/** An input file or `-` as text. */
import { createReadStream, readFileSync, statSync } from 'node:fs';
import { LARGEST_FILE } from '../disk/files-beside.ts';
import { type Input, textOf, unreadable } from '../disk/text-file.ts';
import { errorFinding, type Finding } from '../finding/finding.ts';
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

/** Standard input holds one document: a second reader would find it empty. `option` names the second input, `what` says what it is. */
export function stdinTwice(
  scenario: string,
  input: string,
  option: string,
  what: string,
): Finding | undefined {
  if (scenario !== '-' || input !== '-') return undefined;
  const message = `standard input cannot be both the scenario and the ${what}`;
  return errorFinding('conflicting-keys', option, message, 'name a file for one of the two');
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
