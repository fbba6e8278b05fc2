/** No false alarm: the tables of all examples as sent, and with six digits as a spreadsheet writes them, are given no misreading. */
import { readdirSync } from 'node:fs';
import { expect, test } from 'vitest';
import { csvTable, csvText } from '../cli/support/coefficient-csv.ts';
import { exampleDesign } from '../metrology/support/bench.ts';
import { readback, sentBy } from './support/returned-table.ts';
import '../machine/patience.ts';

const EXAMPLES = readdirSync('examples').flatMap((name) => {
  const own = /^([\w-]+)\.yaml$/.exec(name)?.[1];
  return own === undefined || own.startsWith('broken') || own.startsWith('plan') ? [] : [own];
});

test.each(EXAMPLES)('%s', (name) => {
  const design = exampleDesign(name);
  const sent = sentBy(design);
  expect(readback(design, sent).said).toBe('');
  const six = csvTable(sent);
  for (const row of six.rows)
    row.coefficient_waves = String(Number(Number(row.coefficient_waves).toPrecision(6)));
  // thousands of waves keep two decimals: too few, and no more than that is wrong
  for (const { rule } of readback(design, csvText(six)).findings) expect(rule).toBe('table-rounded');
});

test('there are several', () => {
  expect(EXAMPLES.length).toBeGreaterThanOrEqual(5);
});
