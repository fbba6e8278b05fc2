/** A reader that closes its end of a pipe at once, such as `head`, changes no exit code: a job with `pipefail` sees the broken design. */
import { spawn } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { folder, scenarioFile, soundScenario } from './support/run.ts';

/** Ends with the exit code. */
const closing = (stream: 'stdout' | 'stderr', args: readonly string[]): Promise<number | null> =>
  new Promise((resolve) => {
    const child = spawn(process.execPath, ['bin/datumlight.js', ...args], {
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    child[stream]!.destroy();
    child[stream === 'stdout' ? 'stderr' : 'stdout']!.resume();
    child.on('close', resolve);
  });

const broken = (): string =>
  scenarioFile(soundScenario((text) => text.replace('centre: [60, 0]', 'centre: [2, 60]')));
const COMMANDS: readonly (readonly [string, () => readonly string[], number])[] = [
  ['check of a sound design', () => ['check', scenarioFile(soundScenario())], 0],
  ['check of a broken design', () => ['check', broken()], 1],
  ['check of a broken design as JSON', () => ['check', broken(), '--json'], 1],
  ['check of a file that is not there', () => ['check', join(folder(), 'none.yaml')], 2],
  ['make of a broken design', () => ['make', broken(), '--out', join(folder(), 'out')], 1],
];

test.each(COMMANDS.flatMap((one) => [['stdout', ...one] as const, ['stderr', ...one] as const]))(
  '%s closed, %s: the exit code stays',
  async (stream, _, args, code) => {
    expect(await closing(stream, args())).toBe(code);
  },
);

test('phase of many points ends quietly when nobody reads any more', async () => {
  const points = join(folder(), 'points.csv');
  writeFileSync(points, `x_mm,y_mm\n${'60,0\n'.repeat(200_000)}`);
  const args = ['phase', scenarioFile(soundScenario()), '--patch', 'near-1', '--points', points];
  expect(await closing('stdout', args)).toBe(0);
});
