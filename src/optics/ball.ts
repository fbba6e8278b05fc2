/**
 * A ray that meets a ball from outside, at the real sphere: where it lands and how it leaves.
 *
 * mm; directions unit vectors. A ray aimed at the centre comes back on itself; one that misses the centre by h (lateral)
 * leaves as if from a point h to the other side, to first order in h/R, which is what the point inversion C → 2A − C says.
 */
import { dot, scale, subtract, unit, type Vec3 } from '../geometry/vector.ts';
import { along, type Ray, reflect } from './ray.ts';

export interface Ball {
  readonly centre: Vec3;
  readonly radius: number;
}

/** What a reference sends back: the ray that leaves it, and the path (mm) from the arriving ray's point to the leaving one's. */
export interface Returned {
  readonly ray: Ray;
  readonly path: number;
}

/** The ray reflected at the ball's outside; undefined where it misses the ball or starts beyond it. */
export function reflectAtBall(ball: Ball, ray: Ray): Returned | undefined {
  const toCentre = subtract(ball.centre, ray.point);
  const nearest = dot(toCentre, ray.direction);
  const miss = subtract(toCentre, scale(ray.direction, nearest));
  const halfChord2 = ball.radius * ball.radius - dot(miss, miss);
  if (!(halfChord2 > 0)) return undefined;
  const path = nearest - Math.sqrt(halfChord2);
  if (!(path > 0)) return undefined;
  const point = along(ray, path);
  // Made a unit vector anew: rounding over the radius would stretch the reflected direction, and with it the way back.
  const normal = unit(subtract(point, ball.centre));
  return { ray: { point, direction: reflect(ray.direction, normal) }, path };
}
