/**
 * What a part that stands off its null leaves in the figure beyond the first order: a motion v leaves H₁(v) + H₂(v) + …, and H₂ grows with the
 * square of the tilt, as the astigmatism of a mirror used off its axis does. At X of the surface, which a place P of the pattern shows:
 *   the moved surface's distance along the normal n, with u = T + θ × X of tangential part τ and II the second fundamental form:
 *     n·(θ × (θ × X))/2 − n·(θ × τ) + II(τ, τ)/2
 *   retrace error: light comes home aslant by 2∇h, from elsewhere on the surface, ∇h·A⁻¹D∇h: A = ∂P/∂X along the normals, D what P goes
 *     with the direction, by |∇E| = 1 in the second order (Born & Wolf, Principles of Optics, §3.1.1).
 * With v = Σ zₖ lₖ, z independent, normal and of unit variance, H₂(v) = Σ zₖ zₗ Qₖₗ has E|H₂|² = |Σ Qₖₖ|² + 2 Σ |Qₖₗ|² (L. Isserlis, 1918), and is
 * uncorrelated with H₁. The camera sees the pattern, as in mapping.ts. mm of surface height, substrate frame.
 */
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { rotate } from '../../geometry/frame.ts';
import { add, cross, dot, scale, subtract, type Vec3 } from '../../geometry/vector.ts';
import type { Footing } from '../../optics/null-wave.ts';
import { surfaceHeights } from '../sensing/surface-heights.ts';
import { motionMaps } from './motion-maps.ts';

/** √E|H₂|² of motions lₖ of one standard deviation each, independent: mm and rad about the part's origin, part frame. */
export function secondOrderOf(design: Design, motions: readonly ArrayLike<number>[]): number {
  const { main } = design;
  const heights = surfaceHeights(design);
  const maps = motionMaps(design);
  if (main === undefined || heights === undefined || maps === undefined) return 0;
  const { xs, ys } = heights.points;
  const moving = motions.filter((motion) => Array.from(motion).some((part) => part !== 0));
  const responses = Array.from(xs, (x, k) => responsesAt(design, main, x, ys[k]!, moving));
  const sum = new Float64Array(xs.length);
  let square = 0;
  for (let k = 0; k < moving.length; k++) {
    for (let l = 0; l <= k; l++) {
      const map = maps.leftOf(Float64Array.from(responses, (at) => joint(at[k]!, at[l]!)));
      map.forEach((entry, at) => {
        if (k === l) sum[at]! += entry;
        square += (k === l ? 2 : 4) * entry * entry;
      });
    }
  }
  return Math.sqrt(sum.reduce((total, entry) => total + entry * entry, square));
}

/** What a motion does at a point. */
interface Response {
  /** n × θ, and (θ × X)/4 − τ/2: n·(θ × w) = (n × θ)·w. */
  readonly across: Vec3;
  readonly swing: Vec3;
  /** τ, and how far n turns along it. */
  readonly aside: Vec3;
  readonly bent: Vec3;
  /** ∇h by the surface's own x and y, and A⁻¹D∇h. */
  readonly slope: readonly [number, number];
  readonly away: readonly [number, number];
}

/** Qₖₗ at a point; II(τ, τ) = −dn(τ)·τ. */
const joint = (k: Response, l: Response): number =>
  dot(k.across, l.swing) +
  dot(l.across, k.swing) -
  dot(k.bent, l.aside) / 2 +
  (k.slope[0] * l.away[0] + k.slope[1] * l.away[1]);

/** Step of the difference quotients of normals, mm. */
const STEP = 1e-3;

function responsesAt(
  { glass, scenario }: Design,
  { normals }: MainPattern,
  x: number,
  y: number,
  motions: readonly ArrayLike<number>[],
): readonly Response[] {
  const footing = normals.from(x, y)!;
  const along = (dx: number, dy: number): readonly [Vec3, Vec3] => {
    const ahead = normals.from(x + dx, y + dy);
    // At the end of a surface, the way back.
    const other = ahead ?? normals.from(x - dx, y - dy)!;
    const per = 1 / (ahead === undefined ? -STEP : STEP);
    return [
      scale(subtract(other.normal, footing.normal), per),
      scale(subtract(other.foot, footing.foot), per),
    ];
  };
  const [[nx, e], [ny, f]] = [along(STEP, 0), along(0, STEP)];
  const [ee, ef, ff] = [dot(e, e), dot(e, f), dot(f, f)];
  const area = ee * ff - ef * ef;
  /** a and b of the tangential aX_x + bX_y whose products with X_x and X_y are these. */
  const raised = (p: number, q: number): readonly [number, number] => [
    (ff * p - ef * q) / area,
    (ee * q - ef * p) / area,
  ];
  const { normal, foot } = footing;
  const { origin, rotation } = scenario.part.frame;
  const lever = subtract(foot, origin);
  return motions.map((motion): Response => {
    const turn = rotate(rotation, [motion[3]!, motion[4]!, motion[5]!]);
    const swung = cross(turn, lever);
    const moved = add(rotate(rotation, [motion[0]!, motion[1]!, motion[2]!]), swung);
    const aside = subtract(moved, scale(normal, dot(normal, moved)));
    const [a, b] = raised(dot(aside, e), dot(aside, f));
    const slope = [
      dot(nx, moved) + dot(normal, cross(turn, e)),
      dot(ny, moved) + dot(normal, cross(turn, f)),
    ] as const;
    const [p, q] = raised(...slope);
    return {
      across: cross(normal, turn),
      swing: subtract(scale(swung, 1 / 4), scale(aside, 1 / 2)),
      aside,
      bent: add(scale(nx, a), scale(ny, b)),
      slope,
      away: awayOn(footing, glass, add(scale(e, p), scale(f, q))),
    };
  });
}

/** How far apart on the surface, by its x and y, are the feet of two normals that meet the pattern as far apart as light turned by `aslant` does. */
function awayOn(
  { foot, normal: d, spread }: Footing,
  { side, thickness, index: n }: Design['glass'],
  aslant: Vec3,
): readonly [number, number] {
  const t = side === 'after' ? thickness : 0;
  const way = (t - foot[2]) / d[2];
  const square = n * n - d[0] * d[0] - d[1] * d[1];
  const run = t === 0 ? 0 : t / Math.sqrt(square);
  const ahead =
    (-way * aslant[2]) / d[2] + (t === 0 ? 0 : (run * (d[0] * aslant[0] + d[1] * aslant[1])) / square);
  const px = (way + run) * aslant[0] + ahead * d[0];
  const py = (way + run) * aslant[1] + ahead * d[1];
  const [xx, xy, yx, yy] = spread;
  const determinant = xx * yy - xy * yx;
  return [(yy * px - xy * py) / determinant, (xx * py - yx * px) / determinant];
}
