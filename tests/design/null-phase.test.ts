/**
 * The main pattern's phase against the surface's normals followed back from the surface by code of its own: conics, even terms, off axis,
 * tilted and shifted, glass on either side, orders ±1 and −2, diverging, converging and collimated beams. mm, waves.
 */
import { describe, expect, it } from 'vitest';
import { dot, size, type Vector } from '../independent/ray.ts';
import { followedBack } from '../independent/surface-sheets.ts';
import { arriving, designOf, glassAfter, pointsOf, sheetOf } from './support/null-bench.ts';
import { CASES } from './support/null-cases.ts';

const WAVELENGTH = 632.8e-6;
/** Anywhere, waves. */
const BOUND = 2e-4;
/** Of a ray off the surface's normal, rad. */
const SQUARE = 1e-6;

describe.each(CASES)('$what', (one) => {
  const { main, beam } = designOf(one);
  const sheet = sheetOf(one);
  const followed = pointsOf(one.aperture).map(([x, y]) => followedBack(sheet, x, y, glassAfter(one)));

  it('has the phase that its normals ask for, to 2e-4 waves', () => {
    const waves = followed.map(({ on: [x, y], path }) => {
      const asked = (-path - arriving(one, x, y)) / (one.order * WAVELENGTH);
      return main!.phase.phase(x, y) - asked;
    });
    const middle = (Math.max(...waves) + Math.min(...waves)) / 2;
    for (const difference of waves) expect(Math.abs(difference - middle)).toBeLessThan(BOUND);
  });

  it('sends each ray along the normal, to a microradian', () => {
    for (const { on, back } of followed) {
      const [gx, gy] = main!.phase.gradient(...on);
      const [x, y] = on;
      const h = 1e-2;
      const [ix, iy] = [
        (arriving(one, x + h, y) - arriving(one, x - h, y)) / (2 * h),
        (arriving(one, x, y + h) - arriving(one, x, y - h)) / (2 * h),
      ];
      const [px, py] = [ix + one.order * WAVELENGTH * gx, iy + one.order * WAVELENGTH * gy];
      const ray: Vector = [px, py, Math.sqrt(1 - px * px - py * py)];
      const sine = size([
        ray[1] * back[2] - ray[2] * back[1],
        ray[2] * back[0] - ray[0] * back[2],
        ray[0] * back[1] - ray[1] * back[0],
      ]);
      expect(dot(ray, back)).toBeLessThan(0);
      expect(sine).toBeLessThan(SQUARE);
    }
    expect(beam.cameraDiameter).toBeGreaterThan(0);
  });
});

it.each(['an off-axis paraboloid', 'a tilted and shifted frame'])(
  '%s has a phase all round the image of its vertex, far off the axis',
  (name) => {
    const { main } = designOf(CASES.find(({ what }) => what === name)!);
    for (let k = 0; k < 500; k++) {
      const [radius, angle] = [3 * (k / 500) ** 3, 2.399963 * k];
      const { at } = main!.normals.from(radius * Math.cos(angle), radius * Math.sin(angle))!;
      expect(main!.phase.phase(...at)).not.toBeNaN();
    }
  },
);
