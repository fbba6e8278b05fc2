/** A slip with errors by the dozen, as `check` tells it: the cause, the first error of each rule whole, the others by name; with --json all of them. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { datumlight, example, scenarioFile } from './support/run.ts';

const text = readFileSync(example('converging-retroreflectors'), 'utf8');
const slow = (): string => scenarioFile(text.replace('fNumber: 8', 'fNumber: 80'));

test('the cause stands first, then each rule once with what else it is about', async () => {
  const { code, stdout } = await datumlight(['check', slow()]);
  expect(code).toBe(1);
  const [first] = stdout.split('\n');
  expect(first).toMatch(
    /:16:12: .*`interferometer\.fNumber` is 80, .*no patch is lit; .* \[note one-cause\]$/,
  );
  expect(stdout.match(/\[error unlit\]$/gm)).toHaveLength(1);
  expect(stdout).toMatch(/^ {2}and 8 more \[error unlit\]: north-radius; .*; east-across$/m);
  expect(stdout).toMatch(/13 errors, 1 warning\n/);
});

test('--json lists each error, marked', async () => {
  const { stdout } = await datumlight(['check', slow(), '--json']);
  const { findings } = JSON.parse(stdout);
  expect(findings[0]).toMatchObject({ severity: 'note', rule: 'one-cause', where: 'interferometer.fNumber' });
  const unlit = findings.filter(({ rule }: { rule: string }) => rule === 'unlit');
  expect(unlit).toHaveLength(9);
  for (const { follows } of unlit)
    expect(follows).toEqual({ rule: 'one-cause', where: 'interferometer.fNumber' });
});
