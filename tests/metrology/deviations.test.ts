/** Where a log departs from the order of work: one row for each departure, and none where there is none. */
import { expect, test } from 'vitest';
import { deviationsOf, missingRounds } from '../../src/metrology/alignment/deviations.ts';

const ORDER = ['a', 'b', 'c', 'c', 'd'].map((kind) => ({ kind, title: kind.toUpperCase() }));
/** `b@09:30`: step b with its time. */
const done = (...steps: string[]) =>
  steps.map((step) => {
    const [name, at] = step.split('@');
    return { step: name!, at };
  });

test.each<[string, string[], string[]]>([
  ['all steps in order', ['a', 'b', 'c', 'd'], []],
  ['with times that rise', ['a@09:10', 'b@09:10', 'c@10:00', 'd@23:59'], []],
  ['a step left out', ['a', 'b', 'd'], ['left out c']],
  ['an empty log', [], ['left out a', 'left out b', 'left out c', 'left out d']],
  ['two steps exchanged', ['a', 'c', 'b', 'd'], ['out of order b']],
  ['the last step first', ['d', 'a', 'b', 'c'], ['out of order a', 'out of order b', 'out of order c']],
  ['a step done again', ['a', 'b', 'a', 'c', 'd'], ['repeated a']],
  ['a step that the order does not have', ['a', 'x', 'b', 'c', 'd'], ['not in the order x']],
  ['a time before the last', ['a@10:00', 'b@09:59', 'c', 'd'], ['time runs back b']],
  [
    'days and times',
    ['a@2026-01-31 23:50', 'b@2026-02-01T00:10', 'c@2026-01-31 23:00', 'd'],
    ['time runs back c'],
  ],
  ['times of two forms are not compared', ['a@2026-01-31 10:00', 'b@09:00', 'c@early', 'd@1'], []],
])('%s', (_, steps, expected) => {
  const found = deviationsOf(done(...steps), ORDER).map(({ kind, step }) => `${kind} ${step}`);
  expect(found).toEqual(expected);
});

test('each round that was not read is a departure, in words', () => {
  expect(missingRounds(['before', 'clamped', 'reseated'])).toEqual([]);
  expect(missingRounds(['before']).map(({ words }) => words)).toEqual([
    'No readings after clamping',
    'No readings after taking the references out and putting them back',
  ]);
});
