/**
 * Rows of shards' summaries as `--gather` reads them. Every spoilt key is named with its file and row; which values are spoilt is told by
 * a table of the types that the README promises of `summary.json`, not by the schema.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { readShardSummaries } from '../../src/batch/shard-summary.ts';
import { datumlight, folder, soundScenario } from '../cli/support/run.ts';

type Json = Record<string, unknown>;
interface Summary extends Json {
  rows: Json[];
}

let summary: Summary;
let shard: string;

beforeAll(async () => {
  const dir = folder();
  shard = join(dir, 'shard');
  writeFileSync(join(dir, 's.yaml'), `${soundScenario()}\nparameters: {away: 2800 mm}\n`);
  writeFileSync(join(dir, 't.yaml'), soundScenario());
  writeFileSync(join(dir, 'u.yaml'), 'format: nonsense\n');
  const { code } = await datumlight(['batch', '*.yaml', '--out', 'shard', '--no-cache'], { cwd: dir });
  expect(code).toBe(2);
  summary = JSON.parse(readFileSync(join(shard, 'summary.json'), 'utf8'));
});

/** What is said of a summary, a line for each finding. */
function saidOf(changed: unknown): string[] {
  writeFileSync(join(shard, 'summary.json'), typeof changed === 'string' ? changed : JSON.stringify(changed));
  const read = readShardSummaries([shard]);
  if ('shards' in read) return [];
  return read.findings.map(({ where, message }) => `${where}: ${message}`);
}

/** The summary with one row changed. */
const withRow = (k: number, change: Json): Summary => ({
  ...summary,
  rows: summary.rows.map((row, j) => (j === k ? { ...row, ...change } : row)),
});

const NOT_TEXT = [null, 3, true, [], {}];
const NOT_COUNT = [null, -1, 1.5, '3', true, [], {}];
const NOT_FIGURE = [-1, '3', true, [], {}, Number.NaN].filter((value) => !Number.isNaN(value));
const NOT_FLAG = [null, 0, 'yes', [], {}];
const NOT_TEXTS = [null, 'x', 3, {}, [3], [null], [['x']]];
const SPOILT: Readonly<Record<string, readonly unknown[]>> = {
  index: [...NOT_COUNT, 0],
  name: [
    ...NOT_TEXT,
    '',
    '..',
    '../x',
    '/x',
    'a//b',
    'a/b/c',
    'a\\b',
    'CON',
    '.x',
    'summary.json',
    'a\u202eb',
    'x ',
  ],
  file: [...NOT_TEXT, ''],
  case: [3, true, [], {}],
  outcome: [...NOT_TEXT, '', 'good', 'Fine'],
  written: [...NOT_FLAG, false],
  parameters: [null, {}, ['x'], [{ name: 'a', unit: 'mm' }], [{ name: '=a', unit: 'mm', value: 1 }]],
  errors: [...NOT_COUNT, 1],
  warnings: NOT_COUNT,
  rules: [...NOT_TEXTS, ['=x'], ['a b']],
  says: NOT_TEXTS,
  patches: NOT_COUNT.slice(1),
  references: NOT_COUNT.slice(1),
  minPeriod_um: NOT_FIGURE,
  worstResolution_um: NOT_FIGURE,
  worstSigma_um: NOT_FIGURE,
  partTranslation_um: NOT_FIGURE,
  partRotation_urad: NOT_FIGURE,
  unobserved: [...NOT_TEXTS, ['w']],
  reached: [3, [], {}, { x: 1 }, { x: '1', y: 1, z: 1, rx: 1, ry: 1, rz: 1 }],
  wanted: [3, [], {}, { x: 1, y: 1, z: 1, rx: 1, ry: 1, rz: 1, w: 1 }],
  extent_mm: [3, {}, [], [1, 2, 3], [1, 2, 3, 4, 5], [1, 2, 3, '4']],
};

test('what a batch wrote is read as it stands, and the table below has every key of a row', () => {
  expect(saidOf(summary)).toEqual([]);
  expect(summary.rows.map(({ outcome }) => outcome)).toEqual(['fine', 'fine', 'unusable']);
  expect(Object.keys(summary.rows[0]!).sort()).toEqual(Object.keys(SPOILT).sort());
});

describe('a spoilt row is named by file, row and key', () => {
  test.each(Object.entries(SPOILT))('%s', (key, values) => {
    for (const value of values) {
      const said = saidOf(withRow(1, { [key]: value })).join('\n');
      expect(said, JSON.stringify(value)).toContain(`${join(shard, 'summary.json')}: row 2`);
      expect(said, JSON.stringify(value)).toMatch(new RegExp(`\`${key}\\b`));
    }
    const { [key]: _, ...rest } = summary.rows[1]!;
    const missing = saidOf({ ...summary, rows: [summary.rows[0], rest, summary.rows[2]] }).join('\n');
    expect(missing).toMatch(new RegExp(`row 2.*: \`${key}\` is missing`));
  });

  test.each([
    ['a row that is no object', (s: Summary) => ({ ...s, rows: [3] }), /row 1: it is `3`/],
    ['an unknown key', () => withRow(0, { extra: 1 }), /row 1 \(`s`\): `extra` is not a key/],
    ['a key that a prototype has', () => withRow(0, { constructor: 1 }), /row 1.*`constructor` is not a key/],
    [
      'a figure past all numbers',
      (s: Summary) => JSON.stringify(s).replace('"total":3', '"total":1e999'),
      /`total`/,
    ],
    [
      'an index past the end',
      () => withRow(1, { index: 4 }),
      /row 2 \(`t`\): `index` is 4, but `total` is 3/,
    ],
    ['an index twice', () => withRow(1, { index: 1 }), /row 2 \(`t`\): `index` is 1, as in an earlier row/],
    [
      'a name twice but for case',
      () => withRow(1, { name: 'S' }),
      /row 2 \(`S`\): `name` is `S`, as in an earlier/,
    ],
    ['no rows', (s: Summary) => ({ ...s, rows: null }), /`rows` is/],
    ['a head without a total', ({ total: _, ...s }: Summary) => s, /`total` is missing/],
    ['a hash that is none', (s: Summary) => ({ ...s, batch: 'x' }), /`batch` is `x`; it must match/],
    ['another file', () => ({ rows: [] }), /is not the summary of a batch/],
    ['no JSON', () => '{', /cannot be read/],
    ['half a file', (s: Summary) => JSON.stringify(s).slice(0, 300), /cannot be read/],
  ] as const)('%s', (_, change, said) => {
    expect(saidOf((change as (s: Summary) => unknown)(summary)).join('\n')).toMatch(said);
  });
});

test('all spoilt rows are told at once; past twenty faults they are counted', () => {
  const three = { ...summary, rows: summary.rows.map((row) => ({ ...row, warnings: -1 })) };
  expect(saidOf(three).map((line) => /row (\d)/.exec(line)?.[1])).toEqual(['1', '2', '3']);
  const many = { ...summary, rows: Array.from({ length: 5000 }, () => ({ ...summary.rows[0], says: null })) };
  const said = saidOf(many);
  expect(said).toHaveLength(21);
  expect(said.at(-1)).toContain('4980 more faults');
});

test('the executable ends in 2 with every spoilt shard named, and writes nothing', async () => {
  const dir = folder();
  for (const [name, change] of [
    ['p1', { errors: -1 }],
    ['p2', { outcome: 'good' }],
  ] as const) {
    mkdirSync(join(dir, name));
    writeFileSync(join(dir, name, 'summary.json'), JSON.stringify(withRow(0, change)));
  }
  const { code, stdout, stderr } = await datumlight(['batch', '--gather', 'p1', 'p2', '--out', 'out'], {
    cwd: dir,
  });
  expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
  expect(stderr).toMatch(/p1\/summary\.json: row 1 \(`s`\): `errors` is `-1`; it must be >= 0/);
  expect(stderr).toMatch(/p2\/summary\.json: row 1 \(`s`\): `outcome` is `good`; it must be .*fine, broken/);
  expect(() => readFileSync(join(dir, 'out', 'summary.json'))).toThrow(/ENOENT/);
});
