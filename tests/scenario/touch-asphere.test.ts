/**
 * A ball that touches an asphere stands off by its radius: the shortest way from its centre to a fine net of the surface's points, refined
 * round the nearest, by the printed formula of ISO 10110-12. mm, part frame.
 */
import { expect, test } from 'vitest';
import { type Height, isoAsphere } from '../independent/surface-sheets.ts';
import { zernike } from '../independent/zernike.ts';
import { designFrom } from '../metrology/support/design-from.ts';

/** The least distance from a point to z(x, y), by nets ten times finer in turn. */
function shortest(height: (x: number, y: number) => number, [px, py, pz]: readonly number[]): number {
  const way = (x: number, y: number): number => Math.hypot(x - px!, y - py!, height(x, y) - pz!);
  let [x, y, reach] = [px!, py!, 40];
  for (let turn = 0; turn < 12; turn++) {
    let best = way(x, y);
    const [cx, cy] = [x, y];
    for (let i = -10; i <= 10; i++)
      for (let j = -10; j <= 10; j++) {
        const [u, v] = [cx + (i * reach) / 10, cy + (j * reach) / 10];
        if (way(u, v) < best) [best, x, y] = [way(u, v), u, v];
      }
    reach /= 5;
  }
  return way(x, y);
}

/** Of mm where polishers speak of µm: a ball must feel them. */
const FREEFORM = { xy: { '2,1': 1e-6 }, zernike: { radius: 90, terms: { '3,3': 0.4 } } };

test.each([
  ['a concave paraboloid that faces the light', -2000, -1, {}, [0, 0, 900], undefined],
  ['a convex one with an even term', 600, -0.5, { 4: 3e-10 }, [0, 0, 400], undefined],
  ['a convex one with freeform terms', 600, -0.5, {}, [0, 0, 400], FREEFORM],
] as const)('%s', (_, radius, conic, terms, origin, freeform) => {
  const [azimuth, x] = [35, 70];
  const design = designFrom({
    part: {
      origin,
      datums: { M: { asphere: { vertex: [0, 0, 0], axis: [0, 0, 1], radius, conic, terms, ...freeform } } },
    },
    references: [{ id: 'b', kind: 'ball', diameter: 12.7, touches: [{ datum: 'M', azimuth, x }] }],
  });
  const { at } = design.references[0]!;
  const own = at.map((value, k) => value - origin[k]!);
  expect(Math.atan2(own[1]!, own[0]!) / (Math.PI / 180)).toBeCloseTo(azimuth, 9);
  expect(own[0]).toBeCloseTo(x, 9);
  const base = isoAsphere(radius, conic, terms);
  const height: Height = (u, v) =>
    base(u, v) + (freeform ? 1e-6 * u * u * v + 0.4 * zernike(3, 3, u / 90, v / 90) : 0);
  expect(shortest(height, own)).toBeCloseTo(6.35, 7);
  // In the air, which is on the hologram's side of the surface.
  expect(own[2]!).toBeLessThan(height(own[0]!, own[1]!));
});
