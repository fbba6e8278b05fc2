/**
 * `schemas/report.schema.json` describes every report that the program writes: `check --json` of each example, and `report.json` of a
 * package with the written pattern. Validated by ajv (JSON Schema draft 2020-12), which knows nothing of the program.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import Ajv2020 from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import type { Report } from '../../src/writing/report/report-form.ts';
import { datumlight, folder } from './support/run.ts';

const schema = JSON.parse(readFileSync('schemas/report.schema.json', 'utf8'));
const validate = new Ajv2020.default({ allErrors: true, strict: true, allowUnionTypes: true }).compile(
  schema,
);
const faultsOf = (report: unknown): unknown => (validate(report) ? [] : validate.errors);

const EXAMPLES = ['examples', 'examples/sweeps'].flatMap((folderName) =>
  readdirSync(folderName)
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => `${folderName}/${name}`),
);

const reportOf = async (file: string): Promise<Report> =>
  JSON.parse((await datumlight(['check', '--json', file])).stdout);

describe('check --json', () => {
  test('there are examples of every beam and with seats', () => {
    expect(EXAMPLES.length).toBeGreaterThanOrEqual(8);
  });

  test.each(EXAMPLES)('%s', async (file) => {
    const report = await reportOf(file);
    expect(faultsOf(report)).toEqual([]);
    // What `plan` is to fill in is no design yet: findings are all there is to say of it.
    expect('patches' in report).toBe(!file.includes('plan-'));
  });
});

test('report.json of a package with the written pattern', async () => {
  const out = join(folder(), 'package');
  const { code } = await datumlight([
    'make',
    'examples/diverging-balls.yaml',
    '--out',
    out,
    '--pattern',
    'gds',
  ]);
  expect(code).toBe(0);
  const report = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8'));
  expect(report.pattern.files).toHaveLength(1);
  expect(faultsOf(report)).toEqual([]);
});

describe('a report of another form is refused', async () => {
  const report = await reportOf('examples/full-bench.yaml');
  const { format: _, ...formless } = report;
  const [first, ...rest] = report.patches;
  const withFirst = (changed: object): object => ({
    ...report,
    patches: [{ ...first, ...changed }, ...rest],
  });
  test.each([
    ['a key that it does not know', { ...report, extra: 1 }],
    ['a missing key', formless],
    ['a text for a number', withFirst({ distance_mm: '500' })],
    ['a radius for a diameter', withFirst({ outline: { shape: 'circle', centre_mm: [0, 0], radius_mm: 5 } })],
    ['a point of two coordinates for one of three', withFirst({ target: [0, 0] })],
    ['a severity that there is not', { ...report, findings: [{ severity: 'fatal' }] }],
  ])('%s', (_, other) => {
    expect(faultsOf(other)).not.toEqual([]);
  });
});
