/** `phase` through the real executable. */
import { readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { jsonText } from '../../src/writing/json.ts';
import { datumlight, example, executable, folder, scenarioFile, soundScenario } from './support/run.ts';

const points = (text: string): string => {
  const file = join(folder(), 'points.csv');
  writeFileSync(file, text);
  return file;
};

test('phase is zero at the centre, and the CSV keeps the points as written', async () => {
  const scenario = scenarioFile(soundScenario());
  const csv = points('x_mm,y_mm\n60,0\n60.50,-1e0\n');
  const { code, stdout, stderr } = await datumlight([
    'phase',
    scenario,
    '--patch',
    'near-1',
    '--points',
    csv,
  ]);
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  const lines = stdout.trimEnd().split('\n');
  expect(lines[0]).toBe('x_mm,y_mm,phase_waves,period_um');
  expect(lines[1]).toMatch(/^60,0,0\.000000000,\d+\.\d{6}$/);
  expect(lines[2]).toMatch(/^60\.50,-1e0,-?\d+\.\d{9},\d+\.\d{6}$/);
});

test('the closed form without glass, by hand', async () => {
  const scenario = scenarioFile(
    soundScenario((text) => text.replace('    bias: {shape: roof, fringes: 1}\n', '')),
  );
  const { stdout } = await datumlight(['phase', scenario, '--patch', 'near-1', '--points', '-'], {
    input: 'x_mm,y_mm\n63,2\n',
  });
  const E = (x: number, y: number): number => -Math.hypot(90 - x, 20 - y, 130) - Math.hypot(x, y, 500);
  const expected = (E(63, 2) - E(60, 0)) / 632.8e-6;
  expect(Number(stdout.split('\n')[1].split(',')[2])).toBeCloseTo(expected, 6);
});

test('answers where a rule is broken', async () => {
  const { code, stdout } = await datumlight(
    ['phase', example('broken-rules'), '--patch', 'near-1', '--points', '-'],
    {
      input: 'x_mm,y_mm\n0,58\n',
    },
  );
  expect(code).toBe(0);
  expect(stdout).toContain('0,58,0.000000000,');
});

test('columns are found by name, in any order, past comments, BOM and CRLF', async () => {
  const { stdout } = await datumlight(
    ['phase', scenarioFile(soundScenario()), '--patch', 'near-1', '--points', '-'],
    {
      input: '\uFEFF# mine\r\ny_mm,x_mm\r\n0,60\r\n',
    },
  );
  expect(stdout).toContain('\n60,0,0.000000000,');
});

test('coordinates in other units come out in mm', async () => {
  const { stdout } = await datumlight(
    ['phase', scenarioFile(soundScenario()), '--patch', 'near-1', '--points', '-'],
    { input: 'x [um];y (in)\r60000;"0"\r60500.5;0.1\r' },
  );
  const rows = stdout
    .trimEnd()
    .split('\n')
    .map((row) => row.split(',').slice(0, 2).join(','));
  expect(rows).toEqual(['x_mm,y_mm', '60,0', '60.5005,2.54']);
});

/** More points than are computed at once. */
const MANY = 10_000;
const manyPoints = (end: string): string =>
  `x_mm,y_mm\n${Array.from({ length: MANY }, (_, k) => `${(55 + (k % 1000) / 100).toFixed(2)},${(k % 7) - 3}\n`).join('')}${end}`;

test('many points: each has the phase of the closed form, as CSV and as the JSON document', async () => {
  const scenario = scenarioFile(
    soundScenario((text) => text.replace('    bias: {shape: roof, fringes: 1}\n', '')),
  );
  const args = ['phase', scenario, '--patch', 'near-1', '--points', points(manyPoints(''))];
  const [csv, json] = await Promise.all([datumlight(args), datumlight([...args, '--json'])]);
  const E = (x: number, y: number): number => -Math.hypot(90 - x, 20 - y, 130) - Math.hypot(x, y, 500);
  const rows = csv.stdout
    .trimEnd()
    .split('\n')
    .slice(1)
    .map((row) => row.split(',').map(Number));
  expect(rows).toHaveLength(MANY);
  // Nine decimals of a wave are printed; the path of 600 mm in waves has the rest of a double's digits.
  const off = rows.map(([x, y, phase]) => Math.abs(phase - (E(x, y) - E(60, 0)) / 632.8e-6));
  expect(Math.max(...off)).toBeLessThan(1e-6);
  const document = JSON.parse(json.stdout);
  expect(json.stdout).toBe(jsonText(document));
  expect(document).toMatchObject({ patch: 'near-1', order: 1 });
  expect(document.points.map(({ x_mm, y_mm }: Record<string, number>) => [x_mm, y_mm])).toEqual(
    rows.map(([x, y]) => [x, y]),
  );
  const differences = rows.map(([, , phase], k) => Math.abs(phase - document.points[k].phase_waves));
  expect(Math.max(...differences)).toBeLessThan(1e-7);
});

test('a bad last row leaves no rows of the others behind, from a file or from a pipe', async () => {
  const scenario = scenarioFile(soundScenario());
  const text = manyPoints('60,x\n');
  const args = ['phase', scenario, '--patch', 'near-1', '--points'];
  const outcomes = await Promise.all([
    datumlight([...args, points(text)]),
    datumlight([...args, '-'], { input: text }),
    datumlight([...args, '-', '--json'], { input: text }),
  ]);
  expect(outcomes.map(({ code }) => code)).toEqual([2, 2, 2]);
  expect(outcomes.map(({ stdout }) => stdout).slice(0, 2)).toEqual(['', '']);
  expect(JSON.parse(outcomes[2].stdout)).toMatchObject({ ok: false, findings: [{ rule: 'bad-table' }] });
  for (const { stderr } of outcomes.slice(0, 2))
    expect(stderr).toContain(`:${MANY + 2}:4: "x" is not a valid number for y_mm`);
});

test('rows longer than memory is for them go through a temporary file that is not left behind', async () => {
  const scenario = scenarioFile(soundScenario());
  const temporary = folder();
  const row =
    '60.00000000000000000000000000000000000000000000000,-1.00000000000000000000000000000000000000\n';
  const input = `x_mm,y_mm\n${row.repeat(100_000)}`;
  const args = ['phase', scenario, '--patch', 'near-1', '--points', '-'];
  const { code, stdout } = await executable(args, { input, env: { TMPDIR: temporary } });
  expect(code).toBe(0);
  const [, first, ...others] = stdout.trimEnd().split('\n');
  expect(first).toContain(row.trimEnd());
  expect(others).toHaveLength(100_000 - 1);
  expect(others.every((other) => other === first)).toBe(true);
  expect(readdirSync(temporary)).toEqual([]);
  const full = await executable(args, { input, env: { TMPDIR: join(temporary, 'nowhere') } });
  expect(full.code).toBe(2);
  expect(full.stdout).toBe('');
  expect(full.stderr).toMatch(/cannot be written: ENOENT.*\[error not-writable\]/);
});

test('UTF-16 is told as such', async () => {
  const args = ['phase', scenarioFile(soundScenario()), '--patch', 'near-1', '--points', '-'];
  const little = Buffer.from('\uFEFFx_mm,y_mm\n60,0\n', 'utf16le');
  for (const input of [little, Buffer.from(little).swap16()]) {
    const { code, stderr } = await datumlight(args, { input });
    expect(code).toBe(2);
    expect(stderr).toMatch(/<stdin>: is UTF-16 text, not UTF-8; save it as UTF-8 \[error unreadable-file\]/);
  }
});

const BAD: readonly (readonly [string, string, RegExp])[] = [
  ['an empty file', '', /table is empty/],
  ['no head', '1,2\n', /:1:1: .*numbers, not column names/],
  ['another column', 'x_mm,z_mm\n1,2\n', /:1:6: .*unknown column/],
  ['NaN', 'x_mm,y_mm\n1,NaN\n', /:2:3: .*is not a valid number/],
  ['1e308', 'x_mm,y_mm\n1e308,0\n', /:2:1: /],
  ['three values', 'x_mm,y_mm\n1,2,3\n', /:2:1: .*3 fields/],
  ['a head alone', 'x_mm,y_mm\n', /no rows/],
];
test.each(BAD)('bad points, %s: exit 2 with the place', async (_, text, message) => {
  const { code, stdout, stderr } = await datumlight([
    'phase',
    scenarioFile(soundScenario()),
    '--patch',
    'near-1',
    '--points',
    points(text),
  ]);
  expect(code).toBe(2);
  expect(stdout).toBe('');
  expect(stderr).toMatch(message);
});

test('both faults of a table are said at once', async () => {
  const { stderr } = await datumlight(
    ['phase', scenarioFile(soundScenario()), '--patch', 'near-1', '--points', '-'],
    {
      input: 'x_mm,y_mm\nfoo,1\n2,bar\n',
    },
  );
  expect(stderr).toMatch(/<stdin>:2:1: .*foo/);
  expect(stderr).toMatch(/<stdin>:3:3: .*bar/);
});

test('an unknown patch: exit 2 with the nearest name', async () => {
  const { code, stderr } = await datumlight(
    ['phase', scenarioFile(soundScenario()), '--patch', 'nort-1', '--points', '-'],
    { input: 'x_mm,y_mm\n0,0\n' },
  );
  expect(code).toBe(2);
  expect(stderr).toMatch(/did you mean.*north-1/);
});

test('points in other units, separators and line ends are the same points', async () => {
  const phaseOf = async (input: string): Promise<string[]> => {
    const { stdout } = await datumlight(
      ['phase', scenarioFile(soundScenario()), '--patch', 'near-1', '--points', '-'],
      { input },
    );
    return stdout
      .trimEnd()
      .split('\n')
      .map((line) => line.split(',').slice(2).join(','));
  };
  const plain = await phaseOf('x_mm,y_mm\n60.5,-1\n61,2\n');
  expect(plain.length).toBe(3);
  expect(await phaseOf('y_um;x_in\r-1000;2.3818897637795278\r2000;2.4015748031496065\r')).toEqual(plain);
});
