/** The coefficient sheet read as its reader would: the printed figures alone have to give the phase at the ten printed points. */
import { describe, expect, test } from 'vitest';
import type { Design } from '../../src/design/design.ts';
import { designScenario } from '../../src/design/design-scenario.ts';
import { contains } from '../../src/geometry/contains.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { coefficientSheet } from '../../src/writing/coefficients/coefficient-sheet.ts';
import { patchTables } from '../../src/writing/coefficients/coefficients.ts';
import { RETURNED } from '../cli/support/returned-scenario.ts';
import { designedPhase, periodOf } from '../independent/designed-phase.ts';
import { HOSTILE_DESIGN } from './drawing/drawn-designs.ts';
import { ASKED } from './example-patches.ts';

const HEAD = { version: '0.0.0', scenarioHash: 'a'.repeat(64), tableHash: 'b'.repeat(64), draft: false };
const sheetOf = (design: Design, draft = false): string =>
  coefficientSheet(design, patchTables(design), { ...HEAD, draft });

const design: Design = (() => {
  const made = designScenario(readScenario(RETURNED, 'returned.yaml').scenario!);
  if ('findings' in made) throw new Error('the scenario of this test cannot be designed');
  return made.design;
})();
const page = sheetOf(design);

interface PrintedTable {
  readonly heads: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

const plain = (markup: string): string => markup.replace(/<[^>]*>/g, '').trim();

/** Sections of patches, each with its facts and tables by their first heads. */
const sections = page
  .split('<section class="patch"')
  .slice(1)
  .map((text) => ({
    text,
    facts: new Map(
      [...text.matchAll(/<th scope="row">(.*?)<\/th><td>(.*?)<\/td>/g)].map(([, name, value]) => [
        name!,
        plain(value!),
      ]),
    ),
    tables: [...text.matchAll(/<thead><tr>(.*?)<\/tr><\/thead>\s*<tbody>(.*?)<\/tbody>/gs)].map(
      ([, heads, body]): PrintedTable => ({
        heads: [...heads!.matchAll(/<th[^>]*>(.*?)<\/th>/g)].map(([, head]) => plain(head!)),
        rows: [...body!.matchAll(/<tr>(.*?)<\/tr>/gs)].map(([, row]) =>
          [...row!.matchAll(/<td[^>]*>(.*?)<\/td>/gs)].map(([, cell]) => plain(cell!)),
        ),
      }),
    ),
  }));

/** The rows of a table whose columns stand several times side by side. */
const abreast = ({ heads, rows }: PrintedTable): string[][] => {
  const width = 3;
  return Array.from({ length: heads.length / width }, (_, k) =>
    rows.map((row) => row.slice(k * width, (k + 1) * width)),
  )
    .flat()
    .filter(([first]) => first !== '');
};

describe.each(design.patches.map((patch, k) => [patch.id, patch, sections[k]!] as const))(
  'patch %s',
  (_, patch, section) => {
    const asked = designedPhase(
      ASKED.returned!.around,
      ASKED.returned!.patches.find(({ id }) => id === patch.id)!,
    );
    const tableWith = (head: string) => section.tables.find(({ heads }) => heads.includes(head));
    const points = tableWith('Φ, waves')!.rows.map((row) => row.map(Number));
    const [x0, y0] = section.facts.get('Centre x₀, y₀')!.split(/[, ]+/).map(Number);
    const radius = Number.parseFloat(section.facts.get('Normalisation radius R (where u² + v² = 1)')!);
    const roof = /c₀ = (\S+) waves, c₁ = (\S+), c₂ = (\S+); u and v from the ridge at \((\S+), (\S+)\) mm</
      .exec(section.text)
      ?.slice(1)
      .map(Number);

    test('the printed coefficients give the printed phase at ten different points inside the patch', () => {
      expect(new Set(points.map(([x, y]) => `${x} ${y}`)).size).toBe(10);
      const terms = abreast(tableWith('i')!).map((row) => row.map(Number));
      for (const [x, y, , , , , phase] of points) {
        expect(contains(patch.outline, [x! + (x0! - x!) * 1e-6, y! + (y0! - y!) * 1e-6])).toBe(true);
        const [u, v] = [(x! - x0!) / radius, (y! - y0!) / radius];
        const smooth = terms.reduce((sum, [i, j, c]) => sum + c! * u ** i! * v ** j!, 0);
        const crease =
          roof === undefined
            ? 0
            : roof[0]! * Math.abs((roof[1]! * (x! - roof[3]!) + roof[2]! * (y! - roof[4]!)) / radius);
        expect(Math.abs(smooth + crease - phase!)).toBeLessThan(1e-3);
        expect(Math.abs(asked(x!, y!) - phase!)).toBeLessThan(2e-4);
      }
    });

    test('the steepest place has the smallest period, and no printed point a smaller one', () => {
      const found = /^([\d.]+) µm at x = (\S+), y = (\S+) mm/
        .exec(section.facts.get('Smallest period')!)!
        .slice(1)
        .map(Number);
      expect(periodOf(asked, found[1]!, found[2]!) * 1000).toBeCloseTo(found[0]!, 2);
      for (const point of points) expect(point[7]!).toBeGreaterThanOrEqual(found[0]! - 1e-6);
    });

    test('a roof and Zernike terms where there are any', () => {
      expect(roof !== undefined).toBe(patch.bias?.shape === 'roof');
      expect(tableWith('n, m') !== undefined).toBe(patch.outline.shape === 'circle');
    });
  },
);

test('the convention, the view and both hashes are on it; nothing is fetched', () => {
  for (const words of [
    'E_out(P) = E_in(P) + m * lambda * Phi(P)',
    'SEEN FROM PART SIDE',
    HEAD.tableHash,
    HEAD.scenarioHash,
  ])
    expect(page).toContain(words);
  expect(page).not.toMatch(/<script|<link|@import|https?:|url\((?!#)/);
});

test('a draft says so; the same bytes every time', () => {
  expect(page).not.toContain('NOT FOR FABRICATION');
  expect(sheetOf(design, true)).toContain('NOT FOR FABRICATION');
  expect(sheetOf(design)).toBe(page);
});

test('texts of a scenario stay texts', () => {
  const hostile = sheetOf(HOSTILE_DESIGN);
  expect(hostile).not.toMatch(/<script/);
  expect(hostile).toContain('&lt;script&gt;');
});

test('a pattern without lines, a collimated beam sent straight back, has a sheet', () => {
  const made = designScenario(
    readScenario(
      `format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {collimated: true, beamDiameter: 145}
substrate: {outline: {circle: {diameter: 150}}, thickness: 1, glass: fused silica}
references: [{id: ring, kind: return}]
patches: [{id: ring, reference: ring, focus: return, centre: [0, 0], outline: {ring: {inner: 136, outer: 140}}}]
`,
      'flat.yaml',
    ).scenario!,
  );
  if ('findings' in made) throw new Error('the scenario of this test cannot be designed');
  const flat = sheetOf(made.design);
  expect(flat).toContain('smallest period, ∞ µm');
  expect(flat).not.toMatch(/NaN|Infinity/);
});
