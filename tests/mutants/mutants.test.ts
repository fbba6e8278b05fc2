/** The lists kept by hand fit the program as it is, the draw is what it says, and goldens are left out. */
import { existsSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { changedLines, drawn, onLines, ROOMS } from '../../.build/mutants/draw.ts';
import { equivalents, keyOf, type Named, namedAsMutant, namedMutants } from '../../.build/mutants/lists.ts';
import { mutantsOf, mutated, roomOf, sourceFiles } from '../../.build/mutants/sites.ts';
import { GOLDEN_TESTS, testFiles, testsOf } from '../../.build/mutants/tests-of.ts';

const read = (file: string): string => readFileSync(file, 'utf8');

test('each named mutant applies once to its file, changes it, and names a test that is no golden', () => {
  const named = namedMutants();
  expect(named.length).toBeGreaterThan(0);
  expect(named.flatMap(faultsOf)).toEqual([]);
  expect(new Set(named.map(({ id }) => id)).size).toBe(named.length);
});

function faultsOf(entry: Named): readonly string[] {
  const { id, file, fault, caughtBy } = entry;
  if (!existsSync(file)) return [`${id}: no file ${file}`];
  const source = read(file);
  const faults: string[] = [];
  try {
    if (mutated(source, namedAsMutant(entry, source)) === source) faults.push(`${id} changes nothing`);
  } catch (error) {
    faults.push((error as Error).message);
  }
  if (!/\w{3}/.test(fault)) faults.push(`${id} says no fault`);
  if (!existsSync(caughtBy)) faults.push(`${id}: no test ${caughtBy}`);
  if (GOLDEN_TESTS.includes(caughtBy)) faults.push(`${id} is caught by a golden`);
  return faults;
}

test('each accepted equivalent still matches a place and says why', () => {
  const entries = equivalents();
  const keys = new Set(
    [...new Set(entries.map(({ file }) => file))]
      .filter(existsSync)
      .flatMap((file) => mutantsOf(file, read(file)).map(({ key }) => key)),
  );
  expect(entries.map(keyOf).filter((key) => !keys.has(key))).toEqual([]);
  for (const { reason } of entries) expect(reason).toMatch(/\w+ \w+ \w+/);
});

test('a mutated source differs in the one place only', () => {
  const source = 'export const f = (a: number) => a + 1;\n';
  const [first] = mutantsOf('src/optics/a.ts', source);
  expect(mutated(source, first)).toBe('export const f = (a: number) => a - 1;\n');
});

test('a draw is the same for a seed, without repeats, and prefers rooms whose output a user sees', () => {
  const sources = { writing: 'src/writing/a.ts', algebra: 'src/algebra/a.ts' };
  const sums = Array.from({ length: 500 }, (_, i) => `f(a${i} + b);`).join('\n');
  const mutants = Object.values(sources).flatMap((file) => mutantsOf(file, sums));
  const some = drawn(mutants, 200, '1');
  expect(drawn(mutants, 200, '1')).toEqual(some);
  expect(drawn(mutants, 200, '2')).not.toEqual(some);
  expect(new Set(some.map(({ key }) => key)).size).toBe(200);
  // Weights of 2 to 1: 133 of 200 expected, with a standard deviation of about 6; six of them are allowed.
  const seen = some.filter(({ file }) => roomOf(file) === 'writing').length;
  expect(Math.abs(seen - 133)).toBeLessThan(36);
});

test('only mutants on changed lines are left', () => {
  const mutants = mutantsOf('src/optics/a.ts', 'f(a + b);\nf(a - b);\nf(a * b);');
  const changed = new Map([['src/optics/a.ts', [[2, 2]] as const]]);
  expect(onLines(mutants, changed).map(({ change }) => change)).toEqual(['f(a - b); → ;', '- → +']);
  expect(() => changedLines('no-such-commit')).toThrow('no-such-commit');
});

test('every source is in a room that can be drawn from, and has a test that can catch its mutants', () => {
  const tests = testFiles();
  const files = sourceFiles();
  expect(files.filter((file) => !ROOMS.includes(roomOf(file)))).toEqual([]);
  for (const file of files) {
    const { near, far } = testsOf(file, tests, () => 1);
    expect(near.length + far.length, file).toBeGreaterThan(0);
  }
});

test('the nearest tests come first, those of the program after, what the README shows last, goldens never', () => {
  const { near, far } = testsOf('src/optics/ball.ts', testFiles(), () => 1);
  expect(near[0].name).toBe('tests/optics/ball.test.ts');
  expect(far.at(-1)?.name).toBe('tests/cli/readme.test.ts');
  expect([...near, ...far].map(({ name }) => name).filter((name) => GOLDEN_TESTS.includes(name))).toEqual([]);
});

test('no other test compares with the goldens', () => {
  // fuzz-bench.ts takes tables of goldens for samples of its inputs.
  const may = [...GOLDEN_TESTS, 'tests/cli/support/fuzz-bench.ts', 'tests/mutants/mutants.test.ts'];
  const all = new Set(testFiles().flatMap(({ reach }) => [...reach.keys()]));
  const wrong = [...all].filter(
    (file) => file.startsWith('tests/') && /goldens\//.test(read(file)) && !may.includes(file),
  );
  expect(wrong).toEqual([]);
});
