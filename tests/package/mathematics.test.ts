/**
 * ECMAScript leaves the last bits of a sine or a power to the engine. The package writes the same bytes on each version of Node that it is
 * for, so the functions that src/ calculates with have the same bits on all of them; powers in general have not.
 */
import { execFileSync } from 'node:child_process';
import { build } from 'esbuild';
import { beforeAll, expect, test } from 'vitest';
import { lacks } from '../machine/outside-programs.ts';
import { MAJORS, NODES } from './support/nodes.ts';

let code: string;
let used: readonly string[];
beforeAll(async () => {
  const { outputFiles } = await build({
    entryPoints: ['src/cli/main.ts'],
    bundle: true,
    packages: 'external',
    platform: 'node',
    format: 'esm',
    minifyWhitespace: true,
    write: false,
  });
  code = outputFiles[0]!.text;
  used = [...new Set([...code.matchAll(/\bMath\.([a-z]\w*)/g)].map(([, name]) => name!))].sort();
});

/** Squares and whole powers of two and 1024, tried below; and a word of the help. All else is multiplied or goes through quantity/power.ts. */
const SAFE = /\*\*2(?![\d.])|\b(2|1024)\*\*|`\*\*`/g;

test('src/ has no power but squares and powers of two, which every version of Node has alike', () => {
  expect([...code.replaceAll(SAFE, '').matchAll(/.{0,40}\*\*.{0,40}/g)].map(([around]) => around)).toEqual(
    [],
  );
  expect(code.match(SAFE)!.length).toBeGreaterThan(30);
  expect(used).toContain('sin');
  expect(used).not.toContain('pow');
});

/** Prints a hash of the bits of each function's values over some 100,000 arguments of many magnitudes. */
const SCRIPT = `
  const { createHash } = require('node:crypto');
  const spread = (k) => ((k * 0.6180339887498949) % 1) * [1, 1e-9, 7, 400, 1e5, 1e12][k % 6];
  const hash = (f) => {
    const values = Float64Array.from({ length: 100000 }, (_, k) => f(spread(k) * (k % 4 < 2 ? 1 : -1), spread(k + 77)));
    return createHash('sha256').update(Buffer.from(values.buffer)).digest('hex');
  };
  const names = JSON.parse(process.argv[1]);
  const hashes = Object.fromEntries(names.map((name) => [name, hash((x, y) => Math[name](x, y))]));
  hashes.square = hash((x) => x ** 2 - x * x);
  hashes.powerOfTwo = hash((x) => 2 ** (Math.trunc(x) % 1074));
  console.log(JSON.stringify(hashes));
`;

test.skipIf(lacks(NODES))('what src/ takes of Math has the same bits on every version of Node', () => {
  const [first, ...others] = MAJORS.map((major) =>
    JSON.parse(
      execFileSync(NODES[`node${major}`]!, ['-e', SCRIPT, JSON.stringify(used)], { encoding: 'utf8' }),
    ),
  );
  expect(Object.keys(first)).toHaveLength(used.length + 2);
  for (const other of others) expect(other).toEqual(first);
});
