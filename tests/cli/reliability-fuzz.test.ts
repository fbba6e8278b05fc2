/** A hundred inputs through the executable's own `main`, and all that ever found something; 20,000 in the long tests beside. */
import { existsSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { answeredLawfully, expectEveryOutcome, fuzzed } from './support/fuzz.ts';
import { KEPT } from './support/fuzz-cases.ts';
import { Ground, type Shards } from './support/fuzz-ground.ts';
import { Program } from './support/fuzz-program.ts';
import { anyScenario, bytesOf } from './support/fuzz-scenarios.ts';
import { executable, folder } from './support/run.ts';

vi.setConfig({ testTimeout: 300_000 });

test('no input of any command breaks a law', async () => {
  expectEveryOutcome(await fuzzed(100, 11), 100);
});

describe('what once found something', () => {
  const program = new Program();
  let ground: Ground;
  let shards: Shards;
  beforeAll(async () => {
    ground = new Ground();
    shards = await ground.ready(program.ask);
  });
  afterAll(() => program.end());

  test.each(KEPT)('$was', async ({ use, argv, code, input = '', files = () => ({}) }) => {
    const placed: Readonly<Record<string, string>> = files(shards);
    const bytes = Object.entries(placed).map(([name, text]) => [name, bytesOf(text)] as const);
    const one = { use, argv, input: bytesOf(input), files: Object.fromEntries(bytes) };
    expect(await answeredLawfully(one, ground, program.ask)).toMatchObject({ code });
  });
});

test('through the executable, many at once: right codes, whole packages, no stack trace', async () => {
  const dir = folder();
  const inputs = fc.sample(anyScenario, { numRuns: 16, seed: 4 });
  inputs.forEach((input, k) => {
    writeFileSync(join(dir, `f${k}.yaml`), input);
  });
  const { code, stdout, stderr } = await executable(
    ['batch', '*.yaml', '--out', 'out', '--no-cache', '--json'],
    { cwd: dir },
  );
  expect(code).toBe(2);
  expect(stderr).not.toMatch(/\n {4}at |internal error/);
  const { rows } = JSON.parse(stdout);
  // A sweep has a row for each of its cases.
  expect(rows.length).toBeGreaterThanOrEqual(inputs.length);
  for (const { name, outcome } of rows) {
    expect(existsSync(join(dir, 'out', name, 'manifest.json'))).toBe(outcome === 'fine');
  }
  expect(readdirSync(join(dir, 'out')).filter((name) => name.startsWith('.'))).toEqual([]);
});

test('through the executable, one by one', async () => {
  const outcomes = new Set<number | null>();
  for (const input of fc.sample(anyScenario, { numRuns: 6, seed: 6 })) {
    const { code, stderr } = await executable(['check', '-'], { input });
    outcomes.add(code);
    expect([0, 1, 2]).toContain(code);
    expect(stderr).not.toMatch(/\n {4}at /);
  }
  expect(outcomes.size).toBeGreaterThan(1);
});
