/**
 * How the path of a patch's return falls over the pattern, waves per mm along x and y of the substrate, from its tilts as they are
 * counted, and back. A tilt of n fringes along a sense ê is a fall of n/width · ê in the pattern plane, the width in units of P·ê. Of a
 * point focus the two senses' falls, which need not lie square to one another there, add up.
 */
import type { DesignedPatch } from '../../design/design.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { type Sense, widthAlong } from '../sensing/sensitivity.ts';

/** `tilts`: the senses of that kind, one of a line focus and two of a point focus; `counts` one for each. */
export function fallOfTilts(patch: DesignedPatch, tilts: readonly Sense[], counts: readonly number[]): Vec2 {
  let [x, y] = [0, 0];
  for (const [k, { direction }] of tilts.entries()) {
    const perWidth = counts[k]! / widthAlong(patch, direction);
    x += perWidth * direction[0];
    y += perWidth * direction[1];
  }
  return [x, y];
}

/** Of a line focus what its one sense shows of the fall. */
export function tiltsOfFall(
  patch: DesignedPatch,
  tilts: readonly Sense[],
  [fx, fy]: Vec2,
): readonly number[] {
  const [[ax, ay], second] = tilts.map(({ direction }) => direction) as [
    Sense['direction'],
    Sense['direction']?,
  ];
  const widths = tilts.map(({ direction }) => widthAlong(patch, direction));
  if (second === undefined) return [((fx * ax + fy * ay) / (ax * ax + ay * ay)) * widths[0]!];
  const [bx, by] = second;
  const determinant = ax * by - ay * bx;
  return [((fx * by - fy * bx) / determinant) * widths[0]!, ((ax * fy - ay * fx) / determinant) * widths[1]!];
}
