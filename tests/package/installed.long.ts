/**
 * The package as npm packs it: installs without a network, from an empty cache, under each version of Node that it is for, needs nothing else,
 * and writes there what the checkout writes, byte for byte.
 */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { accessSync, constants, cpSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import process from 'node:process';
import { beforeAll, describe, expect, test } from 'vitest';
import { lacks } from '../machine/outside-programs.ts';
import { temporaryFolder } from '../machine/temporary-folder.ts';
import { MAJORS, NODES } from './support/nodes.ts';
import { npm, type Packed, packed } from './support/packed.ts';

/** What is run, each in the folder that holds a copy of the examples; together they do all that a designer and an operator do. */
const JOBS: readonly (readonly string[])[] = [
  '--version',
  'check examples/full-bench.yaml --json',
  'check examples/broken-rules.yaml',
  'make examples/converging-retroreflectors.yaml --out out/smr --pattern gds oas',
  'make examples/diverging-balls.yaml --out out/balls --pattern gds oas --pattern-dxf --every 50',
  'make examples/infrared-collimated.yaml --out out/infrared --pattern oas',
  'make examples/full-bench.yaml --out out/bench --edge-shift 0.05um --pattern oas --every 20',
  'batch examples/sweeps/part-family.yaml examples/diverging-balls.yaml --out out/batch --no-cache --jobs 2',
  'fringes examples/diverging-balls.yaml --out out/fringes',
  'plan examples/plan-retroreflectors.yaml --out out/planned.yaml --reach out/reach.svg',
  'steer examples/steer-mirror-on-stage.yaml --readings examples/steer-mirror-on-stage.readings.yml',
  'transfer examples/transfer-mirror-on-rim.yaml --points examples/transfer-mirror-on-rim.points.csv',
].map((line) => line.split(' '));

/** Exit code, both streams and every file that the jobs leave, as hashes of their contents by path. */
function done(node: string, executable: string): Record<string, string> {
  const cwd = temporaryFolder();
  cpSync('examples', join(cwd, 'examples'), { recursive: true });
  const results: Record<string, string> = {};
  for (const job of JOBS) {
    const { status, stdout, stderr } = spawnSync(node, [executable, ...job], { cwd, encoding: 'utf8' });
    results[job.join(' ')] = `exit ${status}\n${stdout}\n${stderr}`;
  }
  for (const name of readdirSync(cwd, { recursive: true, encoding: 'utf8' })) {
    const file = join(cwd, name);
    if (statSync(file).isFile())
      results[name] = createHash('sha256').update(readFileSync(file)).digest('hex');
  }
  return results;
}

let pack: Packed;
let here: Record<string, string>;
beforeAll(() => {
  pack = packed();
  here = done(process.execPath, resolve('bin/datumlight.js'));
});

test('the jobs end well where they are to, and write packages and patterns', () => {
  for (const job of JOBS) {
    const code = job.includes('examples/broken-rules.yaml') ? 1 : 0;
    expect(here[job.join(' ')]).toMatch(new RegExp(`^exit ${code}\n`));
  }
  const files = Object.keys(here);
  for (const ending of ['manifest.json', 'pattern.gds', 'pattern.oas', 'summary.csv'])
    expect(files.some((file) => file.startsWith('out/') && file.endsWith(ending))).toBe(true);
});

/** How each version installs: into a project; the same without scripts; for all projects of a user. */
const INSTALLS: Readonly<Record<string, readonly string[]>> = {
  20: [],
  22: ['--ignore-scripts'],
  24: ['--global', '--prefix', '.'],
};

describe.each(MAJORS)('on Node %s', (major) => {
  test.skipIf(lacks({ [`node${major}`]: NODES[`node${major}`] }))(
    'installs offline into an empty project, alone, and there does all that the checkout does, to the byte',
    () => {
      const node = NODES[`node${major}`]!;
      const project = temporaryFolder();
      writeFileSync(join(project, 'package.json'), '{"name": "empty", "private": true}\n');
      const strict = [
        '--offline',
        '--engine-strict',
        '--no-audit',
        '--no-fund',
        '--cache',
        temporaryFolder(),
      ];
      npm(['install', ...strict, ...INSTALLS[major]!, pack.tarball], project, node);
      const modules = join(project, major === '24' ? 'lib/node_modules' : 'node_modules');
      expect(readdirSync(modules).filter((name) => !name.startsWith('.'))).toEqual(['datumlight']);
      const bin = join(project, major === '24' ? 'bin' : 'node_modules/.bin', 'datumlight');
      accessSync(bin, constants.X_OK);
      expect(done(node, bin)).toEqual(here);
    },
  );
});
