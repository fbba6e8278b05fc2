/**
 * What keeps clear of the main pattern: patches, keep-outs and sites for patches to come. The null of a hollow sphere without glass, whose
 * footprint is its aperture seen through its centre: r = a · 1800/√(800² − a²), mm.
 */
import { describe, expect, test } from 'vitest';
import { roomAt, sitesOf } from '../../src/metrology/reach/sites.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { fitResidual } from '../../src/rules/fit-residual.ts';
import { keepOut } from '../../src/rules/keep-out.ts';
import { patchOverlap } from '../../src/rules/patch-overlap.ts';
import { coefficientsCsv, patchTables } from '../../src/writing/coefficients/coefficients.ts';
import { designFrom, linePatch, type Words } from '../metrology/support/design-from.ts';
import { csvRows, rowsPhase } from '../writing/support/coefficient-text.ts';

const [HALF_APERTURE, MARGIN, CLEARANCE, HALF_PATCH] = [20, 1, 0.5, 3];
const EDGE = (HALF_APERTURE * 1800) / Math.sqrt(800 ** 2 - HALF_APERTURE ** 2) + MARGIN;

const scenario = (more: Words): Words => ({
  substrate: { outline: { circle: { diameter: 150 } }, thickness: 0, clearance: CLEARANCE },
  part: {
    origin: [0, 0, 1800],
    datums: { M: { sphere: { centre: [0, 0, 0], diameter: 1600, side: 'inside' } } },
  },
  test: { surface: 'M', aperture: { circle: { diameter: 2 * HALF_APERTURE } }, margin: MARGIN },
  references: [{ id: 'ball', kind: 'ball', diameter: 25, at: [0, 900, 1500] }],
  ...more,
});
const withPatch = (y: number) =>
  designFrom(scenario({ patches: [linePatch('side', 'ball', [0, y], 0, 2 * HALF_PATCH)] }));
const withKeepOut = (y: number) =>
  designFrom(
    scenario({
      keepOuts: [{ id: 'mark', outline: { rectangle: { width: 6, height: 6, centre: [0, y] } } }],
    }),
  );

describe.each([
  ['a patch', patchOverlap, withPatch, 'main, side'],
  ['a keep-out', keepOut, withKeepOut, 'main, mark'],
] as const)('%s', (_, rule, at, where) => {
  const limit = EDGE + CLEARANCE + HALF_PATCH;
  test.each([
    ['in the middle of the main pattern', 0, true],
    ['over its edge', EDGE, true],
    ['nearer than the clearance', limit - 0.001, true],
    ['a little farther', limit + 0.001, false],
  ])('%s', (__, y, refused) => {
    const findings = rule.find(at(y));
    expect(findings.map((finding) => finding.where)).toEqual(refused ? [where] : []);
    if (!refused) return;
    expect(findings[0]!.severity).toBe('error');
    expect(findings[0]!.message).toContain('the main pattern');
    if (y > EDGE + HALF_PATCH) expect(findings[0]!.value).toBeCloseTo(y - HALF_PATCH - EDGE, 6);
  });
});

test('sites for patches to come lie outside it by their room and the clearance', () => {
  const design = withPatch(60);
  const { sites } = sitesOf(design, 300);
  expect(sites.length).toBeGreaterThan(100);
  for (const { at, room } of sites) expect(Math.hypot(...at) - room).toBeGreaterThan(EDGE + CLEARANCE - 1e-6);
  expect(roomAt(design, [0, EDGE + CLEARANCE + 2])).toBeCloseTo(2, 6);
});

test('a main pattern that no polynomial holds is refused with the place where the table misses it', () => {
  const cone = (inner: number) =>
    designFrom(
      scenario({
        part: {
          origin: [0, 0, 150],
          datums: { M: { cone: { apex: [0, 0, 0], axis: [0, 0, 1], angle: 170, side: 'outside' } } },
        },
        test: { surface: 'M', aperture: { ring: { inner, outer: 100 } }, margin: 0 },
      }),
    );
  // ρ has a kink on the axis: far from it some powers of ρ² make it, near it none.
  expect(fitResidual.find(cone(80))).toEqual([]);
  const design = cone(30);
  const [finding] = fitResidual.find(design);
  expect(finding).toMatchObject({ severity: 'error', where: 'main', path: ['test', 'aperture'] });
  const [, x, y] = /at x (\S+) mm, y (\S+) mm/.exec(finding!.message)!.map(Number) as [
    number,
    number,
    number,
  ];
  const { rows } = csvRows(coefficientsCsv(design, patchTables(design), { draft: true }));
  const tabled = (rowsPhase(rows, 'main', 'xy') ?? rowsPhase(rows, 'main', 'radial'))!;
  // Places are said to a micrometre, over which the residual changes by less than a part in ten.
  expect(Math.abs(tabled(x, y) - design.main!.phase.phase(x, y)) / finding!.value!).toBeCloseTo(1, 1);
});

const patch = (id: string): Words => linePatch(id, 'ball', [0, 66], 0, 6);
test.each([
  [
    'a keep-out',
    { keepOuts: [{ id: 'main', outline: { circle: { diameter: 90 } } }] },
    /keep-out main .*main pattern/,
    'remove the keep-out',
  ],
  [
    'a keep-out in other case',
    { keepOuts: [{ id: 'Main', outline: { circle: { diameter: 90 } } }] },
    /keep-out Main /,
    'remove',
  ],
  ['a patch', { patches: [patch('main')] }, /patch main has the id of the main pattern/, 'choose another id'],
] as const)(
  '%s with the id main is refused beside a test, and taken without one',
  (_, more, message, hint) => {
    const words = {
      format: 'datumlight/1',
      light: { wavelength: '632.8 nm' },
      interferometer: { focus: [0, 0, -500] },
      patches: [],
      ...scenario(more),
    };
    const { findings } = readScenario(JSON.stringify(words, undefined, 1), 'test.yaml');
    expect(findings).toHaveLength(1);
    const [finding] = findings;
    expect(finding).toMatchObject({ severity: 'error', rule: 'duplicate-id' });
    expect(finding!.message).toMatch(message);
    expect(finding!.hint).toContain(hint);
    const lines = JSON.stringify(words, undefined, 1).split('\n');
    expect(lines[finding!.place!.line - 1]).toMatch(/"id": "main"/i);
    const { test: __, ...untested } = words as Words;
    expect(readScenario(JSON.stringify(untested), 'test.yaml').findings).toEqual([]);
  },
);
