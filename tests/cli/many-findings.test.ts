/** Hundreds and thousands of faults, through the executable: every command prints some hundred, as text and as JSON, and counts the rest by code. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { MOST_LISTED } from '../../src/finding/listed-findings.ts';
import { datumlight, folder, scenarioFile, soundScenario } from './support/run.ts';

const FAULTS = 600;

/** A scenario's form is examined up to this many faults, and that it is is among the findings. */
const MOST_OF_FORM = 2000;

const file = (name: string, head: string, row: (k: number) => string, rows = FAULTS): string => {
  const path = join(folder(), name);
  writeFileSync(path, head + Array.from({ length: rows }, (_, k) => `${row(k)}\n`).join(''));
  return path;
};
const sound = (): string => scenarioFile(soundScenario());
const points = (k: number): string => `p${k},1,2,3`;
const COEFFICIENTS = 'patch,basis,i,j,coefficient_waves,unitRadius_mm,centreX_mm,centreY_mm\n';
const faulty = (): string =>
  scenarioFile(
    soundScenario(
      (text) => `${text}${Array.from({ length: 2 * MOST_OF_FORM }, (_, k) => `  - {id: p${k}}\n`).join('')}`,
    ),
  );

/** Tracker points are read up to their limit: 10,000 faults and one that says so. */
const MOST_POINTS = 10_000;

const COMMANDS: readonly (readonly [command: string, args: () => readonly string[], faults: number])[] = [
  ['check', () => ['check', faulty()], MOST_OF_FORM],
  ['plan', () => ['plan', faulty(), '--out', join(folder(), 'out.yaml')], MOST_OF_FORM],
  [
    'phase',
    () => ['phase', sound(), '--patch', 'near-1', '--points', file('p.csv', 'x_mm,y_mm\n', (k) => `${k},x`)],
    FAULTS,
  ],
  [
    'transfer',
    () => ['transfer', sound(), '--points', file('p.csv', 'point,x_mm,y_mm,z_mm\n', points, 3 * MOST_POINTS)],
    MOST_POINTS + 1,
  ],
  [
    'check --table',
    () => ['check', sound(), '--table', file('t.csv', COEFFICIENTS, () => 'a,xy,0,0,x,5,0,0')],
    FAULTS,
  ],
  [
    'steer',
    () => [
      'steer',
      sound(),
      '--readings',
      file('r.yaml', 'readings:\n', (k) => `  - {patch: p${k}, fringes: 1}`),
    ],
    FAULTS,
  ],
];

test.each(COMMANDS)('%s', async (_, args, faults) => {
  const given = args();
  const [text, json] = await Promise.all([datumlight(given), datumlight([...given, '--json'])]);
  expect([text.code, json.code]).toEqual([2, 2]);
  const heads = text.stderr.split('\n').filter((line) => / \[error \S+\]$/.test(line));
  expect(heads.length).toBeGreaterThan(50);
  expect(heads.length).toBeLessThanOrEqual(MOST_LISTED + 1);
  const { findings } = JSON.parse(json.stdout);
  expect(findings).toHaveLength(heads.length);
  expect(findings.at(-1).rule).toBe('too-many');
  const counted = /and ([\d,]+) more: (.*)/.exec(findings.at(-1).message)!;
  const byCode = [...counted[2].matchAll(/([\d,]+) [\w-]+/g)].map(([, count]) =>
    Number(count.replaceAll(',', '')),
  );
  const more = Number(counted[1].replaceAll(',', ''));
  expect(byCode.reduce((sum, count) => sum + count)).toBe(more);
  expect(heads.at(-1)).toContain(counted[0]);
  expect(findings.length - 1 + more).toBeGreaterThanOrEqual(faults);
  expect(text.stdout).toBe('');
  expect(/the first 2000 of \d+ errors of form/.test(text.stderr)).toBe(faults === MOST_OF_FORM);
});

test('check of a design that breaks a rule a thousand times', async () => {
  const patches = Array.from(
    { length: 1000 },
    (_, k) =>
      `  - {id: p${k}, reference: wall, focus: point, centre: [${(k % 40) * 4}, ${Math.floor(k / 40) * 4 + 80}], outline: {circle: {diameter: 3}}}`,
  );
  const scenario = scenarioFile(`format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -500], fNumber: 3.6, pixelsAcrossBeam: 5000}
substrate: {outline: {rectangle: {width: 900, height: 900}}}
process: {minFeature: 0.1 um}
references: [{id: wall, kind: screen, at: [0, 0, 9000]}]
patches:
${patches.join('\n')}
`);
  const [text, json] = await Promise.all([
    datumlight(['check', scenario]),
    datumlight(['check', scenario, '--json']),
  ]);
  expect([text.code, json.code]).toEqual([1, 1]);
  expect(text.stdout.match(/\[error unlit\]/g)!.length).toBeLessThanOrEqual(MOST_LISTED);
  expect(text.stdout).toMatch(/and [\d,]+ more: [\d,]+ unlit.*\[error too-many\]/);
  const { ok, findings } = JSON.parse(json.stdout);
  expect(ok).toBe(false);
  expect(findings).toHaveLength(MOST_LISTED + 1);
  expect(findings.at(-1)).toMatchObject({ severity: 'error', rule: 'too-many' });
});
