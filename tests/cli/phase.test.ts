/** `phase` through the real executable. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { datumlight, example, folder, scenarioFile, soundScenario } from './support/run.ts';

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

test('a fault in the last of many rows: exit 2, and not one row is answered', async () => {
  const rows = `x_mm,y_mm\n${'60,0\n'.repeat(20_000)}60,one\n`;
  const { code, stdout, stderr } = await datumlight(
    ['phase', scenarioFile(soundScenario()), '--patch', 'near-1', '--points', '-'],
    { input: rows },
  );
  expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
  expect(stderr).toMatch(/<stdin>:20002:4: "one" is not a valid number for y_mm/);
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

test('--json streams the one document that a small table gives at once', async () => {
  const count = 5000;
  const { stdout } = await datumlight(
    ['phase', scenarioFile(soundScenario()), '--patch', 'near-1', '--points', '-', '--json'],
    { input: `x_mm,y_mm\n${Array.from({ length: count }, (_, k) => `60,${k / count}`).join('\n')}\n` },
  );
  const { patch, points } = JSON.parse(stdout) as { patch: string; points: { y_mm: number }[] };
  expect([patch, points.length, points.at(-1)!.y_mm]).toEqual(['near-1', count, (count - 1) / count]);
});
