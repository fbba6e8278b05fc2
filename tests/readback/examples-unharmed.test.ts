/**
 * No false alarm: the tables of all examples as sent, and with six digits as a spreadsheet writes them, are given no misreading; and no
 * false name: where every coefficient is off by some hundredth without a rule, none is given either.
 */
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

test.each(EXAMPLES)('%s, off without a rule: different, and by no name', (name) => {
  const design = exampleDesign(name);
  const off = csvTable(sentBy(design));
  // a roof is one number: of it any change is a factor
  for (const [k, row] of off.rows.entries())
    if (row.basis !== 'roof')
      row.coefficient_waves = String(
        Number(row.coefficient_waves) * (1 + 0.01 * Math.sin(12.9898 * (k + 1))),
      );
  const { findings } = readback(design, csvText(off));
  expect(findings.length).toBeGreaterThan(0);
  for (const { rule } of findings) expect(rule).toBe('table-differs');
});

test('there are several', () => {
  expect(EXAMPLES.length).toBeGreaterThanOrEqual(5);
});
