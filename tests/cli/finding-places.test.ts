/** Where a finding points: line and column of the scenario at which what it is about is named. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { datumlight, example } from './support/run.ts';

interface Printed {
  readonly rule: string;
  readonly where: string;
  readonly place: { readonly line: number; readonly column: number };
}

test('each rule points to the patch that it is about, or to its bias', async () => {
  const file = example('broken-rules');
  const lines = readFileSync(file, 'utf8').split('\n');
  const { stdout } = await datumlight(['check', file, '--json']);
  const found: Printed[] = JSON.parse(stdout).findings;
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
