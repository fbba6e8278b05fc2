/** The reach map's panel of the glass: what share it tells, which square is of which class and where it stands, and a bar that is as long as it says. */
import { describe, expect, test } from 'vitest';
import { type FreeCells, type GlassReach, reachOf } from '../../src/metrology/reach/reach.ts';
import { glassPanel, SIDE } from '../../src/writing/reach/reach-panels.ts';
import { designFrom, pointPatch } from '../metrology/support/design-from.ts';

const LEFT = 40;
const TOP = 100;
/** A glass 150 mm across, seen from the part side; features of 2 µm can be written. */
const design = designFrom({
  process: { minFeature: '2 um' },
  references: [{ id: 'r', kind: 'ball', diameter: 12.7, at: [0, 40, 260] }],
  patches: [pointPatch('p', 'r', [45, 20], 4)],
});
const PER_MM = SIDE / 150;
const cells: FreeCells = {
  ...{ pitch: 10, columns: 15, first: [-70, -70] },
  // Two rows: three squares beside each other and one alone, then one two rows up.
  places: Int32Array.from([3, 4, 5, 9, 37]),
  xs: Float64Array.from([-40, -30, -20, 20, 0]),
  ys: Float64Array.from([-70, -70, -70, -70, -50]),
};
const panel = (share: number | undefined, features: readonly number[] = [], order = 1): string => {
  const reach: GlassReach = {
    ...{ reference: design.references[0], order, share },
    features: Float64Array.from({ length: 5 }, (_, k) => features[k] ?? 5e-3),
  };
  return glassPanel(design, cells, reach, [], LEFT, TOP).text;
};

test.each([
  [0, '0 %'],
  [1e-9, '1 %'],
  [0.004, '1 %'],
  [0.26, '26 %'],
  [0.75, '75 %'],
  [0.996, '99 %'],
  [1 - 1e-9, '99 %'],
  [1, '100 %'],
])('a share of %d is said to be %s: none and all of none and all alone', (share, words) => {
  expect(panel(share)).toContain(`on the glass: ${words} of the free glass can serve it<`);
});

test('no free glass, and an order other than the first, are said', () => {
  expect(panel(undefined)).toContain('on the glass: no area is free<');
  expect(panel(0.5, [], 2)).toContain('50 % of the free glass can serve it at order 2<');
});

test('features are told in µm from the finest to the coarsest, where any light goes', () => {
  expect(panel(1, [4e-3, 5e-3, 12.5e-3, 3e-3, Number.NaN])).toContain('features there 3 to 12.5 µm<');
  expect(panel(1, [4e-3, Number.POSITIVE_INFINITY])).toContain('features there 4 to ∞ µm<');
  expect(panel(0, Array(5).fill(Number.NaN))).toContain('no pattern there sends light to it<');
});

describe('squares', () => {
  /** Middles of the squares of a class, mm on the glass. */
  const squaresOf = (text: string, kind: string): readonly (readonly number[])[] => {
    const [, path = ''] = new RegExp(`<path class="${kind}" d="([^"]*)"`).exec(text) ?? [];
    return [...path.matchAll(/M(\S+) (\S+)h(\S+)v(\S+)h-\S+z/g)].flatMap(([, ...numbers]) => {
      const [x, y, width, side] = numbers.map(Number);
      const count = Math.round(width / side);
      expect(side / PER_MM).toBeCloseTo(10, 1);
      return Array.from({ length: count }, (_, k) => [
        Math.round((x + (k + 0.5) * side - LEFT - SIDE / 2) / PER_MM) + 0,
        Math.round(-(y + side / 2 - TOP - SIDE / 2) / PER_MM),
      ]);
    });
  };

  // At the limits themselves: twice the least is plenty, the least is enough.
  const text = panel(0.5, [4e-3, 3.999e-3, 2e-3, 1.999e-3, Number.NaN]);
  test.each<[string, readonly (readonly number[])[]]>([
    ['plenty', [[-40, -70]]],
    [
      'enough',
      [
        [-30, -70],
        [-20, -70],
      ],
    ],
    [
      'none',
      [
        [20, -70],
        [0, -50],
      ],
    ],
  ])('%s stand where the glass is, x to the right and y up', (kind, places) => {
    expect(squaresOf(text, kind)).toEqual(places);
  });
});

test('the scale bar is as long as it says, 1, 2 or 5 times a power of ten, within a third of the panel', () => {
  const [, from, to, length] = /<path class="bar" d="M(\S+) \S+H(\S+)"\/><text[^>]*>(\S+) mm</
    .exec(panel(1))!
    .map(Number);
  expect((to - from) / PER_MM).toBeCloseTo(length, 0);
  // 150 mm / 3 is 50 mm.
  expect(length).toBe(50);
});

test('the main pattern is drawn where it takes the glass, and no square is free in it', () => {
  const tested = designFrom({
    substrate: { outline: { circle: { diameter: 150 } }, thickness: 0, clearance: 0.5 },
    part: {
      origin: [15, -10, 1800],
      datums: { M: { sphere: { centre: [0, 0, 0], diameter: 1600, side: 'inside' } } },
    },
    test: { surface: 'M', aperture: { circle: { diameter: 40 } }, margin: 1 },
    references: [{ id: 'r', kind: 'ball', diameter: 12.7, at: [0, 40, 260] }],
  });
  const reach = reachOf(tested);
  const text = glassPanel(tested, reach.cells, reach.references[0]!, [], LEFT, TOP).text;
  // Seen through the sphere's centre, which is as far from the pattern as the sphere and its radius: r = a · 1800/√(800² − a²).
  const radius = (20 * 1800) / Math.sqrt(800 ** 2 - 20 ** 2) + 1;
  const middle = [LEFT + SIDE / 2 + 15 * PER_MM, TOP + SIDE / 2 + 10 * PER_MM];
  const [, drawn, at] = /<path class="main"[^>]* d="M([^A]*)A(\S+) /.exec(text)!;
  expect(Number(at) / PER_MM).toBeCloseTo(radius, 0);
  const [x, y] = drawn!.split(' ').map(Number);
  expect(Math.hypot(x! - middle[0]!, y! - middle[1]!) / PER_MM).toBeCloseTo(radius, 0);
  const from = Array.from(reach.cells.xs, (each, k) => Math.hypot(each - 15, reach.cells.ys[k]! + 10));
  expect(Math.min(...from)).toBeGreaterThan(radius + 0.5);
  expect(Math.min(...from)).toBeLessThan(radius + 0.5 + reach.cells.pitch);
});
