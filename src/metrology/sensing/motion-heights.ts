/**
 * What a small rigid motion does to the height that a null test finds at a point X of the surface, seen from the point P of the pattern that
 * shows it. mm for 1 mm along an axis or 1 rad about one; positive toward the hologram, as the evaluation would take it for surface.
 *
 * The part, by T and θ about its origin (part frame): h = n·(T + θ × X), n the normal toward the hologram; the wavefront changes by 2h.
 * The hologram, by T and θ about its own origin (substrate frame), its phase frozen, beam and part at rest: seen from it both move the
 * other way. The surface's share is −n·(T + θ × X). The wave that arrives at P changes by p·(T + θ × A), A any point in air of its ray and p
 * the ray's direction (Fermat); so does the wave that leaves, and the null of a wave that has run farther lies nearer. Both passes see it alike:
 *   h = −(n + p)·T − θ·(X × n + A × p)
 * It is the work of the light's push on the glass: of that which arrives along p and leaves along −n. A motion of hologram and part together
 * leaves what the beam alone does.
 */
import type { Design } from '../../design/design.ts';
import { placeFromParent, rotateBack } from '../../geometry/frame.ts';
import { add, cross, negate, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import { gradientAt } from '../../optics/eikonal.ts';
import type { Footing } from '../../optics/null-wave.ts';
import { sensitivityRow } from './sensitivity.ts';

/** In the order x, y, z, rx, ry, rz. */
export function partHeights({ scenario }: Design, { foot, normal }: Footing): readonly number[] {
  const { frame } = scenario.part;
  return sensitivityRow(rotateBack(frame.rotation, normal), placeFromParent(frame, foot));
}

/** In the order x, y, z, rx, ry, rz. */
export function hologramHeights(design: Design, { at, foot, normal }: Footing): readonly number[] {
  const { from, along } = arrivingRay(design, at);
  return [...negate(add(normal, along)), ...negate(add(cross(foot, normal), cross(from, along)))];
}

/** The ray in air of the beam that arrives at a place of the pattern: where it meets the glass, or the pattern, and its direction. */
function arrivingRay({ beam, glass }: Design, [x, y]: Vec2): { readonly from: Vec3; readonly along: Vec3 } {
  const [gx, gy] = gradientAt(beam.eikonal, x, y);
  const square = gx * gx + gy * gy;
  const along: Vec3 = [gx, gy, Math.sqrt(1 - square)];
  if (glass.side !== 'before') return { from: [x, y, 0], along };
  // A plane plate keeps the lateral cosines.
  const run = glass.thickness / Math.sqrt(glass.index * glass.index - square);
  return { from: [x - run * gx, y - run * gy, -glass.thickness], along };
}
