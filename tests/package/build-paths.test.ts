/** Nothing that ships says where, or by whom, it was built: not the bundle, nor V8's code cache of it, which is binary. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { basename, join, resolve } from 'node:path';
import process from 'node:process';
import { pathToFileURL } from 'node:url';
import { gunzipSync } from 'node:zlib';
import { beforeAll, expect, test } from 'vitest';
import { temporaryFolder } from '../machine/temporary-folder.ts';
import { type Packed, packed } from './support/packed.ts';

let pack: Packed;
let unpacked: string;
beforeAll(() => {
  pack = packed();
  unpacked = temporaryFolder();
  execFileSync('tar', ['xzf', pack.tarball, '-C', unpacked, '--strip-components=1']);
});

/** Folders of this machine as a file may write them, and the folder beside dist/ where the bundle is made first. */
const TRACES = [
  ...[resolve('.'), homedir(), join('/', process.env.USER ?? basename(homedir()))]
    .filter((folder) => folder !== '/')
    .flatMap((folder) => [join(folder, '/'), join(pathToFileURL(folder).pathname, '/')]),
  'dist.new-',
];

/** The home of anybody: a library may bring along its author's. */
const HOMES = /(\/home\/|\/Users\/|[A-Z]:\\+Users\\+)\w+/;

/** The traces in a file, byte by byte and in UTF-16, as V8 keeps what is not Latin 1. */
function tracesIn(bytes: Buffer): string[] {
  const texts = [bytes.toString('latin1'), bytes.toString('utf16le'), bytes.subarray(1).toString('utf16le')];
  return texts.flatMap((text) => [
    ...TRACES.filter((trace) => text.includes(trace)),
    ...(HOMES.exec(text)?.slice(0, 1) ?? []),
  ]);
}

test('no file of the package holds a path of the machine that built it, or a home folder', () => {
  expect(pack.files.length).toBeGreaterThan(20);
  const found = pack.files.flatMap((file) =>
    tracesIn(readFileSync(join(unpacked, file))).map((trace) => `${file}: ${trace}`),
  );
  expect(found).toEqual([]);
});

test('such a path would be found, in a text, at an odd place and in UTF-16', () => {
  const path = resolve('src/cli/main.ts');
  for (const bytes of [
    Buffer.from(`// ${path}\n`),
    Buffer.from(`//${path}`, 'utf16le'),
    Buffer.from(`\0${Buffer.from(path, 'utf16le').toString('latin1')}`, 'latin1'),
    Buffer.from(pathToFileURL(path).href),
    Buffer.from('"/home/somebody/lib.js"'),
    Buffer.from('"C:\\\\Users\\\\Somebody"'),
  ]) {
    expect(tracesIn(bytes)).not.toEqual([]);
  }
  expect(tracesIn(Buffer.from('no path, a quotient such as a/root and a date'))).toEqual([]);
});

/** Headers of a tarball: user and group by name at 265 and 297, octal size at 124 (POSIX ustar); each is 512 bytes, contents fill such blocks. */
function ownersIn(tar: Buffer): string[] {
  const owners: string[] = [];
  for (let at = 0; tar[at]; ) {
    const field = (from: number, length: number): string =>
      tar.toString('latin1', at + from, at + from + length).replace(/\0.*/s, '');
    owners.push(field(265, 32) + field(297, 32));
    at += 512 * (1 + Math.ceil(Number.parseInt(field(124, 12), 8) / 512));
  }
  return owners;
}

test('the tarball names no user or group as the owner of a file', () => {
  const owners = ownersIn(gunzipSync(readFileSync(pack.tarball)));
  expect(owners.length).toBeGreaterThanOrEqual(pack.files.length);
  expect(new Set(owners)).toEqual(new Set(['']));
});

test('the package holds the command, its bundle, the code cache, the notices, the schemas and the examples, and no source or test', () => {
  for (const name of [
    'LICENSE',
    'README.md',
    'bin/datumlight.js',
    'dist/THIRD-PARTY-NOTICES.txt',
    'dist/batch-worker.cjs',
    'dist/pattern-worker.cjs',
    'dist/bench-page.html',
    'dist/datumlight.cjs',
    `dist/datumlight.${process.platform}-${process.arch}.cache`,
    'examples/full-bench.yaml',
    'schemas/scenario.schema.json',
  ]) {
    expect(pack.files).toContain(name);
  }
  expect(pack.files.filter((name) => !/^(bin|dist|schemas|examples)\//.test(name)).sort()).toEqual([
    'LICENSE',
    'README.md',
    'package.json',
  ]);
});
