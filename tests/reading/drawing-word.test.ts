/** The word `drawing` of a scenario: what it gives, and what is refused, each fault at its place. */
import { expect, test } from 'vitest';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { RETURNED } from '../cli/support/returned-scenario.ts';

const read = (drawing: string) => readScenario(`${RETURNED}${drawing}\n`, 'scenario.yaml');

test.each([
  [
    'drawing: {number: HT-0417, revision: B, sheet: ANSI C, date: 2026-01-31}',
    { number: 'HT-0417', revision: 'B', sheet: 'ANSI C', date: '2026-01-31' },
  ],
  ['drawing: {number: 417, revision: 2}', { number: '417', revision: '2', sheet: 'ISO', date: '' }],
  ['drawing: {}', { number: '', revision: '', sheet: 'ISO', date: '' }],
])('%s', (text, drawing) => {
  const { scenario, findings } = read(text);
  expect(findings).toEqual([]);
  expect(scenario!.drawing).toEqual(drawing);
});

test('a scenario without it has none', () => {
  expect(read('').scenario!.drawing).toBeUndefined();
});

test.each([
  ['drawing: {sheet: A7}', 'bad-value'],
  ['drawing: {revison: B}', 'unknown-key'],
  ['drawing: {number: [1]}', 'wrong-type'],
  ['drawing: B', 'wrong-type'],
  ['drawing: {date: 31.1.2026}', 'bad-value'],
])('%s is refused: %s', (text, rule) => {
  const { scenario, findings } = read(text);
  expect(scenario).toBeUndefined();
  expect(findings.map((finding) => finding.rule)).toEqual([rule]);
  expect(findings[0]!.place!.line).toBe(RETURNED.split('\n').length);
});
