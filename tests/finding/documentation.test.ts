/** The tables of words, rules and errors in schemas/README.md are those of the schema and of the program's own table of codes. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
// @ts-expect-error: a script of the build, without types
import { pageWithTables } from '../../.build/readme-tables.mjs';

test('schemas/README.md says what the schema and the codes say: if not, run `npm run readme`', async () => {
  const page = readFileSync('schemas/README.md', 'utf8');
  expect(page).toBe(await pageWithTables(page));
});
