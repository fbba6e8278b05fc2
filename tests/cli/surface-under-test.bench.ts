/**
 * What the surface under test costs `check` and `make` of the off-axis example: CPU time (user and system, ms) of the executable with and
 * without the scenario's `test`. The least of runs taken in turn counts, since other processes only ever add to it; the start of Node,
 * about 50 ms, is in each. Goals: at most 1.5 times for `check`, 2 times for `make`. Build before.
 */
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import process from 'node:process';
import { afterAll, bench, describe } from 'vitest';
import { parseDocument } from 'yaml';
import { example, executable, folder, scenarioFile } from './support/run.ts';

const RUNS = 15;
const COMMANDS = { check: 1.5, make: 2 };

const text = readFileSync(example('off-axis-asphere'), 'utf8');
const document = parseDocument(text);
if (!document.delete('test')) throw new Error('the example has no section `test`');
const scenarios = { with: scenarioFile(text), without: scenarioFile(document.toString()) };

const home = folder();
const report = join(home, 'cpu-time');
const env = { NODE_OPTIONS: `--require "${resolve('tests/cli/support/cpu-time.cjs')}"`, CPU_TIME: report };
const least = new Map<string, number>();
let packages = 0;

async function run(command: string, which: keyof typeof scenarios): Promise<void> {
  const out = command === 'make' ? ['--out', join(home, `${packages++}`)] : [];
  const { code, stderr } = await executable([command, scenarios[which], ...out], { env });
  if (code !== 0) throw new Error(`${command} ${which} the test ended with ${code}: ${stderr}`);
  const key = `${command} ${which}`;
  least.set(key, Math.min(least.get(key) ?? Infinity, Number(readFileSync(report, 'utf8')) / 1000));
}

describe('the off-axis example with its test and without', () => {
  for (const command of Object.keys(COMMANDS))
    bench(
      command,
      async () => {
        await run(command, 'with');
        await run(command, 'without');
      },
      { iterations: RUNS, warmupIterations: 0, time: 0, warmupTime: 0 },
    );
});

afterAll(() => {
  for (const [command, goal] of Object.entries(COMMANDS)) {
    const [costly, plain] = [least.get(`${command} with`)!, least.get(`${command} without`)!];
    process.stdout.write(
      `${command}: ${costly.toFixed(0)} ms of CPU with the test, ${plain.toFixed(0)} ms without: ` +
        `${(costly / plain).toFixed(2)} times (goal: ${goal})\n`,
    );
  }
});
