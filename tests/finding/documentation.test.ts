/** The README's tables say what the program's own tables say. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { CODES } from '../../src/finding/codes.ts';

const readme = readFileSync('README.md', 'utf8');

test('every rule and every error code has its row in the README, with its meaning and its remedy', () => {
  const missing = Object.entries(CODES)
    .map(([code, { meaning, remedy }]) => `| \`${code}\` | ${meaning} | ${remedy} |`)
    .filter((row) => !readme.includes(row));
  expect(missing).toEqual([]);
});

test('the README has no row for a code that does not exist', () => {
  const section = readme.slice(readme.indexOf('## Rules'), readme.indexOf('## Licence'));
  const rows = [...section.matchAll(/^\| `([a-z-]+)` \|/gm)].map(([, code]) => code);
  expect(rows.filter((code) => !(code in CODES))).toEqual([]);
});
