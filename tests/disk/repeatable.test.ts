/** An input that is read twice gives the same bytes twice, from memory or from a file of which nothing stays behind. */
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { expect, test, vi } from 'vitest';
import { repeatable } from '../../src/disk/repeatable.ts';

async function bytesOf(pieces: AsyncIterable<Uint8Array>): Promise<Buffer> {
  const all: Uint8Array[] = [];
  for await (const piece of pieces) all.push(piece);
  return Buffer.concat(all);
}

const sample = (size: number): Buffer =>
  Buffer.from(Uint8Array.from({ length: size }, (_, k) => (k * 31) % 251));

test.each([
  ['a few bytes', 100],
  ['more than is kept in memory', 9_500_000],
])('%s from a stream', async (_, size) => {
  const bytes = sample(size);
  const own = mkdtempSync(join(tmpdir(), 'repeatable-'));
  vi.stubEnv('TMPDIR', own);
  const chunks = Array.from({ length: Math.ceil(size / 300_000) }, (__, k) =>
    bytes.subarray(k * 300_000, (k + 1) * 300_000),
  );
  const input = await repeatable('-', Readable.from(chunks));
  expect((await bytesOf(input.pieces())).equals(bytes)).toBe(true);
  expect((await bytesOf(input.pieces())).equals(bytes)).toBe(true);
  input.close();
  vi.unstubAllEnvs();
  expect(readdirSync(own)).toEqual([]);
  rmSync(own, { recursive: true });
});

test('a file', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'repeatable-'));
  const file = join(folder, 'points.csv');
  const bytes = sample(700_000);
  writeFileSync(file, bytes);
  const input = await repeatable(file, Readable.from([]));
  expect((await bytesOf(input.pieces())).equals(bytes)).toBe(true);
  expect((await bytesOf(input.pieces())).equals(bytes)).toBe(true);
  rmSync(folder, { recursive: true });
});
