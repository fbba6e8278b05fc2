/**
 * What moved between two packages, worked out by hand: every kind of change with its unit, distance and sign, and nothing where only
 * rounding differs. Reports are cut down to what is compared.
 */
import { describe, expect, test } from 'vitest';
import { type Change, changesBetween } from '../../src/writing/difference/difference.ts';

type Json = Record<string, unknown>;

const PATCH = {
  ...{ id: 'p', reference: 'r', focus: 'point', order: 1, distance_mm: 300, fresnelNumber: 12 },
  centre: [60, 0],
  target: [90, 20, 130],
  period_um: { min: 4, max: 6 },
  resolution_um: 2,
  bias: { fringes: 3, fringesAtNull: 3 },
  outline: { shape: 'circle', centre: [60, 0], diameter: 12 },
};
const REFERENCE = { id: 'r', at: [90, 20, 130], sigma_um: { x: 1, y: 2, z: null } };
const BLOCKED = { severity: 'error', rule: 'blocked', where: 'p, r', message: 'in the way' };
const REPORT = {
  version: '1.0.0',
  draft: false,
  scenario: {
    title: 'Bench',
    parameters: [{ name: 'rim', value: 120, unit: 'mm' }],
    datums: { A: { kind: 'cylinder', diameter_mm: 240, axis: [0, 0, 1] } },
    input: { interferometer: { fNumber: 3.2, collimated: false }, process: { kind: 'etched' } },
  },
  substrate: { glass: 'fused silica', index: 1.457 },
  patches: [PATCH],
  references: [REFERENCE],
  part: { sigma: { x: 5, rz: 20 } },
  findings: [BLOCKED],
};
const SAMPLES = '# head\npatch,x_mm,y_mm,phase_waves\np,60,0,1.5\np,61,0,2.5\n';

const packageOf = (report: Json, samples = SAMPLES): ReadonlyMap<string, string> =>
  new Map([
    ['report.json', JSON.stringify(report)],
    ['samples.csv', samples],
  ]);
const changes = (after: Json, samples?: string): readonly Change[] =>
  changesBetween(packageOf(REPORT), packageOf({ ...REPORT, ...after }, samples));
const patch = (change: Json): Json => ({ patches: [{ ...PATCH, ...change }] });
const reference = (change: Json): Json => ({ references: [{ ...REFERENCE, ...change }] });
const scenario = (change: Json): Json => ({ scenario: { ...REPORT.scenario, ...change } });

test('the same packages: nothing', () => {
  expect(changes({})).toEqual([]);
});

describe('one change is told as', () => {
  test.each<[string, Json, Change]>([
    [
      'version',
      { version: '1.1.0' },
      { about: 'version', id: '', what: 'version', before: '1.0.0', after: '1.1.0' },
    ],
    ['draft', { draft: true }, { about: 'version', id: '', what: 'draft', before: false, after: true }],
    [
      'parameter',
      scenario({ parameters: [{ name: 'rim', value: 119.5, unit: 'mm' }] }),
      { about: 'parameter', id: 'rim', what: 'value', before: 120, after: 119.5, by: -0.5, unit: 'mm' },
    ],
    [
      'parameter without a unit',
      scenario({ parameters: [{ name: 'rim', value: 120, unit: '' }] }),
      { about: 'parameter', id: 'rim', what: 'value', before: '120 mm', after: '120' },
    ],
    [
      'parameter that is new',
      scenario({ parameters: [...REPORT.scenario.parameters, { name: 'n', value: 2, unit: '' }] }),
      { about: 'parameter', id: 'n', what: 'added', before: null, after: 'there' },
    ],
    [
      'datum',
      scenario({ datums: { A: { kind: 'cylinder', diameter_mm: 241, axis: [0, 0, 1] } } }),
      { about: 'datum', id: 'A', what: 'diameter_mm', before: 240, after: 241, by: 1 },
    ],
    [
      'datum’s direction',
      scenario({ datums: { A: { kind: 'cylinder', diameter_mm: 240, axis: [0, 1, 0] } } }),
      { about: 'datum', id: 'A', what: 'axis', before: '[0,0,1]', after: '[0,1,0]' },
    ],
    [
      'input',
      scenario({
        input: { interferometer: { fNumber: 3.5, collimated: false }, process: { kind: 'etched' } },
      }),
      {
        about: 'input',
        id: 'interferometer',
        what: 'fNumber',
        before: 3.2,
        after: 3.5,
        by: expect.closeTo(0.3, 9),
      },
    ],
    [
      'title',
      scenario({ title: 'Other' }),
      { about: 'input', id: 'title', what: 'value', before: 'Bench', after: 'Other' },
    ],
    [
      'glass',
      { substrate: { glass: 'BK7', index: 1.457 } },
      { about: 'input', id: 'glass', what: 'value', before: 'fused silica', after: 'BK7' },
    ],
    [
      // 3, 4 and 0 mm to the side are 5 mm.
      'patch that moved, as a distance in µm',
      patch({ centre: [63, -4] }),
      {
        about: 'patch',
        id: 'p',
        what: 'centre',
        before: '(60, 0) mm',
        after: '(63, -4) mm',
        by: 5000,
        unit: 'um',
      },
    ],
    [
      // 2, 3 and 6 µm are 7 µm.
      'target that moved in space',
      patch({ target: [90.002, 19.997, 130.006] }),
      {
        ...{ about: 'patch', id: 'p', what: 'target', unit: 'um', by: expect.closeTo(7, 6) },
        ...{ before: '(90, 20, 130) mm', after: '(90.002, 19.997, 130.006) mm' },
      },
    ],
    [
      'reference of a patch',
      patch({ reference: 's' }),
      { about: 'patch', id: 'p', what: 'reference', before: 'r', after: 's' },
    ],
    [
      'focus of a patch',
      patch({ focus: 'line' }),
      { about: 'patch', id: 'p', what: 'focus', before: 'point', after: 'line' },
    ],
    [
      'size of a patch',
      patch({ outline: { shape: 'circle', centre: [60, 0], diameter: 11 } }),
      { about: 'patch', id: 'p', what: 'outline diameter', before: 12, after: 11, by: -1 },
    ],
    [
      'smallest period',
      patch({ period_um: { min: 3.5, max: 6 } }),
      { about: 'patch', id: 'p', what: 'smallest period', before: 4, after: 3.5, by: -0.5, unit: 'um' },
    ],
    [
      'largest period',
      patch({ period_um: { min: 4, max: 7 } }),
      { about: 'patch', id: 'p', what: 'largest period', before: 6, after: 7, by: 1, unit: 'um' },
    ],
    [
      'one reading',
      patch({ resolution_um: 2.5 }),
      { about: 'patch', id: 'p', what: 'one reading', before: 2, after: 2.5, by: 0.5, unit: 'um' },
    ],
    [
      'distance',
      patch({ distance_mm: 301 }),
      { about: 'patch', id: 'p', what: 'distance', before: 300, after: 301, by: 1, unit: 'mm' },
    ],
    [
      'Fresnel number',
      patch({ fresnelNumber: 10 }),
      { about: 'patch', id: 'p', what: 'Fresnel number', before: 12, after: 10, by: -2 },
    ],
    [
      'fringes at null',
      patch({ bias: { fringes: 3, fringesAtNull: 2 } }),
      { about: 'patch', id: 'p', what: 'fringes at null', before: 3, after: 2, by: -1, unit: 'fringes' },
    ],
    [
      'bias specified',
      patch({ bias: { fringes: 4, fringesAtNull: 3 } }),
      { about: 'patch', id: 'p', what: 'bias specified', before: 3, after: 4, by: 1, unit: 'fringes' },
    ],
    ['order', patch({ order: -1 }), { about: 'patch', id: 'p', what: 'order', before: 1, after: -1, by: -2 }],
    [
      'patch that is gone',
      { patches: [] },
      { about: 'patch', id: 'p', what: 'removed', before: 'there', after: null },
    ],
    [
      'reference that moved',
      reference({ at: [90, 20, 129] }),
      {
        ...{ about: 'reference', id: 'r', what: 'place', by: 1000, unit: 'um' },
        ...{ before: '(90, 20, 130) mm', after: '(90, 20, 129) mm' },
      },
    ],
    [
      'uncertainty of a reference, by axis',
      reference({ sigma_um: { x: 1, y: 2.5, z: null } }),
      { about: 'reference', id: 'r', what: 'sigma y', before: 2, after: 2.5, by: 0.5, unit: 'um' },
    ],
    [
      'uncertainty where there was none',
      reference({ sigma_um: { x: 1, y: 2, z: 9 } }),
      { about: 'reference', id: 'r', what: 'sigma z', before: null, after: 9, unit: 'um' },
    ],
    [
      'uncertainty of the part along an axis',
      { part: { sigma: { x: 4, rz: 20 } } },
      { about: 'part', id: '', what: 'sigma x', before: 5, after: 4, by: -1, unit: 'um' },
    ],
    [
      'uncertainty of the part about an axis',
      { part: { sigma: { x: 5, rz: 21 } } },
      { about: 'part', id: '', what: 'sigma rz', before: 20, after: 21, by: 1, unit: 'urad' },
    ],
    [
      'finding that is gone',
      { findings: [] },
      { about: 'finding', id: 'blocked', what: 'gone', before: 'error at p, r: in the way', after: null },
    ],
    [
      'finding that appeared beside a like one',
      { findings: [BLOCKED, { ...BLOCKED, message: 'too' }] },
      { about: 'finding', id: 'blocked', what: 'appeared', before: null, after: 'error at p, r: too' },
    ],
    [
      'finding that says something else',
      { findings: [{ ...BLOCKED, message: 'by 3 mm' }] },
      {
        ...{ about: 'finding', id: 'blocked', what: 'changed' },
        ...{ before: 'error at p, r: in the way', after: 'error at p, r: by 3 mm' },
      },
    ],
  ])('%s', (_, after, change) => {
    expect(changes(after)).toEqual([change]);
  });
});

describe('rounding is no change', () => {
  test.each<[string, Json, number]>([
    // Inputs to a thousandth of a millionth, figures to a tenth of a millionth, places to a picometre, fringes to a millionth.
    [
      'an input within',
      scenario({ parameters: [{ name: 'rim', value: 120 * (1 + 0.9e-9), unit: 'mm' }] }),
      0,
    ],
    [
      'an input beyond',
      scenario({ parameters: [{ name: 'rim', value: 120 * (1 + 1.1e-9), unit: 'mm' }] }),
      1,
    ],
    ['a figure within', patch({ period_um: { min: 4 * (1 - 0.9e-7), max: 6 } }), 0],
    ['a figure beyond', patch({ period_um: { min: 4 * (1 - 1.1e-7), max: 6 } }), 1],
    ['a place within', patch({ centre: [60 + 0.9e-9, 0] }), 0],
    ['a place beyond', patch({ centre: [60 + 1.1e-9, 0] }), 1],
    ['fringes within', patch({ bias: { fringes: 3, fringesAtNull: 3 + 0.9e-6 } }), 0],
    ['fringes beyond', patch({ bias: { fringes: 3, fringesAtNull: 3 + 1.1e-6 } }), 1],
  ])('%s', (_, after, count) => {
    expect(changes(after)).toHaveLength(count);
  });
});

test('a phase that changed where the points stand still is told at its worst, in waves', () => {
  const moved = SAMPLES.replace('1.5', '1.51').replace('2.5', '2.45');
  expect(changes({}, moved)).toEqual([
    {
      ...{
        about: 'patch',
        id: 'p',
        what: 'phase at the same place',
        before: null,
        after: null,
        unit: 'waves',
      },
      by: expect.closeTo(0.05, 12),
    },
  ]);
  // The last digit is rounding; points elsewhere compare with nothing.
  expect(changes({}, SAMPLES.replace('1.5', '1.500000001'))).toEqual([]);
  expect(changes({}, SAMPLES.replace('61,0,2.5', '62,0,2.7'))).toEqual([]);
});

test('inputs are told before what comes of them', () => {
  const all = changes({
    ...{ version: '2', findings: [], part: { sigma: { x: 6, rz: 20 } } },
    ...patch({ order: 2 }),
    ...reference({ at: [0, 0, 0] }),
    scenario: {
      ...REPORT.scenario,
      ...{ title: 'Other', parameters: [], datums: {} },
    },
  });
  expect(all.map(({ about }) => about)).toEqual([
    ...['version', 'parameter', 'datum', 'input', 'patch', 'reference', 'part', 'finding'],
  ]);
});

test('a report that cannot be read counts as empty', () => {
  const broken = new Map([['report.json', '{']]);
  expect(changesBetween(broken, broken)).toEqual([]);
  expect(changesBetween(broken, packageOf(REPORT)).find(({ id }) => id === 'p')).toMatchObject({
    what: 'added',
  });
});
