/** What cases a sweep comes to, and that each reads as the scenario with its parameters replaced. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { type Case, type Entry, isCase, scenarioHashOf } from '../../src/batch/case.ts';
import { listCases } from '../../src/batch/list-cases.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { withoutSweep } from '../../src/reading/scenario/without-sweep.ts';
import { soundScenario } from '../cli/support/run.ts';
import { temporaryFolder } from '../machine/temporary-folder.ts';

const BASE = soundScenario((text) =>
  text.replace('light:', 'parameters: {away: 2800 mm, high: 250}\nlight:'),
);

function entries(files: Record<string, string>): readonly Entry[] {
  const folder = temporaryFolder();
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  const scenarios = Object.keys(files).filter((name) => name.endsWith('.yaml'));
  return listCases(scenarios.map((name) => join(folder, name)));
}

const swept = (sweep: string): string => `${BASE}sweep:\n${sweep}`;
const settings = (list: readonly Entry[]): unknown =>
  Object.fromEntries((list as Case[]).map(({ name, overrides }) => [name, Object.fromEntries(overrides)]));
const saying = (list: readonly Entry[]): string =>
  list.flatMap((entry) => (isCase(entry) ? [] : entry.findings.map(({ message }) => message))).join('\n');

test('lists and ranges give every combination, the last one varying fastest', () => {
  const list = entries({
    's.yaml': swept('  values:\n    away: [2700 mm, 2.8 m]\n    high: {from: 240, to: 260, step: 10}\n'),
  });
  expect(settings(list)).toEqual({
    's/1': { away: '2700 mm', high: 240 },
    's/2': { away: '2700 mm', high: 250 },
    's/3': { away: '2700 mm', high: 260 },
    's/4': { away: '2.8 m', high: 240 },
    's/5': { away: '2.8 m', high: 250 },
    's/6': { away: '2.8 m', high: 260 },
  });
});

test('a range by count reaches both ends, in the unit of its kind', () => {
  const list = entries({ 's.yaml': swept('  values: {away: {from: 2.7 m, to: 2800 mm, count: 3}}\n') });
  expect((list as Case[]).map(({ overrides }) => overrides[0]![1])).toEqual([
    '2700 mm',
    '2750 mm',
    '2800 mm',
  ]);
});

test('cases come from a CSV beside the scenario, named by its column `case`; an empty field keeps the base value', () => {
  const list = entries({
    's.yaml': swept('  cases: table.csv\n'),
    'table.csv': '# measured\ncase,away,high\ncold,2790 mm,\nhot,"2810 mm",251\n',
  });
  expect(settings(list)).toEqual({
    's/cold': { away: '2790 mm' },
    's/hot': { away: '2810 mm', high: '251' },
  });
});

test.each([
  ['case,awy\na,1\n', 'there is no parameter `awy`'],
  ['case,away\na,1\na,2\n', 'the case `a` appears twice'],
  ['case,away\n../a,1\n', 'the case `../a` cannot be used as a folder name'],
  ['away,high\n1\n', 'has 1 fields but the header has 2 columns'],
  ['away,away\n1,2\n', 'the column `away` appears twice'],
  ['away\n', 'a header but no rows'],
  ['away\n"1\n', 'a quote is never closed'],
])('a table of cases that cannot be used: %j', (table, message) => {
  const list = entries({ 's.yaml': swept('  cases: table.csv\n'), 'table.csv': table });
  expect(list).toHaveLength(1);
  expect(saying(list)).toContain(message);
});

test('draws have their laws, and more draws leave the first ones as they are', () => {
  const drawn = (count: number): number[] => {
    const text = swept(`  draws: {count: ${count}, seed: 3, of: {away: {mean: 2800 mm, deviation: 2 mm}}}\n`);
    return (entries({ 's.yaml': text }) as Case[]).map(({ overrides }) =>
      Number(String(overrides[0]![1]).replace(' mm', '')),
    );
  };
  const many = drawn(4000);
  expect(drawn(5)).toEqual(many.slice(0, 5));
  const mean = many.reduce((sum, value) => sum + value, 0) / many.length;
  const spread = Math.sqrt(many.reduce((sum, value) => sum + (value - mean) ** 2, 0) / many.length);
  // Four standard errors of the mean and of the standard deviation.
  expect(Math.abs(mean - 2800)).toBeLessThan((4 * 2) / Math.sqrt(4000));
  expect(Math.abs(spread - 2)).toBeLessThan((4 * 2) / Math.sqrt(8000));
});

test('a case is the scenario with its parameters replaced', () => {
  const [one] = entries({ 's.yaml': swept('  values: {away: [2750 mm]}\n') }) as Case[];
  const { scenario } = readScenario(one!.source.text, 's.yaml', new Map(one!.overrides));
  const { scenario: written } = readScenario(BASE.replace('2800 mm', '2750 mm'), 's.yaml');
  expect(scenario).toEqual(written);
});

test('a change of the sweep leaves the identity of the cases that stay', () => {
  const hashes = (sweep: string): Map<string, string> =>
    new Map(
      (entries({ 's.yaml': swept(sweep) }) as Case[]).map((one) => [
        String(one.overrides[0]![1]),
        scenarioHashOf(one),
      ]),
    );
  const few = hashes('  values: {away: [2700 mm, 2750 mm]}\n');
  const more = hashes('  values:\n    away:\n      - 2750 mm\n      - 2760 mm\n      - 2700 mm\n');
  for (const [value, hash] of few) expect(more.get(value)).toBe(hash);
  expect(new Set(more.values()).size).toBe(3);
});

test('the text without its sweep keeps every line in its place', () => {
  const text = `format: datumlight/1\nsweep:\n  values:\n    a: [1]\n\n# about light\nlight: {wavelength: 1}\n`;
  expect(withoutSweep(text).split('\n').indexOf('light: {wavelength: 1}')).toBe(6);
  expect(withoutSweep(text)).not.toContain('values');
});

test.each([
  ['values: {awy: [1]}', 'no parameter `awy`'],
  ['values: {away: {from: 1 mm, to: 2 deg, count: 3}}', '`from` is a length, `to` is an angle'],
  ['values: {away: {from: 1 mm, to: 2 mm}}', 'needs a spacing'],
  ['values: {away: {from: 1 mm, to: 2 mm, step: -1 mm}}', 'leads away'],
  [
    'values: {away: [1]}\n  draws: {count: 1, of: {away: {from: 1, to: 2}}}',
    'two sections of the sweep vary `away`',
  ],
  ['draws: {count: 0, of: {}}', '`count` is 0'],
  ['draws: {count: 60000, of: {high: {from: 1, to: 2}}}\n  values: {away: [1, 2]}', '120000 cases'],
  ['cases: [{case: ../x, away: 1}]', 'cannot be used as a file name'],
  ['cases: nowhere.csv', 'cannot be read'],
])('a sweep that cannot be used: %s', (sweep, message) => {
  const list = entries({ 's.yaml': swept(`  ${sweep}\n`) });
  expect(list).toHaveLength(1);
  expect(saying(list)).toContain(message);
});
