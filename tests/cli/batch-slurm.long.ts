/** The Slurm recipe in examples/, really run on one node where Slurm is installed and starts: 97 variants in four shards. */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import process from 'node:process';
import { expect, test } from 'vitest';
import { cannot, program } from '../machine/outside-programs.ts';
import { datumlight, folder } from './support/run.ts';

const hasSlurm = ['sbatch', 'slurmd', 'slurmctld', 'munged'].every((name) => program(name) !== undefined);
const withoutSlurm = cannot('root, and Slurm with munge', hasSlurm && process.getuid?.() === 0);

const tree = (root: string): Record<string, string> =>
  Object.fromEntries(
    readdirSync(root, { recursive: true, encoding: 'utf8' })
      .filter((name) => statSync(join(root, name)).isFile())
      .sort()
      .map((name) => [name, readFileSync(join(root, name), 'latin1')]),
  );

test.skipIf(withoutSlurm)(
  'a Slurm job array of four shards, gathered, is the single run',
  async ({ skip }) => {
    const dir = folder();
    const [shards, slurm] = [join(dir, 'shards'), join(dir, 'slurm')];
    mkdirSync(shards);
    mkdirSync(slurm);
    const program = `${process.execPath} ${resolve('bin/datumlight.js')}`;
    const scenario = resolve('examples/sweeps/rim-tolerance.yaml');
    const run = spawnSync(
      resolve('tests/cli/support/slurm-one-node.sh'),
      [
        slurm,
        'sbatch',
        '--wait',
        '--chdir',
        dir,
        '--export',
        'ALL',
        resolve('examples/engines/slurm-array.sh'),
      ],
      { env: { ...process.env, DATUMLIGHT: program, SCENARIO: scenario, FOLDER: shards }, encoding: 'utf8' },
    );
    // 75: the daemons do not come up, as in a container without the rights that they need.
    if (run.status === 75) return skip('Slurm does not start here');
    expect(run.status, run.stderr).toBe(0);
    expect(readdirSync(shards)).toEqual(['1', '2', '3', '4']);
    const gather = ['batch', '--gather', ...[3, 1, 4, 2].map((shard) => join(shards, String(shard)))];
    expect((await datumlight([...gather, '--out', join(dir, 'joined')])).code).toBe(0);
    execFileSync(process.execPath, [
      resolve('bin/datumlight.js'),
      ...['batch', scenario, '--out', join(dir, 'whole'), '--no-cache', '--quiet'],
    ]);
    expect(tree(join(dir, 'joined'))).toEqual(tree(join(dir, 'whole')));
  },
);
