/**
 * The null test as report.json, `check` and the sheet say it: held against the surface's closed form and the figures of tests/metrology, and
 * valid by the schema. nm of surface height.
 */
import { readFileSync } from 'node:fs';
import Ajv2020 from 'ajv/dist/2020.js';
import { expect, test } from 'vitest';
import { patchTables } from '../../src/writing/coefficients/coefficients.ts';
import { jsonText } from '../../src/writing/json.ts';
import { degreeTable } from '../../src/writing/report/degree-table.ts';
import { reportOf } from '../../src/writing/report/report.ts';
import { budgetSection } from '../../src/writing/sheet/budget-section.ts';
import { designFrom, type Words } from '../metrology/support/design-from.ts';
import { parabolaScene } from '../metrology/support/parabola-scene.ts';

const HEAD = { version: '0.0.0', scenarioHash: '0123456789abcdef'.repeat(4), draft: false };
const validate = new Ajv2020.default({ allErrors: true, strict: true, allowUnionTypes: true }).compile(
  JSON.parse(readFileSync('schemas/report.schema.json', 'utf8')),
);

const written = (words: Words) => {
  const design = designFrom(words);
  const report = reportOf(design, [], HEAD, patchTables(design));
  const parsed = JSON.parse(jsonText(report));
  expect(validate(parsed) ? [] : validate.errors).toEqual([]);
  const figure = degreeTable(design).filter((line) => line.startsWith('  figure'));
  return { report, parsed, figure, sheet: budgetSection(design, report).text };
};

const seen = written(parabolaScene({ test: { figure: '5 nm' } }));
const blind = written(parabolaScene({ patches: [0], test: { figure: '5 nm' } }));

test('footprint and period are those of a paraboloid’s normals', () => {
  const { footprint, period_um, removed } = seen.parsed.test;
  // A normal of the paraboloid meets its axis R + h²/(2R) from the vertex, which is 2600 mm off, and its foot is h²/(2R) nearer.
  const radiusOf = (h: number): number => (h * (2600 - 2000 - (h * h) / 4000)) / 2000;
  expect(footprint.diameter_mm).toBeCloseTo(2 * radiusOf(150), 6);
  expect(removed).toEqual(['piston', 'tilt', 'power']);
  // The margin of 1 mm: the steepest fringes are at its edge, where light turns from the diverging beam to the normal.
  const edge = radiusOf(150) + 1;
  let h = 150;
  for (let step = 0; step < 20; step++) h *= edge / radiusOf(h);
  const turn = edge / Math.hypot(edge, 500) + h / Math.hypot(h, 2000);
  expect(period_um.min).toBeCloseTo(0.6328 / turn, 4);
});

test('each motion leaves what it leaves, by degree, with its Zernike terms', () => {
  const { perMotion } = seen.parsed.test;
  const degrees = ['x', 'y', 'z', 'rx', 'ry', 'rz'];
  expect(Object.keys(perMotion).sort()).toEqual([...degrees].sort());
  expect(degrees.map((degree) => perMotion[degree].unit)).toEqual([
    ...['um', 'um', 'um'],
    ...['urad', 'urad', 'urad'],
  ]);
  // Third order: δ a³/(2R³)/√72, for D 300 mm to a percent; z moves the whole by cos of the slope: 1 µm less a part in 700.
  expect(perMotion.x.left_nm / ((1000 * 150 ** 3) / (2 * 2000 ** 3) / Math.sqrt(72))).toBeCloseTo(1, 2);
  expect(perMotion.z.raw_nm / 1000).toBeCloseTo(1 - 150 ** 2 / 2 / (2 * 2000 ** 2), 4);
  // 1 µrad of tilt about the vertex: ρ a cos θ, 75 nm rms at a = 150 mm but for the sag's own lever.
  expect(perMotion.rx.raw_nm).toBeCloseTo(75, 0);
  expect(perMotion.x.terms_nm).toHaveLength(15);
  expect(Math.abs(perMotion.x.terms_nm[8])).toBeCloseTo(perMotion.x.left_nm, 3);
  expect(Math.abs(perMotion.y.terms_nm[7])).toBeCloseTo(perMotion.y.left_nm, 3);
  expect(perMotion.rz.raw_nm).toBeLessThan(1e-9);
});

test('check and the sheet say what is expected, with two digits, the limit and the degree', () => {
  const { expected, p95, secondOrder, allowed, mostly } = seen.parsed.test.figure_nm;
  expect(allowed).toBe(5);
  expect(p95).toBeGreaterThan(expected);
  const [line] = seen.figure;
  const told =
    /^ {2}figure {2}expected ([\d.]+) nm rms \(95 %: ([\d.]+) nm\), allowed 5 nm; mostly (\w+); ([\d.]+) nm until its own null shows few fringes$/.exec(
      line!,
    )!;
  expect(told.slice(1, 3).map(Number)).toEqual([Number(expected.toPrecision(2)), Number(p95.toPrecision(2))]);
  expect(told[3]).toBe(mostly);
  expect(Number(told[4])).toBe(Number(Math.hypot(expected, secondOrder).toPrecision(2)));
  expect(seen.sheet).toContain(
    `Aligned as this design allows, misalignment adds ${told[1]} nm rms to the measured figure, mostly by ${mostly}`,
  );
  expect(seen.sheet).toContain(
    `Until the null of the surface itself shows few fringes it is ${told[4]} nm rms`,
  );
});

test('what nothing bounds has no figure anywhere, and says why', () => {
  expect(blind.parsed.test.figure_nm).toMatchObject({ expected: null, p95: null, allowed: 5 });
  expect(blind.figure).toEqual(['  figure  not bounded: the part is free to move along x, allowed 5 nm']);
  expect(blind.sheet).toContain('Nothing bounds what misalignment adds to the measured figure');
});

test('without a surface under test there is none of it', () => {
  const none = written({ ...parabolaScene(), test: undefined });
  expect('test' in none.parsed).toBe(false);
  expect(none.figure).toEqual([]);
  expect(none.sheet).not.toContain('misalignment');
});
