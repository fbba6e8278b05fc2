/** The word `drawing` of a scenario: what it gives, and what is refused, each fault at its place. */
import { expect, test } from 'vitest';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { RETURNED } from '../cli/support/returned-scenario.ts';

const read = (drawing: string) => readScenario(`${RETURNED}${drawing}\n`, 'scenario.yaml');

const EMPTY = {
  number: '',
  revision: '',
  owner: '',
  creator: '',
  approver: '',
  documentType: 'Layout drawing',
  page: '1 of 1',
  sheet: 'ISO',
  date: '',
};

test.each<[string, object]>([
  [
    'drawing: {number: HT-0417, revision: B, sheet: ANSI C, date: 2026-01-31}',
    { number: 'HT-0417', revision: 'B', sheet: 'ANSI C', date: '2026-01-31' },
  ],
  [
    'drawing: {owner: optics group, creator: 7, approver: lead, documentType: Fabrication drawing, page: 2 of 12}',
    {
      owner: 'optics group',
      creator: '7',
      approver: 'lead',
      documentType: 'Fabrication drawing',
      page: '2 of 12',
    },
  ],
  ['drawing: {number: 417, revision: 2}', { number: '417', revision: '2' }],
  ['drawing: {}', {}],
])('%s', (text, drawing) => {
  const { scenario, findings } = read(text);
  expect(findings).toEqual([]);
  expect(scenario!.drawing).toEqual({ ...EMPTY, ...drawing });
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
  ['drawing: {page: 0 of 2}', 'bad-value'],
  ['drawing: {page: 1}', 'wrong-type'],
])('%s is refused: %s', (text, rule) => {
  const { scenario, findings } = read(text);
  expect(scenario).toBeUndefined();
  expect(findings.map((finding) => finding.rule)).toEqual([rule]);
  expect(findings[0]!.place!.line).toBe(RETURNED.split('\n').length);
});
