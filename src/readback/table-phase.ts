/**
 * The phase that a block of a coefficient table gives at points of the substrate frame, as its head's formulas say:
 *   xy       Φ = Σ c · u^i · v^j        radial  Φ = Σ c · ρ^(2i), ρ² = u² + v²
 *   zernike  Φ = Σ c · Z_n^m(u, v), unit root mean square        roof  B = c0 |c1 u + c2 v|
 * with u = (x − centreX)/unitRadius, v likewise. Places mm, phases waves at order 1.
 */
import type { Points } from '../geometry/sampling.ts';
import { zernikeCount, zernikeIndexFromOrders, zernikeSum } from '../optics/zernike.ts';
import type { TableBlock, TableConvention } from '../scenario/coefficient-table.ts';

/** The block's phases; its axes run as `convention` says. */
export function tablePhases(block: TableBlock, convention: TableConvention, points: Points): Float64Array {
  const xs = convention.xRuns < 0 ? points.xs.map((x) => -x) : points.xs;
  const ys = convention.yRuns < 0 ? points.ys.map((y) => -y) : points.ys;
  if (block.basis === 'xy' || block.basis === 'radial') return powerSum(block, xs, ys);
  if (block.basis === 'roof') return roofSum(block, xs, ys);
  return zernikeSum(denseZernike(block), block.centre, block.unitRadius, xs, ys);
}

function powerSum(
  { basis, centre, unitRadius, terms }: TableBlock,
  xs: Float64Array,
  ys: Float64Array,
): Float64Array {
  const highest = terms.reduce((most, { i, j }) => Math.max(most, i, j), 0);
  const us = new Float64Array(highest + 1).fill(1);
  const vs = new Float64Array(highest + 1).fill(1);
  return xs.map((x, k) => {
    const u = (x - centre[0]) / unitRadius;
    const v = (ys[k]! - centre[1]) / unitRadius;
    const first = basis === 'radial' ? u * u + v * v : u;
    for (let n = 1; n <= highest; n++) {
      us[n] = us[n - 1]! * first;
      vs[n] = vs[n - 1]! * v;
    }
    let sum = 0;
    for (const { i, j, coefficient } of terms) sum += coefficient * us[i]! * vs[j]!;
    return sum;
  });
}

function roofSum(
  { centre, unitRadius, terms }: TableBlock,
  xs: Float64Array,
  ys: Float64Array,
): Float64Array {
  const of = (i: number, j: number): number =>
    terms.find((term) => term.i === i && term.j === j)?.coefficient ?? 0;
  const [c0, c1, c2] = [of(0, 0), of(1, 0), of(0, 1)];
  return xs.map(
    (x, k) => c0 * Math.abs((c1 * (x - centre[0])) / unitRadius + (c2 * (ys[k]! - centre[1])) / unitRadius),
  );
}

function denseZernike({ terms }: TableBlock): Float64Array {
  const highest = terms.reduce((most, { i }) => Math.max(most, i), 0);
  const dense = new Float64Array(zernikeCount(highest));
  for (const { i, j, coefficient } of terms) dense[zernikeIndexFromOrders([i, j])] = coefficient;
  return dense;
}
