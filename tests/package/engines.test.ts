/** Where a version of Node is named, it is one that the package is run on: what npm asks, what the README says, the bundler's target, the gate. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { MAJORS } from './support/nodes.ts';

test.each([
  ['package.json', /"node": "(>=\d+)"/g, [`>=${MAJORS[0]}`]],
  ['README.md', /Node (\d+ or newer)/g, [`${MAJORS[0]} or newer`]],
  ['.build/bundle.mjs', /target: '(node\d+)'/g, [`node${MAJORS[0]}`]],
  ['.ci/run', /\b(\d\d)\.\d+\.\d+\b/g, MAJORS],
])('%s names the versions that are run', (file, pattern, versions) => {
  const named = [...readFileSync(file, 'utf8').matchAll(pattern)].map(([, name]) => name);
  expect([...new Set(named)]).toEqual(versions);
});
