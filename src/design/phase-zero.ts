/** Where a pattern's phase is 0 before any bias. mm. */
import { boundaryPoints } from '../geometry/sampling.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { type Eikonal, pathAt } from '../optics/eikonal.ts';
import type { Pattern } from './pattern.ts';

/** The pattern's centre; where no ray leaves that for the wave, the first point of its edge: of a ring, the outer one's in +x. */
export function zeroOf({ centre, outline }: Pick<Pattern, 'centre' | 'outline'>, leaving: Eikonal): Vec2 {
  if (Number.isFinite(pathAt(leaving, centre[0], centre[1]))) return centre;
  const { xs, ys } = boundaryPoints(outline, 1);
  return [xs[0]!, ys[0]!];
}
