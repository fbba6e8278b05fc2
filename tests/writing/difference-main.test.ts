/** What moved in the null of the surface under test between two packages, by hand. */
import { describe, expect, it } from 'vitest';
import { type Change, changesBetween } from '../../src/writing/difference/difference.ts';

type Json = Record<string, unknown>;

const packageOf = (report: Json, samples: string): ReadonlyMap<string, string> =>
  new Map([
    ['report.json', JSON.stringify(report)],
    ['samples.csv', samples],
  ]);

describe('a change of the null', () => {
  const testOf = (footprint: Json, more: Json = {}): Json => ({
    test: { footprint, period_um: { min: 20, max: 300 }, figure_nm: { expected: 2 }, ...more },
  });
  const CIRCLE = { shape: 'circle', centre_mm: [1, 2], diameter_mm: 30 };
  const POLYGON = { shape: 'polygon', points_mm: [[-10, -5], [10, -5], [12, 9], [-10, 5]] }; // biome-ignore format: a list
  const MAIN = '# head\npatch,x_mm,y_mm,phase_waves\nmain,0,0,1.5\nmain,4,0,2.5\n';
  const between = (was: Json, is: Json, samples = MAIN): readonly Change[] =>
    changesBetween(packageOf(was, MAIN), packageOf(is, samples));
  const told = (all: readonly Change[]) =>
    all.map(({ id, what, before, after, by, unit }) => [
      id,
      what,
      before,
      after,
      by === undefined ? by : Number(by.toFixed(9)),
      unit,
    ]);

  it('is told as patch main: its place, size, periods, figure, and phase at the same places', () => {
    expect(between(testOf(CIRCLE), testOf(CIRCLE))).toEqual([]);
    const moved = { ...CIRCLE, centre_mm: [1.003, 2.004], diameter_mm: 30.5 };
    const figures = { period_um: { min: 18, max: 300 }, figure_nm: { expected: 2.5 } };
    expect(told(between(testOf(CIRCLE), testOf(moved, figures), MAIN.replace('2.5', '2.75')))).toEqual([
      ['main', 'footprint', '(1, 2) mm', '(1.003, 2.004) mm', 5, 'um'],
      ['main', 'footprint width', 30, 30.5, 0.5, 'mm'],
      ['main', 'footprint height', 30, 30.5, 0.5, 'mm'],
      ['main', 'smallest period', 20, 18, -2, 'um'],
      ['main', 'expected figure error', 2, 2.5, 0.5, 'nm'],
      ['main', 'phase at the same place', null, null, 0.25, 'waves'],
    ]);
  });

  it('of a polygon by the upright rectangle around it', () => {
    const wider = { ...POLYGON, points_mm: [...POLYGON.points_mm, [14, 0]] };
    expect(told(between(testOf(POLYGON), testOf(wider)))).toEqual([
      ['main', 'footprint', '(1, 2) mm', '(2, 2) mm', 1000, 'um'],
      ['main', 'footprint width', 22, 24, 2, 'mm'],
    ]);
  });

  it('that is new or gone is said so; without one nothing', () => {
    expect(told(between({}, testOf(CIRCLE)))).toEqual([
      ['main', 'added', null, 'there', undefined, undefined],
    ]);
    expect(told(between(testOf(CIRCLE), {}))).toEqual([
      ['main', 'removed', 'there', null, undefined, undefined],
    ]);
    expect(
      between(testOf(CIRCLE), { test: { footprint: { shape: 'circle', points_mm: 7 } } }).length,
    ).toBeGreaterThan(0);
  });
});

it('whose samples have moved is compared by the tables, at the old places, apart from a piston', () => {
  const table = (centre: number, terms: readonly (readonly [number, number, number])[]): string =>
    JSON.stringify({
      patches: [
        {
          id: 'main',
          polynomial: {
            ...{ centre_mm: [centre, 0], unitRadius_mm: 10 },
            terms: terms.map(([i, j, coefficient_waves]) => ({ i, j, coefficient_waves })),
          },
        },
      ],
    });
  // 40 ((x − 1)/10)² + 3 y/10, and about x = 0 the same with 40 (x/10)² + 8 x/10: 16 x/10 − 4/10 apart.
  const old = table(1, [[2, 0, 40], [0, 1, 3]]); // biome-ignore format: a list
  const fresh = table(0, [[2, 0, 40], [1, 0, 8], [0, 1, 3], [0, 0, 7]]); // biome-ignore format: a list
  const SAMPLES = 'main,-10,2,0\nmain,10,5,0\nmain,0,0,0\n';
  const filesOf = (coefficients: string, samples: string) =>
    new Map([
      ['coefficients.json', coefficients],
      ['samples.csv', samples],
      ['report.json', JSON.stringify({ test: { footprint: {} } })],
    ]);
  const by = (after: string): readonly (number | undefined)[] =>
    changesBetween(filesOf(old, SAMPLES), filesOf(after, 'main,1,1,0\n')).map((change) => change.by);
  expect(by(fresh)).toEqual([expect.closeTo(16, 9)]);
  expect(by(old)).toEqual([]);
  expect(by('{')).toEqual([]);
});
