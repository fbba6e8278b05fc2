/** The recipes in examples/: GNU parallel really run, the Kubernetes manifest by the schema of its API, shell scripts by their shell. */
import { execFileSync, spawnSync } from 'node:child_process';
import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import process from 'node:process';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { lacks, program } from '../machine/outside-programs.ts';
import { datumlight, folder, soundScenario } from './support/run.ts';

const [bash, parallel] = [program('bash'), program('parallel')];
const tree = (root: string): Record<string, string> =>
  Object.fromEntries(
    readdirSync(root, { recursive: true, encoding: 'utf8' })
      .filter((name) => statSync(join(root, name)).isFile())
      .sort()
      .map((name) => [name, readFileSync(join(root, name), 'latin1')]),
  );

test.skipIf(lacks({ bash, 'GNU parallel': parallel }))(
  'GNU parallel: shards gathered are the single run',
  async () => {
    const dir = folder();
    const text = soundScenario((base) => base.replace('light:', 'parameters: {away: 2800 mm}\nlight:'));
    const sweep = 'sweep: {draws: {count: 5, seed: 1, of: {away: {from: 2700 mm, to: 2900 mm}}}}\n';
    writeFileSync(join(dir, 's.yaml'), text.replace('250, 2800', '250, away') + sweep);
    execFileSync(resolve('examples/engines/gnu-parallel.sh'), ['s.yaml', 'joined', '2'], {
      cwd: dir,
      env: { ...process.env, DATUMLIGHT: `${process.execPath} ${resolve('bin/datumlight.js')}` },
      stdio: ['ignore', 'ignore', 'ignore'],
    });
    await datumlight(['batch', 's.yaml', '--out', 'whole', '--no-cache'], { cwd: dir });
    expect(tree(join(dir, 'joined'))).toEqual(tree(join(dir, 'whole')));
  },
);

test('the Kubernetes manifest is an Indexed Job by its API’s schema', async () => {
  const { Job } = await import('kubernetes-models/batch/v1/Job');
  const manifest = parse(readFileSync('examples/engines/kubernetes-indexed-job.yaml', 'utf8'));
  new Job(manifest).validate();
  expect(manifest.spec.completionMode).toBe('Indexed');
  const shards = manifest.spec.template.spec.containers[0].env.find(
    (one: { name: string }) => one.name === 'SHARDS',
  );
  expect(Number(shards.value)).toBe(manifest.spec.completions);
});

describe.skipIf(lacks({ bash }))('bash', () => {
  test.each(['examples/engines/gnu-parallel.sh', 'examples/engines/slurm-array.sh'])(
    'reads %s without complaint',
    (file) => {
      const { status, stderr } = spawnSync(bash!, ['-n', file], { encoding: 'utf8' });
      expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    },
  );
});

test('the workflows of both CI services are YAML and verify', () => {
  for (const file of ['github-verify.yml', 'gitlab-verify.yml']) {
    const text = readFileSync(join('examples/ci', file), 'utf8');
    expect(Object.keys(parse(text)).length).toBeGreaterThan(0);
    expect(text).toContain('--verify --markdown moved.md');
  }
});

test('the sweeps are sound: a shard of each', async () => {
  for (const [file, total] of [
    ['rim-tolerance', 97],
    ['part-family', 9],
  ] as const) {
    const out = join(folder(), 'out');
    const args = [
      'batch',
      `examples/sweeps/${file}.yaml`,
      '--out',
      out,
      '--shard',
      '1/40',
      '--no-cache',
      '--json',
    ];
    const { code, stdout } = await datumlight(args);
    expect(code).toBe(0);
    expect(JSON.parse(stdout).total).toBe(total);
  }
});
