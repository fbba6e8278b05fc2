/** A batch of 1,000 variants through the executable: on one core and on two with an empty cache, then with everything in it. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { bench, describe } from 'vitest';
import { datumlight, folder, scenarioFile } from './support/run.ts';

const VARIANTS = 1000;
const sweep = readFileSync('examples/sweeps/rim-tolerance.yaml', 'utf8').replace(
  /count: \d+/,
  `count: ${VARIANTS}`,
);
const scenario = scenarioFile(sweep);

async function batch(out: string, cache: string, jobs: number): Promise<void> {
  const { code, stderr } = await datumlight([
    'batch',
    scenario,
    ...['--out', out, '--cache', cache, '--jobs', `${jobs}`, '--quiet'],
  ]);
  if (code !== 0) throw new Error(`the batch ended with ${code}: ${stderr}`);
}

describe(`${VARIANTS} variants`, () => {
  const options = { iterations: 1, warmupIterations: 0, time: 0, warmupTime: 0 };
  const [one, two] = [folder(), folder()];
  bench('one core', () => batch(join(one, 'out'), join(one, 'cache'), 1), options);
  bench('two cores', () => batch(join(two, 'out'), join(two, 'cache'), 2), options);
  bench('all in the cache', () => batch(join(two, 'out'), join(two, 'cache'), 2), options);
});
