/**
 * `make --pattern` through the executable, for 60 patches of a sound design, 44 million vertices: bound to one core, on one thread, on two.
 * taskset binds; without it the first row is left out.
 */
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { bench, describe } from 'vitest';
import { manyPatches } from '../batch/support/many-patches.ts';
import { EXECUTABLE, folder, scenarioFile } from './support/run.ts';

// Flatter light and retroreflectors farther aside than elsewhere: no rule is broken.
const scenario = scenarioFile(manyPatches(60, { filled: 0.84, focus: -1000, aside: 2.6 }));

const options = { iterations: 3, warmupIterations: 0, time: 0, warmupTime: 0 };
const hasTaskset = spawnSync('taskset', ['-c', '0', 'true']).status === 0;

function make(formats: readonly string[], jobs: number, bound: readonly string[] = []): void {
  const out = join(folder(), 'package');
  const args = [...['make', scenario, '--out', out, '--jobs', `${jobs}`, '--quiet'], '--pattern', ...formats];
  const [program, ...rest] = [...bound, process.execPath, EXECUTABLE, ...args];
  const { status, stderr } = spawnSync(program!, rest, { encoding: 'utf8' });
  if (status !== 0) throw new Error(`make ended with ${status}: ${stderr}`);
}

describe.each([[['gds']], [['oas']], [['gds', 'oas']]])('%j', (formats) => {
  if (hasTaskset) bench('one core', () => make(formats, 1, ['taskset', '-c', '0']), options);
  bench('two cores, one thread', () => make(formats, 1), options);
  bench('two cores, two threads', () => make(formats, 2), options);
});
