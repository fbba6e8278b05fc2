/** The recipes in examples/: GNU parallel really run, the Kubernetes manifest by the schema of its API, shell scripts by their shell. */
import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import process from 'node:process';
import { expect, test, vi } from 'vitest';
import { parse } from 'yaml';
import { datumlight, folder, soundScenario } from './support/run.ts';

vi.setConfig({ testTimeout: 180_000 });

const there = (command: string): boolean => {
  try {
    execFileSync('sh', ['-c', `command -v ${command}`], { stdio: 'ignore' });
    return true;
  } catch {
    if (process.env.DATUMLIGHT_REQUIRE_READERS)
      throw new Error(`${command} is required here and not installed`);
    return false;
  }
};
const tree = (root: string): Record<string, string> =>
  Object.fromEntries(
    readdirSync(root, { recursive: true, encoding: 'utf8' })
      .filter((name) => statSync(join(root, name)).isFile())
      .sort()
      .map((name) => [name, readFileSync(join(root, name), 'latin1')]),
  );

test.skipIf(!there('parallel'))('GNU parallel: shards gathered are the single run', async () => {
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
});

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

test.each(['examples/engines/gnu-parallel.sh', 'examples/engines/slurm-array.sh'])(
  '%s is a script that bash reads',
  (file) => {
    execFileSync('bash', ['-n', file]);
  },
);

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
