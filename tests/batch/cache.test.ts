/** The cache: what goes in comes out, damage is noticed, the least recently used goes first. */
import { readdirSync, readFileSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { Cache } from '../../src/batch/cache.ts';
import { benchTemplate } from '../../src/disk/bench-template.ts';
import { figuresWithout } from '../../src/writing/batch/batch-row.ts';
import { sha256 } from '../../src/writing/manifest.ts';
import { temporaryFolder } from '../machine/temporary-folder.ts';

const newCache = (): Cache => new Cache(join(temporaryFolder(), 'cache'));
const FILES = new Map<string, string | Uint8Array>([
  ['a.txt', 'text\n'],
  ['b.bin', Uint8Array.of(0, 255, 10)],
]);
const KEPT = { figures: figuresWithout('fine', []), manifest: 'm' };
const pathOf = (cache: Cache, key: string): string => join(cache.folder, key.slice(0, 2), key.slice(2));

test('gives back what it was given, texts and bytes', () => {
  const cache = newCache();
  const key = sha256('one');
  expect(cache.find(key)).toBeUndefined();
  cache.keep(key, KEPT, FILES);
  const hit = cache.find(key)!;
  expect(hit.figures).toEqual(KEPT.figures);
  expect([...hit.files()!].map(([name, content]) => [name, [...Buffer.from(content)]])).toEqual(
    [...FILES].map(([name, content]) => [name, [...Buffer.from(content)]]),
  );
  expect(readdirSync(cache.folder).every((name) => name.length === 2)).toBe(true);
});

test('a bench page comes back to the byte, its program kept once for all', () => {
  const cache = newCache();
  const key = sha256('page');
  const page = benchTemplate().replace('<!--title-->', () => 'A $& title');
  cache.keep(key, KEPT, new Map([['bench.html', page]]));
  expect(cache.find(key)!.files()!.get('bench.html')).toBe(page);
  expect(readFileSync(pathOf(cache, key)).length).toBeLessThan(page.length / 5);
});

test('a byte that changed anywhere in an entry is noticed', () => {
  const cache = newCache();
  const key = sha256('one');
  cache.keep(key, KEPT, FILES);
  const path = pathOf(cache, key);
  const whole = readFileSync(path);
  for (let at = 0; at < whole.length; at += 7) {
    const damaged = Buffer.from(whole);
    damaged[at]! ^= 1;
    writeFileSync(path, damaged);
    const hit = cache.find(key);
    expect(hit === undefined || hit.files() === undefined, `byte ${at}`).toBe(true);
  }
  writeFileSync(path, whole.subarray(0, whole.length / 2));
  const torn = cache.find(key);
  expect(torn === undefined || torn.files() === undefined).toBe(true);
});

test('past its bound the least recently used go', () => {
  const cache = newCache();
  const keys = Array.from({ length: 10 }, (_, k) => sha256(`entry ${k}`));
  for (const [k, key] of keys.entries()) {
    cache.keep(key, KEPT, new Map([['f', 'x'.repeat(10_000)]]));
    utimesSync(pathOf(cache, key), 1000 + k, 1000 + k);
  }
  // Used again: the oldest one becomes the newest.
  expect(cache.find(keys[0]!)).toBeDefined();
  cache.shrink(60_000);
  const left = keys.filter((key) => cache.find(key) !== undefined);
  expect(left).toContain(keys[0]);
  expect(left).toContain(keys[9]);
  expect(left).not.toContain(keys[1]);
  expect(left.length).toBeLessThanOrEqual(5);
});

test('a folder that cannot be made into a cache stops nothing', () => {
  const file = join(temporaryFolder(), 'file');
  writeFileSync(file, 'mine');
  const cache = new Cache(join(file, 'cache'));
  cache.keep(sha256('one'), KEPT, FILES);
  expect(cache.writable).toBe(false);
  expect(cache.find(sha256('one'))).toBeUndefined();
  cache.shrink(0);
  expect(readFileSync(file, 'utf8')).toBe('mine');
});
