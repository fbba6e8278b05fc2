/** What a batch takes, for the fuzz: sweeps with their tables of cases, and the summaries of shards that somebody has touched. */
import fc from 'fast-check';
import { withBranchesChanged, withBytesChanged } from './fuzz-mutation.ts';
import { bytesOf, swept, written } from './fuzz-scenarios.ts';
import { asTable, type Rows, withCellsChanged } from './fuzz-tables.ts';
import { mostly } from './fuzz-values.ts';

/** Few cases, whatever is changed: a thousand would be a thousand inputs. */
const sweeps: fc.Arbitrary<object> = fc.oneof(
  fc.record({
    values: mostly(
      fc.constantFrom(
        { a: ['60 mm', '61 mm'] },
        { a: { from: '60 mm', to: '61 mm', count: 2 } },
        { a: { from: '60 mm', to: '61 mm', step: '1 mm' } },
      ),
      {},
      { a: [] },
      { nobody: ['1 mm', '2 mm'] },
      { a: { from: '60 mm', to: '61 mm', step: 0 } },
      { a: { from: '61 mm', to: '60 mm', step: '1 mm' } },
      { a: ['60 kg', 'b/0'] },
    ),
  }),
  fc.record({
    draws: fc.record({
      count: mostly(fc.constantFrom(1, 2), 0, 1e12, 'many'),
      of: mostly(fc.constant({ a: { mean: '60 mm', deviation: '1 um' } }), {
        a: { mean: '60 mm', deviation: '1 km' },
      }),
    }),
  }),
  fc.record({
    cases: mostly(fc.constant('cases.csv'), 'nowhere.csv', '../cases.csv', '/cases.csv', 'cases.csv\u0000'),
  }),
);

const caseRows: fc.Arbitrary<Rows> = fc.constantFrom<Rows[]>(
  [
    ['case', 'a'],
    ['one', '60 mm'],
  ],
  [
    ['a', 'b'],
    ['60 mm', '12 mm'],
    ['61 mm', ''],
  ],
  [['# of a shop'], ['case', 'a', 'b'], ['first', '60 mm', '12 mm'], ['second', '61 mm', '11 mm']],
);

export interface SweptFiles {
  readonly 'in/swept.yaml': Uint8Array;
  readonly 'in/cases.csv': Uint8Array;
}
export const sweptFiles: fc.Arbitrary<SweptFiles> = fc.record({
  'in/swept.yaml': fc.oneof(
    { weight: 8, arbitrary: swept(sweeps) },
    { weight: 1, arbitrary: withBytesChanged(swept(fc.constant({ cases: 'cases.csv' })), 2) },
  ),
  'in/cases.csv': fc.oneof(
    { weight: 4, arbitrary: asTable(withCellsChanged(caseRows)) },
    { weight: 1, arbitrary: withBytesChanged(asTable(caseRows), 2) },
  ),
});

/** The summary of a shard, changed: a row's name, its index, a figure, a key, bytes. */
export const touchedSummary = (text: string): fc.Arbitrary<Uint8Array> =>
  fc.oneof(
    { weight: 1, arbitrary: fc.constant(bytesOf(text)) },
    { weight: 5, arbitrary: written(withBranchesChanged(fc.constant(JSON.parse(text) as object))) },
    { weight: 2, arbitrary: written(namesChanged(JSON.parse(text))) },
    { weight: 2, arbitrary: withBytesChanged(fc.constant(bytesOf(text)), 2) },
  );

const NAMES = [
  '..',
  '../x',
  '/x',
  'a/../../x',
  '.hidden',
  '',
  'CON',
  'a\\b',
  's0/manifest.json',
  '\u202e',
  '=1+1',
  's1',
];
const namesChanged = (summary: { readonly rows: readonly object[] }): fc.Arbitrary<object> =>
  fc
    .record({ row: fc.nat(), key: fc.constantFrom('name', 'file', 'case'), name: fc.constantFrom(...NAMES) })
    .map(({ row, key, name }) => ({
      ...summary,
      rows: summary.rows.map((each, k) =>
        k === row % summary.rows.length ? { ...each, [key]: name } : each,
      ),
    }));
