/**
 * Memory is bounded: thousands of patches in a heap that is set. A heap that does not do ends the process (134), so that the bound is
 * V8's own; the resident memory is asked of the system.
 */
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { manyPatches } from '../batch/support/many-patches.ts';
import { executable, folder, scenarioFile } from './support/run.ts';

const PATCHES = 5000;
const PRELOAD = resolve('tests/cli/support/peak-memory.cjs');

/** The exit code and the most that was resident, MiB, with a heap of so many MiB. */
async function within(
  heap: number,
  ...args: readonly string[]
): Promise<{ code: number | null; peak: number }> {
  const report = join(folder(), 'peak');
  const { code, stderr } = await executable(args, {
    env: { NODE_OPTIONS: `--max-old-space-size=${heap} --require "${PRELOAD}"`, PEAK_MEMORY: report },
  });
  expect(stderr).not.toMatch(/heap out of memory|internal error/);
  return { code, peak: Number(readFileSync(report, 'utf8')) / 1024 };
}

// Measured: 319 MiB resident in that heap, and 686 in half of it for a package of 118 MB. The bounds leave half as much again, and twice.
test(`check of ${PATCHES} patches`, async () => {
  const { code, peak } = await within(256, 'check', scenarioFile(manyPatches(PATCHES)), '--json');
  expect(code).toBe(1);
  expect(peak).toBeGreaterThan(50);
  expect(peak).toBeLessThan(500);
}, 1_200_000);

test(`make of ${PATCHES} patches, all in one package`, async () => {
  const args = ['make', scenarioFile(manyPatches(PATCHES)), '--draft', '--out', join(folder(), 'out')];
  const { code, peak } = await within(1024, ...args);
  expect(code).toBe(1);
  expect(peak).toBeGreaterThan(50);
  expect(peak).toBeLessThan(1400);
}, 1_200_000);

// Measured: 197 to 207 MiB for these 21 million vertices, 255 to 267 for 41 million.
test('pattern files of 60 patches, on two threads', async () => {
  const args = ['make', scenarioFile(manyPatches(60)), '--draft', '--out', join(folder(), 'out')];
  const { code, peak } = await within(1024, ...args, '--pattern', 'gds', 'oas', '--jobs', '2');
  expect(code).toBe(1);
  expect(peak).toBeGreaterThan(100);
  expect(peak * 2 ** 20).toBeLessThan(300e6);
}, 1_200_000);
