/**
 * The table that `check` prints and `part.degrees` of report.json, against the rest of the report: the budget's combined figures and
 * terms, which another function gathers, and the scenario's wishes in the units of the text.
 */
import { expect, test } from 'vitest';
import { patchTables } from '../../src/writing/coefficients/coefficients.ts';
import { degreeTable } from '../../src/writing/report/degree-table.ts';
import { reportOf } from '../../src/writing/report/report.ts';
import { beamWords, glassWords } from '../../src/writing/setup-words.ts';
import { designOf, exampleText } from './sheet/made-sheets.ts';

const HEAD = { version: '0.0.0', scenarioHash: 'ab'.repeat(32), draft: false };
const DEGREES = ['x', 'y', 'z', 'rx', 'ry', 'rz'] as const;
const EXAMPLES = ['diverging-balls', 'converging-retroreflectors', 'full-bench', 'steer-mirror-on-stage'];

test.each(EXAMPLES)('%s: each degree has the combined figure and the largest term of its budget', (name) => {
  const design = designOf(exampleText(name));
  const { part } = reportOf(design, [], HEAD, patchTables(design));
  expect(part.degrees.map(({ degree }) => degree)).toEqual(DEGREES);
  for (const { degree, unit, reached, largest } of part.degrees) {
    const combined = part.budget.combined[degree];
    expect(unit).toBe(degree.startsWith('r') ? 'urad' : 'um');
    if (combined === null) {
      expect({ reached, largest }).toEqual({ reached: null, largest: null });
      continue;
    }
    expect(reached! / combined).toBeCloseTo(1, 9);
    const most = Math.max(...part.budget.terms.map(({ by }) => by[degree] ?? 0));
    expect(largest!.sigma / most).toBeCloseTo(1, 6);
    expect(part.budget.terms.find(({ term }) => term === largest!.term)!.by[degree]! / most).toBeCloseTo(
      1,
      6,
    );
  }
});

test('wishes in the units of the table, what is left of them, and a degree that is not observed', () => {
  const design = designOf(exampleText('converging-retroreflectors'));
  const { degrees } = reportOf(design, [], HEAD, patchTables(design)).part;
  // wanted: {x: 20 um, y: 20 um, z: 150 um, rx: 1 mrad, ry: 1 mrad}
  expect(degrees.map(({ wanted }) => wanted)).toEqual([20, 20, 150, 1000, 1000, null]);
  expect(degrees[2]!.margin).toBeCloseTo(150 - degrees[2]!.reached!, 9);
  const lines = degreeTable(design);
  const z = lines.find((line) => /^ {2}z /.test(line))!;
  const [, reached, left] = /^ {2}z +150 µm +([\d.]+) µm +(\d+) % +\S/.exec(z)!;
  expect(Math.abs(100 * (1 - Number(reached) / 150) - Number(left))).toBeLessThan(1.1);
  expect(lines.find((line) => line.startsWith('  rz'))).toMatch(/^ {2}rz +– +not observed +– +–$/);
});

test('a wish that is missed has a negative margin', () => {
  const text = exampleText('diverging-balls').replace('{x: 10 um', '{x: 1 um');
  const design = designOf(text);
  expect(reportOf(design, [], HEAD, patchTables(design)).part.degrees[0]!.margin).toBeLessThan(0);
  expect(degreeTable(design).find((line) => /^ {2}x /.test(line))).toMatch(/ −\d+ % /);
});

test.each([
  ['focus: [0, 0, -500]', 'diverging from 500 mm in front of the pattern, f/3.2'],
  ['focus: [0, 0, 500]', 'converging to 500 mm behind the pattern, f/3.2'],
  ['focus: [3, 4, -500]', 'diverging from 500 mm in front of the pattern, 5 mm off its axis, f/3.2'],
])('%s is said as: %s', (focus, words) => {
  const design = designOf(exampleText('diverging-balls').replace('focus: [0, 0, -500]', focus));
  expect(beamWords(design)).toBe(words);
  expect(degreeTable(design)[0]).toContain(words);
});

test.each([
  ['patternFaces: part', 'fused silica 6.35 mm, crossed before the pattern'],
  ['patternFaces: interferometer', 'fused silica 6.35 mm, crossed after the pattern'],
])('%s: %s', (faces, words) => {
  const design = designOf(exampleText('diverging-balls').replace('patternFaces: part', faces));
  expect(glassWords(design)).toBe(words);
});
