/**
 * Tables as trackers and their programs export them, each of a form of its own (tracker-exports/), through `transfer`: all are of one mirror,
 * off its place by the same known amounts. Their places were worked out apart from the program, from the example's dimensions: rims of
 * balls on a cylinder and a plane, a ball in a vee, turned by Rodrigues' formula, without noise; digits as printed.
 */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, test } from 'vitest';
import { run } from './support/command.ts';

const SCENARIO = resolve('examples/transfer-mirror-on-rim.yaml');
const fixture = (name: string): string => resolve('tests/end-to-end/tracker-exports', name);

/** Of the mirror: µm and µrad. */
const OFF: Readonly<Record<string, number>> = { x: 120, y: -90, z: 200, rx: 150, ry: -250, rz: 400 };
/** Coordinates are printed to 0.1 µm, angles to some 1e-9 rad at 4.5 m: half a micrometre and a few microradians come of it. */
const ROUNDED = 3;

interface Form {
  readonly file: string;
  readonly options?: readonly string[];
  /** What is refused without the options. */
  readonly refused?: RegExp;
  readonly table: Readonly<Record<string, unknown>>;
  /** Column, what it holds, unit, and where the unit stands. */
  readonly column: readonly [column: string, holds: string, unit: string, from: string];
}

const MILLIMETRES = 'with `--unit mm` or `--unit in`';
const FORMS: readonly Form[] = [
  {
    file: '01-semicolons-decimal-comma.csv',
    table: { separator: 'semicolon', decimal: 'comma', left: ['Time'], linesPassedOver: [1, 2] },
    column: ['Z [mm]', 'z', 'mm', 'column'],
  },
  { file: '02-tabs-metres.txt', table: { separator: 'tab' }, column: ['X (m)', 'x', 'm', 'column'] },
  {
    file: '03-blanks-inches.txt',
    table: { separator: 'blanks', linesPassedOver: [1, 2], renamed: [] },
    column: ['Y', 'y', 'in', 'line'],
  },
  {
    file: '04-no-unit.csv',
    options: ['--unit', 'mm'],
    refused: new RegExp(`04-no-unit.csv:1:6: column "x" has no length unit.*${MILLIMETRES}.*bad-table`),
    table: { separator: 'comma', decimal: 'point', left: [], linesPassedOver: [] },
    column: ['x', 'x', 'mm', 'option'],
  },
  {
    file: '05-no-header.txt',
    options: ['--columns', '-,name,x_mm,y_mm,z_mm,-'],
    refused:
      /05-no-header.txt:1:1: the first line contains numbers, not column names.*`--columns`.*bad-table/,
    table: { separator: 'blanks', left: [], linesPassedOver: [] },
    column: ['z_mm', 'z', 'mm', 'column'],
  },
  {
    file: '06-zenith-gon.csv',
    table: { coordinates: 'spherical', verticalAnglesFrom: 'zenith', decimal: 'comma', left: ['Prism'] },
    column: ['Hz [gon]', 'azimuth', 'gon', 'column'],
  },
  { file: '07-repeats.csv', table: { renamed: [] }, column: ['x_mm', 'x', 'mm', 'column'] },
  {
    file: '08-row-of-units.csv',
    table: { left: ['Temperature'], coordinates: 'cartesian', verticalAnglesFrom: null },
    column: ['Y', 'y', 'mm', 'row'],
  },
  { file: '09-quotes-capitals.csv', table: { separator: 'comma' }, column: ['X_MM', 'x', 'mm', 'column'] },
  {
    file: '10-uncertainties-and-more.csv',
    table: { left: ['Nr', 'RMS [mm]', 'Date'] },
    column: ['Uz [um]', 'sz', 'um', 'column'],
  },
  {
    file: '11-radians-sides.txt',
    table: { coordinates: 'spherical', verticalAnglesFrom: 'horizon' },
    column: ['Azimuth [rad]', 'azimuth', 'rad', 'column'],
  },
  {
    file: '12-both-coordinates.csv',
    options: ['--columns', 'name,-,-,-,azimuth_deg,elevation_deg,range_mm'],
    refused: /12-both-coordinates.csv:2:1: the table has x, y, z and range, azimuth.*`--columns`.*bad-table/,
    table: { coordinates: 'spherical', left: [], linesPassedOver: [1] },
    column: ['range_mm', 'range', 'mm', 'column'],
  },
];

test.each(FORMS)('$file gives the mirror’s errors, and tells how it was read', async (form) => {
  const args = ['transfer', SCENARIO, '--points', fixture(form.file), ...(form.options ?? [])];
  const { code, stdout } = await run([...args, '--json']);
  expect(code).toBe(0);
  const { part, table } = JSON.parse(stdout);
  const found = { ...part.error_um, ...part.error_urad };
  for (const [degree, value] of Object.entries(OFF))
    expect(Math.abs(found[degree] - value), degree).toBeLessThan(ROUNDED);
  expect(table).toMatchObject(form.table);
  const [column, holds, unit, unitFrom] = form.column;
  expect(table.columns).toContainEqual({ column, holds, unit, unitFrom });
});

test.each(FORMS.filter(({ refused }) => refused !== undefined))(
  '$file is refused without its options',
  async ({ file, refused }) => {
    const { code, stderr } = await run(['transfer', SCENARIO, '--points', fixture(file)]);
    expect(code).toBe(2);
    expect(stderr).toMatch(refused!);
  },
);

test('the operator reads what was recognised before the moves', async () => {
  const { stdout } = await run([
    'transfer',
    SCENARIO,
    '--points',
    fixture('01-semicolons-decimal-comma.csv'),
  ]);
  const [first, columns, left, lines, names] = stdout.split('\n');
  expect(first).toBe('Table read: x, y, z; semicolons between columns, decimal comma.');
  expect(columns).toBe('  columns: Point; X [mm] as x in mm; Y [mm] as y in mm; Z [mm] as z in mm');
  expect(left).toBe('  columns not used: Time');
  expect(lines).toBe('  lines passed over: 1, 2');
  expect(names).toMatch(/^ {2}names read as: Tower_1 as tower-1; .*Groove as groove$/);
});

test('points measured three times are told with their number and their scatter', async () => {
  const file = fixture('07-repeats.csv');
  const { stdout } = await run(['transfer', SCENARIO, '--points', file, '--json']);
  // Offsets of the three rounds along x, y, z, µm: 12 −8 −4; −6 10 −4; 4 6 −10. Sums of squares 224, 152, 152 over two.
  const scatter = [224, 152, 152].map((sum) => Math.sqrt(sum / 2));
  const { repeated } = JSON.parse(stdout);
  expect(repeated).toHaveLength(9);
  for (const { count, scatter_um } of repeated) {
    expect(count).toBe(3);
    ['x', 'y', 'z'].forEach((axis, k) => {
      expect(Math.abs(scatter_um[axis] - scatter[k]!)).toBeLessThan(0.1);
    });
  }
  const words = await run(['transfer', SCENARIO, '--points', file]);
  expect(words.stdout).toMatch(
    /^Measured several times: the mean is used; .*µm:\n {2}tower-1: 3 times, 10\.6, 8\.7, 8\.7$/m,
  );
});

test.each([
  ['--unit', 'furlong', 'unknown-unit', /"furlong" is not a supported unit of length or angle/],
  ['--unit', 'mm,in', 'conflicting-keys', /gives two units of length, mm and in/],
])('%s %s is refused', async (option, value, rule, message) => {
  const args = ['transfer', SCENARIO, '--points', fixture('04-no-unit.csv'), option, value, '--json'];
  const { code, stdout } = await run(args);
  expect(code).toBe(2);
  const [finding] = JSON.parse(stdout).findings;
  expect(finding).toMatchObject({ rule });
  expect(finding.message).toMatch(message);
});

test('values in inches said to be millimetres are refused by their scale', async () => {
  const table = readFileSync(fixture('03-blanks-inches.txt'), 'utf8').replace(/^.*\n.*\n/, '');
  const { code, stderr } = await run(['transfer', SCENARIO, '--points', '-', '--unit', 'mm'], table);
  expect(code).toBe(2);
  expect(stderr).toMatch(/inches where millimetres are expected.*mixed-units/);
});
