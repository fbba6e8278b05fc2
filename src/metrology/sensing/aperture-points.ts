/**
 * Points of the surface under test that stand for its aperture, with the share of the surface's area that each stands for. Lengths mm, in the
 * surface's own x and y. A circle and a ring by quadrature, exact for smooth maps; other outlines by a square grid.
 */
import { discQuadrature } from '../../algebra/disc-quadrature.ts';
import { boundsOf, largestDistanceFrom } from '../../geometry/extent.ts';
import type { Outline } from '../../geometry/outline.ts';
import { interiorGrid, spacingFor } from '../../geometry/sampling.ts';
import type { Vec2 } from '../../geometry/vector.ts';

export interface AperturePoints {
  readonly xs: Float64Array;
  readonly ys: Float64Array;
  /** Of the aperture's area in the plane of x and y; their sum is 1. */
  readonly weights: Float64Array;
  /** The circle that Zernike terms are counted on: the least one about the aperture's middle that holds it. */
  readonly centre: Vec2;
  readonly radius: number;
}

/** Of the quadrature: the square of a map of order 12 in x and y is exact. */
const DEGREE = 24;
/** Points of a grid: a map that leaves 1 nm rms is off by less than a percent. */
const IN_GRID = 3000;

export function aperturePoints(aperture: Outline): AperturePoints {
  const { minX, minY, maxX, maxY } = boundsOf(aperture);
  const centre: Vec2 = [(minX + maxX) / 2, (minY + maxY) / 2];
  const radius = largestDistanceFrom(aperture, centre);
  const inner = aperture.shape === 'ring' ? aperture.inner / aperture.outer : 0;
  if (aperture.shape !== 'circle' && aperture.shape !== 'ring') {
    const { xs, ys } = interiorGrid(aperture, spacingFor(aperture, IN_GRID));
    return { xs, ys, weights: new Float64Array(xs.length).fill(1 / xs.length), centre, radius };
  }
  const disc = discQuadrature(DEGREE);
  // Equal areas of the disc go to equal areas of the ring: ρ² from inner² to 1.
  const outward = disc.xs.map((x, k) => {
    const square = x * x + disc.ys[k]! ** 2;
    return Math.sqrt((inner * inner) / square + 1 - inner * inner);
  });
  return {
    xs: disc.xs.map((x, k) => centre[0] + radius * outward[k]! * x),
    ys: disc.ys.map((y, k) => centre[1] + radius * outward[k]! * y),
    weights: disc.weights,
    centre,
    radius,
  };
}
