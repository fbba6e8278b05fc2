/**
 * What a motion of the part leaves in the measured figure, against published third-order figures, exact symmetries, and sums over a grid of
 * the surface. nm for 1 µm and 1 µrad.
 */
import { describe, expect, it } from 'vitest';
import { leftBy, motionMaps } from '../../src/metrology/null/motion-maps.ts';
import { type DiscPoint, discPoints, evaluation } from '../independent/evaluated.ts';
import { movedSheet } from '../independent/null-traced.ts';
import { isoAsphere, squareOn } from '../independent/surface-sheets.ts';
import { designFrom, type Words } from './support/design-from.ts';

/** For 1 mm in nm for 1 µm; for 1 rad, in mm, the figure is that of 1 µrad in nm. */
const NM_FOR_UM = 1000;
const inNm = (value: number, degree: string): number => (degree.startsWith('r') ? value : NM_FOR_UM * value);

const nullTest = (datum: Words, aperture: Words, test: Words = {}, origin = [0, 0, 2600]): Words => ({
  substrate: { outline: { circle: { diameter: 500 } }, thickness: 0 },
  part: { origin, datums: { M: datum } },
  test: { surface: 'M', aperture, order: 1, ...test },
});
const asphere = (radius: number, conic: number, terms: Words = {}, vertex = [0, 0, 0]): Words => ({
  asphere: { vertex, axis: [0, 0, 1], radius, conic, terms },
});
const disc = (diameter: number, centre = [0, 0]): Words => ({ circle: { diameter, centre } });
const left = (words: Words): Readonly<Record<string, number>> =>
  Object.fromEntries(
    motionMaps(designFrom(words))!.maps.map((map) => [map.degree, inNm(map.left, map.degree)]),
  );

/** Of a figure given to two decimals. */
const LAST_DIGIT = 0.01;

describe('a paraboloid of D 500 mm, R 2000 mm', () => {
  const words = nullTest(asphere(-2000, -1), disc(500));
  it('decentred by 10 µm leaves 1.13 nm rms of coma; by hand, in the third order, 1.15', () => {
    // The height is δ dz/dx up to its third-order part: n·δ = −δ h/R (1 − h²/(2R²)) cos θ; the h³ part less tilt is
    // δ a³/(2R³)(ρ³ − 2ρ/3) cos θ, of rms δ a³/(2R³)/√72.
    const byHand = (1e4 * 250 ** 3) / (2 * 2000 ** 3) / Math.sqrt(72);
    expect(byHand).toBeCloseTo(1.15, 2);
    // Along the radius alone: n_x is (h/R)/√(1 + h²/R²) cos θ; each ring weighs h√(1 + h²/R²); less the best c h cos θ.
    const [radius, edge, steps] = [2000, 250, 2000];
    let [whole, product, square, weight] = [0, 0, 0, 0];
    for (let k = 0; k < steps; k++) {
      const h = ((k + 0.5) * edge) / steps;
      const size = Math.sqrt(1 + (h / radius) ** 2);
      const [n, w] = [h / radius / size, h * size];
      whole += w * n * n;
      product += w * n * h;
      square += w * h * h;
      weight += w;
    }
    const exact = 1e4 * Math.sqrt((whole - product ** 2 / square) / weight / 2);
    for (const degree of ['x', 'y']) {
      expect(Math.abs(10 * left(words)[degree]! - 1.13)).toBeLessThan(LAST_DIGIT);
      expect(10 * left(words)[degree]!).toBeCloseTo(exact, 4);
    }
  });
  it('leaves nothing of coma where the evaluation removes coma, and nothing by turning about its axis', () => {
    const without = left({
      ...words,
      test: { ...(words.test as Words), removed: ['tilt', 'coma', 'piston'] },
    });
    expect(without.x!).toBeLessThan(left(words).x! / 50);
    expect(left(words).rz!).toBeLessThan(1e-9);
  });
  it('has the coma that it leaves as its Zernike term Z 3,1, j = 8, and a tilt of 1 µm over its slope', () => {
    const { terms, left: rms, raw } = motionMaps(designFrom(words))!.maps[0]!;
    expect(Math.abs(terms[8]!)).toBeCloseTo(rms, 7);
    expect(Math.abs(terms[2]!)).toBeCloseTo(raw, 3);
    expect(Math.abs(terms[1]!)).toBeLessThan(1e-12);
  });
});

it('a sphere turning about its centre leaves nothing, wherever the part has its origin; moved sideways a tilt only, along the light more', () => {
  const radius = 1000;
  const centre = [20, -10, 400];
  const sphere = { sphere: { centre, diameter: 2 * radius, side: 'inside' } };
  const design = designFrom(nullTest(sphere, disc(300, [10, 5]), {}, [0, 0, 500]));
  const maps = motionMaps(design)!;
  // T = −θ × c, the centre at rest.
  const still = [
    [0, centre[2]!, -centre[1]!, 1, 0, 0],
    [-centre[2]!, 0, centre[0]!, 0, 1, 0],
    [centre[1]!, -centre[0]!, 0, 0, 0, 1],
  ];
  for (const motion of still) expect(Math.hypot(...leftBy(maps, motion))).toBeLessThan(1e-9);
  expect(Math.hypot(...leftBy(maps, [1, 0, 0, 0, 0, 0]))).toBeLessThan(1e-12);
  // n_z = √(1 − |ρ a + d|²/R²) for an aperture at d: its fourth order is a⁴/(8R⁴) (ρ⁴ + 4 (d/a) ρ³ cos θ), of which spherical aberration
  // leaves 1/(6√5) after piston and power, and coma 4 (d/a)/√72 after tilt.
  const edge = 150;
  const aside = Math.hypot(10, 5) / edge;
  const byHand =
    (edge ** 4 / (8 * radius ** 4)) * Math.hypot(1 / (6 * Math.sqrt(5)), (4 * aside) / Math.sqrt(72));
  expect(Math.hypot(...leftBy(maps, [0, 0, 1, 0, 0, 0])) / byHand).toBeCloseTo(1, 1);
});

/** Of the sums over a grid. */
const AGREES = 0.01;

describe('an aperture of another outline', () => {
  const height = isoAsphere(-2000, -1);
  const sheet = movedSheet({ height, vertex: [0, 0, 0], origin: [0, 0, 2600] }, [0, 0, 0, 0, 0, 0]);
  const [cx, cy, half] = [40, -20, 90];
  const inRing = ({ x, y }: DiscPoint): boolean => Math.hypot(x, y) >= 60;
  const grid = Array.from({ length: 40 * 40 }, (_, k): DiscPoint => {
    const [u, v] = [((k % 40) + 0.5) / 20 - 1, (Math.floor(k / 40) + 0.5) / 20 - 1];
    const [x, y] = [cx + half * u, cy + half * v];
    return { x, y, u, v, area: Math.hypot(1, x / 2000, y / 2000) };
  });
  const rectangle = { rectangle: { width: 2 * half, height: 2 * half, centre: [cx, cy] } };
  it.each([
    ['a rectangle', rectangle, grid],
    ['a ring', { ring: { inner: 120, outer: 300 } }, discPoints(height, 150, [0, 0], 50).filter(inRing)],
  ])('%s leaves n·T and n·(θ × X) summed over a grid, to 1 %', (_, aperture, points) => {
    const { maps } = motionMaps(designFrom(nullTest(asphere(-2000, -1), aperture)))!;
    const evaluated = evaluation(points);
    const normals = points.map(({ x, y }) => squareOn(sheet, x, y).back);
    const found = (k: number) => evaluated(normals.map((n) => n[k]!));
    expect(Math.abs(maps[0]!.left / found(0) - 1)).toBeLessThan(AGREES);
    expect(Math.abs(maps[2]!.left / found(2) - 1)).toBeLessThan(AGREES);
    const turned = normals.map((n, k) => points[k]!.y * n[2] - height(points[k]!.x, points[k]!.y) * n[1]);
    expect(Math.abs(maps[3]!.left / evaluated(turned) - 1)).toBeLessThan(AGREES);
  });
});
