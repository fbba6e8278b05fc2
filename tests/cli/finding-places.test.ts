/** Where a finding points: line and column of the scenario at which what it is about is named. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { datumlight, example } from './support/run.ts';

interface Printed {
  readonly rule: string;
  readonly message: string;
  readonly value: number;
  readonly where: string;
  readonly place: { readonly line: number; readonly column: number };
}

const file = example('broken-rules');
const { stdout } = await datumlight(['check', file, '--json']);
const found: readonly Printed[] = JSON.parse(stdout).findings;

test('each rule points to the patch that it is about, or to its bias', () => {
  const lines = readFileSync(file, 'utf8').split('\n');
  const seen = found.map(({ rule, place }) => [rule, lines[place.line - 1].slice(place.column - 1)]);
  // Of two patches that overlap, the one that stands later in the file.
  expect(seen).toEqual([
    ['patch-overlap', expect.stringMatching(/^near-2,/)],
    ['keep-out', expect.stringMatching(/^far-2 /)],
    ['off-substrate', expect.stringMatching(/^wide-1 /)],
    ['unlit', expect.stringMatching(/^wide-1 /)],
    ['feature-too-small', expect.stringMatching(/^wide-1 /)],
    ['bias-cancels', expect.stringMatching(/^\{shape: tilt, fringes: 2\}$/)],
    ['undersampled', expect.stringMatching(/^wide-1 /)],
  ]);
  for (const { where } of found) expect(where).toMatch(/^(near|far|wide)-\d/);
});

test('distances are told from what they are measured, by plane geometry', () => {
  const saying = (rule: string) => found.find((one) => one.rule === rule)!;
  // wide-1: a rectangle of 10 by 5 mm about (66, -14) on a glass of 75 mm radius.
  const corner = Math.hypot(71, 16.5);
  expect(saying('off-substrate').message).toContain(
    `patch wide-1 is ${(75 - corner).toFixed(6)} mm from the substrate's edge; the edge margin is 3 mm`,
  );
  expect(saying('unlit').message).toContain(
    `patch wide-1 extends to ${corner.toFixed(6)} mm from the beam's axis`,
  );
  // far-2: a square of 10 mm about (46, 17), and a keep-out of 45 mm radius.
  const into = 45 - Math.hypot(41, 12);
  expect(saying('keep-out').message).toContain(
    `patch far-2 extends ${into.toFixed(6)} mm into keep-out main`,
  );
  expect(saying('keep-out').value).toBeCloseTo(-into, 9);
});
