/** `phase` of eight million points, from a file and through a pipe, as CSV and as JSON: the time, and the most memory that was resident. */
import { spawn } from 'node:child_process';
import { closeSync, createReadStream, openSync, readFileSync, writeSync } from 'node:fs';
import { join, resolve } from 'node:path';
import process from 'node:process';
import { afterAll, bench, describe } from 'vitest';
import { folder, scenarioFile, soundScenario } from './support/run.ts';

const POINTS = 8_000_000;
const AT_ONCE = 10_000;

const home = folder();
const points = join(home, 'points.csv');
const file = openSync(points, 'w');
writeSync(file, 'x_mm,y_mm\n');
for (let k = 0; k < POINTS; k += AT_ONCE) {
  writeSync(
    file,
    Array.from({ length: AT_ONCE }, (_, i) => `${55 + ((k + i) % 100) / 10},${(i % 7) - 3}\n`).join(''),
  );
}
closeSync(file);
const scenario = scenarioFile(soundScenario());
const peaks = new Map<string, number>();

function phase(name: string, input: string, ...options: readonly string[]): Promise<void> {
  const report = join(home, 'peak');
  const preload = `--require "${resolve('tests/cli/support/peak-memory.cjs')}"`;
  const args = ['bin/datumlight.js', 'phase', scenario, '--patch', 'near-1', '--points', input, ...options];
  return new Promise((done, fail) => {
    const env = { ...process.env, NODE_OPTIONS: preload, PEAK_MEMORY: report };
    const child = spawn(process.execPath, args, { stdio: ['pipe', 'pipe', 'inherit'], env });
    child.stdout.resume();
    if (input === '-') createReadStream(points).pipe(child.stdin);
    else child.stdin.end();
    child.on('error', fail);
    child.on('close', (code) => {
      if (code !== 0) fail(new Error(`phase ended with ${code}`));
      peaks.set(name, Math.round(Number(readFileSync(report, 'utf8')) / 1024));
      done();
    });
  });
}

describe(`phase of ${POINTS} points`, () => {
  const options = { iterations: 1, warmupIterations: 0, time: 0, warmupTime: 0 };
  bench('a file', () => phase('a file', points), options);
  bench('a pipe', () => phase('a pipe', '-'), options);
  bench('a file, as JSON', () => phase('a file, as JSON', points, '--json'), options);
});

afterAll(() => {
  for (const [name, peak] of peaks) process.stdout.write(`${name}: at most ${peak} MiB resident\n`);
});
