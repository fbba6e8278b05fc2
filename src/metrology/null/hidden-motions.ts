/**
 * Motions of the part that the measured figure does not show, and degrees whose maps are taken for each other. A motion v that displaces the
 * surface's points by |D·v| rms leaves |R·v| rms of height: their ratio is stationary for the singular vectors of R D⁻¹ (the eigenvectors of
 * the Gram matrix RᵀR against DᵀD), wherever the part has its origin. mm and radians, part frame.
 */
import { singularValues } from '../../algebra/singular-values.ts';
import { foldRow } from '../../algebra/triangular-factors.ts';
import type { Design } from '../../design/design.ts';
import { placeFromParent } from '../../geometry/frame.ts';
import { DEGREES } from '../../scenario/scenario.ts';
import { freeMotionsOf, isMove } from '../estimate/free-motion.ts';
import { type SurfaceHeights, surfaceHeights } from '../sensing/surface-heights.ts';
import { leftBy, type MotionMap, type MotionMaps, motionMaps } from './motion-maps.ts';

interface HiddenMotion {
  /** `to move along x` or `to turn about z`. */
  readonly words: string;
  readonly isTurn: boolean;
  /** T and θ about the part's origin, for 1 mm of the move or 1 rad of the turn. */
  readonly motion: readonly number[];
  /** What it leaves, rms of height, mm. */
  readonly left: number;
}

/**
 * Hidden is what leaves less than a twentieth of what the worst motion leaves, for the same displacement of the surface, and less than 0.1 nm
 * for 10 µm of it: alignment to some 10 µm is the practice, and no evaluation tells a tenth of a nanometre.
 */
const HIDDEN_SHARE = 0.05;
const HIDDEN = 1e-5;

/** Moves first, then turns; none where every motion shows, undefined where the scenario names no surface under test. */
export function hiddenMotions(design: Design): readonly HiddenMotion[] | undefined {
  const maps = motionMaps(design);
  const heights = surfaceHeights(design);
  if (maps === undefined || heights === undefined) return undefined;
  const displacement = displacementOf(design, heights);
  const size = heights.points.radius;
  const count = DEGREES.length;
  const { values, directions } = singularValues(overTriangle(maps.factor, displacement, count), count);
  const most = Math.max(Math.min(HIDDEN_SHARE * values[0]!, HIDDEN), NOTHING_LEFT);
  const hidden = directions
    .filter((_, k) => values[k]! <= most)
    .map((w) => solveTriangle(displacement, w, count))
    .map((v) => v.map((entry, k) => (k < 3 ? entry : entry * size)));
  return freeMotionsOf(hidden, size).motions.map((found): HiddenMotion => {
    const turns = !isMove(found, size);
    const by = Math.hypot(...(turns ? found.rotation : found.translation));
    const motion = [...found.translation, ...found.rotation].map((entry) => entry / by);
    return { words: found.words, isTurn: turns, motion, left: Math.hypot(...leftBy(maps, motion)) };
  });
}

/** D, upper triangular: a motion v of the part displaces the points of the surface, by T + θ × X each, by |D·v| rms. */
function displacementOf({ scenario }: Design, { footings, roots }: SurfaceHeights): Float64Array {
  const factor = new Float64Array(DEGREES.length ** 2);
  footings.forEach(({ foot }, k) => {
    const [x, y, z] = placeFromParent(scenario.part.frame, foot);
    for (const row of [
      [1, 0, 0, 0, z, -y],
      [0, 1, 0, -z, 0, x],
      [0, 0, 1, y, -x, 0],
    ])
      foldRow(
        factor,
        DEGREES.length,
        Float64Array.from(row, (entry) => roots[k]! * entry),
      );
  });
  return factor;
}

/** A D⁻¹ for an upper triangular D, both n × n, row-major. */
function overTriangle(a: Float64Array, d: Float64Array, n: number): Float64Array {
  const out = new Float64Array(n * n);
  for (let row = 0; row < n; row++) {
    for (let column = 0; column < n; column++) {
      let sum = a[row * n + column]!;
      for (let k = 0; k < column; k++) sum -= out[row * n + k]! * d[k * n + column]!;
      out[row * n + column] = sum / d[column * n + column]!;
    }
  }
  return out;
}

/** D⁻¹ w for an upper triangular D. */
function solveTriangle(d: Float64Array, w: Float64Array, n: number): Float64Array {
  const v = new Float64Array(n);
  for (let row = n - 1; row >= 0; row--) {
    let sum = w[row]!;
    for (let k = row + 1; k < n; k++) sum -= d[row * n + k]! * v[k]!;
    v[row] = sum / d[row * n + row]!;
  }
  return v;
}

interface AlikeMaps {
  readonly one: MotionMap;
  readonly other: MotionMap;
  /** Of what they leave; negative where one is the other turned over. */
  readonly correlation: number;
}

/** Maps that correlate as closely as this look the same but for their size and sign. */
const ALIKE = 0.95;

/** A map of less, mm for 1 mm or 1 rad, is rounding: a millionth of a nanometre for 1 µm. */
const NOTHING_LEFT = 1e-9;

/** Pairs of single degrees, the closest first. */
export function alikeMaps({ maps, hologram }: MotionMaps): readonly AlikeMaps[] {
  const shown = [...maps, ...hologram].filter(({ left }) => left > NOTHING_LEFT);
  return shown
    .flatMap((one, i) =>
      shown.slice(i + 1).map((other) => {
        const product = one.column.reduce((sum, entry, k) => sum + entry * other.column[k]!, 0);
        return { one, other, correlation: Math.max(-1, Math.min(1, product / one.left / other.left)) };
      }),
    )
    .filter(({ correlation }) => Math.abs(correlation) >= ALIKE)
    .sort((a, b) => Math.abs(b.correlation) - Math.abs(a.correlation));
}
