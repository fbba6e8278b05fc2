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
import { surfaceSection } from '../../src/writing/sheet/surface-section.ts';
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
  const lines = degreeTable(design);
  const hidden = lines.filter((line) => line.startsWith('  hidden'));
  return { design, report, parsed, figure, hidden, lines, sheet: budgetSection(design, report).text };
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

test('what the hologram’s motions leave stands beside it: decentred by 1 µm in a diverging beam, the null follows less than it moves', () => {
  const { perMotion, perHologramMotion } = seen.parsed.test;
  expect(Object.keys(perHologramMotion)).toHaveLength(6);
  // The normal's n_x = −h/R and the ray's p_x = ρ/500 at ρ = −h·600/2000: h = −(n + p)·T has a slope of 1/2000 + 0.3/500 on the surface.
  const slope = 1 / 2000 + 0.3 / 500;
  expect(perHologramMotion.x.raw_nm / ((1000 * slope * 150) / 2)).toBeCloseTo(1, 1);
  expect(perHologramMotion.x.left_nm).toBeGreaterThan(2 * perMotion.x.left_nm);
  expect(perHologramMotion.rx.unit).toBe('urad');
  expect(perHologramMotion.rz.raw_nm).toBeLessThan(1e-9);
});

test('check says in a line which motions hardly change the figure, and the report what they leave', () => {
  const { hidden, alike } = seen.parsed.test;
  const words: readonly string[] = hidden.map((motion: { words: string }) => motion.words);
  expect(words).toHaveLength(4);
  expect([words[0], words[3]]).toEqual(['to move along z', "to turn about the part's z axis"]);
  expect(seen.hidden).toEqual([`  hidden  hardly changes the measured figure: ${words.join('; ')}`]);
  // Tilt about the null's own axis, 0.3 a²/R before the vertex: a⁵/(80R⁴)/√12 for 1 rad is the same in nm for 1 µrad.
  expect(hidden.map(({ unit }: { unit: string }) => unit)).toEqual(['um', 'urad', 'urad', 'urad']);
  expect(hidden[1].left_nm / (150 ** 5 / (80 * 2000 ** 4) / Math.sqrt(12))).toBeCloseTo(1, 1);
  expect(hidden[3].left_nm).toBeLessThan(1e-9);
  expect(alike).toContainEqual({ one: 'part x', other: 'hologram x', correlation: expect.closeTo(-1, 3) });
});

test('the sheet lists them with what they leave, and which motions look alike', () => {
  const text = surfaceSection(seen.design, seen.report)!.text;
  const { hidden } = seen.parsed.test;
  expect(text).toContain('<li>to turn about the part&#39;s z axis: leaves nothing for 1 µrad</li>');
  expect(text).toContain(`leaves ${Number(hidden[0].left_nm.toPrecision(2))} nm rms for 1 µm</li>`);
  expect(text).toMatch(/<td>part x<\/td><td>hologram x \(−1\), [^<]+<\/td>/);
  expect(text.indexOf('<td>part x</td>')).toBeLessThan(text.indexOf('<td>hologram x</td>'));
});

test('check and the sheet say what is expected, with two digits, the limit and the degree; the 95 % where it may pass the limit', () => {
  const { expected, p95, secondOrder, allowed, mostly } = seen.parsed.test.figure_nm;
  expect(allowed).toBe(5);
  expect(p95).toBeGreaterThan(expected);
  const [line] = seen.figure;
  const told =
    /^ {2}figure {2}expected ([\d.]+) nm rms \(95 %: ([\d.]+) nm\), allowed 5 nm; mostly (\w+); ([\d.]+) nm until its own null shows few fringes$/.exec(
      line!,
    )!;
  expect(Number(told[2])).toBe(Number(p95.toPrecision(2)));
  const [wide] = written(parabolaScene({ test: { figure: `${2 * expected} nm` } })).figure;
  expect(wide).toContain(`expected ${told[1]} nm rms, allowed`);
  expect(Number(told[1])).toBe(Number(expected.toPrecision(2)));
  expect(told[3]).toBe(mostly);
  expect(Number(told[4])).toBe(Number(Math.hypot(expected, secondOrder).toPrecision(2)));
  expect(seen.sheet).toContain(
    `Aligned as this design allows, misalignment adds ${told[1]} nm rms to the measured figure, mostly by ${mostly}`,
  );
  expect(seen.sheet).toContain(
    `Until the null of the surface itself shows few fringes it is ${told[4]} nm rms`,
  );
});

const UNITS = { x: 'um', y: 'um', z: 'um', rx: 'urad', ry: 'urad', rz: 'urad' };
const SHOWN = { um: 'µm', urad: 'µrad' };

test('the report has what the figure allows each degree, in its unit, beside what is reached; squares of what both leave sum to the figure', () => {
  const { allowances, perMotion } = seen.parsed.test;
  expect(Object.keys(allowances).sort()).toEqual(Object.keys(UNITS).sort());
  let square = 0;
  for (const [degree, unit] of Object.entries(UNITS)) {
    const { allowed, reached, byEye } = allowances[degree];
    expect([degree, allowances[degree].unit, perMotion[degree].unit]).toEqual([degree, unit, unit]);
    expect(reached).toBe(seen.parsed.part.degrees.find((one: Words) => one.degree === degree).reached);
    expect(byEye).toBe(degree === 'z' || degree.startsWith('r'));
    square += (allowed * perMotion[degree].left_nm) ** 2;
  }
  // What the eye sets keeps z, and the turns, far under the figure.
  expect(allowances.z.allowed).toBeCloseTo(1000 / Math.sqrt(3), 9);
  expect(allowances.rx.allowed).toBeCloseTo(1e6 / Math.sqrt(3) / 220, 6);
  expect(Math.sqrt(square)).toBeCloseTo(5, 9);
});

test('check and the sheet show what the figure allows where nothing is wished: in brackets, in a row of its own', () => {
  const { allowances } = seen.parsed.test;
  for (const [degree, unit] of Object.entries(UNITS) as [string, 'um' | 'urad'][]) {
    const { allowed, byEye } = allowances[degree];
    const words = byEye ? 'by eye' : `${Number(allowed.toPrecision(3))} ${SHOWN[unit]}`;
    expect(seen.lines.find((line) => line.startsWith(`  ${degree} `))).toContain(` (${words}) `);
  }
  expect(seen.lines.filter((line) => line.includes('wanted in brackets'))).toHaveLength(1);
  const cells = [allowances.x, allowances.y].map(
    ({ allowed }) => `<td[^>]*>${Number(allowed.toPrecision(3))}</td>\\s*`,
  );
  expect(seen.sheet).toMatch(
    new RegExp(
      `allowed by the figure, errors independent</t[dh]>\\s*${cells.join('')}(<td[^>]*>by eye</td>\\s*){4}`,
    ),
  );
});

test('a wish stands as it is, without brackets; with all six nothing is derived', () => {
  const wanted = { x: '10 um', y: '10 um', z: '50 um', rx: '1 mrad', ry: '1 mrad', rz: '1 mrad' };
  const all = written(parabolaScene({ test: { figure: '5 nm' }, words: { wanted } }));
  expect(all.lines.join('\n')).not.toContain('(by eye)');
  expect(all.lines.join('\n')).not.toContain('brackets');
  expect(all.sheet).not.toContain('allowed by the figure');
  const some = written(parabolaScene({ test: { figure: '5 nm' }, words: { wanted: { x: '10 um' } } }));
  expect(some.lines.find((line) => line.startsWith('  x '))).toMatch(/^ {2}x +10 µm /);
  expect(some.lines.find((line) => line.startsWith('  z '))).toContain('(by eye)');
  expect(some.sheet).toContain('what that allows each degree if errors are independent');
});

test('no figure asked: no allowances in the report, none in the table', () => {
  const none = written(parabolaScene());
  expect(none.parsed.test.allowances).toBeNull();
  expect(none.lines.join('\n')).not.toContain('brackets');
  expect(none.sheet).not.toContain('allowed by the figure');
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
