/** The package as npm packs it: installs offline into an empty project, runs there, and needs nothing else. */
import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { folder, soundScenario } from './support/run.ts';

const npm = (args: readonly string[], cwd: string): string =>
  execFileSync('npm', args, { cwd, encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });

test('packs, installs offline into an empty project, makes and batches there', () => {
  const [packed, project] = [folder(), folder()];
  const [{ filename, files }] = JSON.parse(
    npm(['pack', '--ignore-scripts', '--json', '--pack-destination', packed], '.'),
  );
  const names = files.map(({ path }: { path: string }) => path);
  for (const name of [
    'bin/datumlight.js',
    'dist/datumlight.cjs',
    'dist/batch-worker.cjs',
    'schemas/scenario.schema.json',
  ]) {
    expect(names).toContain(name);
  }
  expect(names.filter((name: string) => /^(src|tests|node_modules)\//.test(name))).toEqual([]);

  writeFileSync(join(project, 'package.json'), '{"name": "empty", "private": true}\n');
  npm(
    ['install', '--offline', '--no-audit', '--no-fund', '--cache', folder(), join(packed, filename)],
    project,
  );
  expect(readdirSync(join(project, 'node_modules')).filter((name) => !name.startsWith('.'))).toEqual([
    'datumlight',
  ]);
  writeFileSync(join(project, 's.yaml'), soundScenario());
  const run = (...args: string[]): string =>
    execFileSync(join(project, 'node_modules/.bin/datumlight'), args, {
      cwd: project,
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'pipe'],
    });
  run('make', 's.yaml', '--out', 'made');
  const examples = 'node_modules/datumlight/examples/sweeps/part-family.yaml';
  expect(run('batch', 's.yaml', examples, '--out', 'all', '--no-cache', '--jobs', '2')).toContain('10 fine');
  expect(readFileSync(join(project, 'all/s/manifest.json'))).toEqual(
    readFileSync(join(project, 'made/manifest.json')),
  );
  expect(run('--version').trim()).toBe(JSON.parse(readFileSync('package.json', 'utf8')).version);
});
