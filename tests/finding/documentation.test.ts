/** The README's tables of words, rules and errors are those of the schema and of the program's own table of codes. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
// @ts-expect-error: a script of the build, without types
import { readmeWithTables } from '../../.build/readme-tables.mjs';

test('the README says what the schema and the codes say: if not, run `npm run readme`', async () => {
  const readme = readFileSync('README.md', 'utf8');
  expect(readme).toBe(await readmeWithTables(readme));
});
