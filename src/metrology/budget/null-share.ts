/**
 * How the null of the surface under test answers to a change of the wave that leaves the main pattern: it asks for the part elsewhere, and
 * what no motion of the part takes up stays in the figure. The surface of a null lies where the wave has run as long as everywhere, so
 * that a path longer by ΔE brings it ΔE nearer to the hologram; the motion is found by least squares over the aperture, piston aside.
 * mm and rad, part frame.
 */
import { singularValues } from '../../algebra/singular-values.ts';
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import type { Pattern } from '../../design/pattern.ts';
import { type SurfaceHeights, surfaceHeights } from '../sensing/surface-heights.ts';

/** A change of the eikonal that leaves a pattern, at a point of it: mm for one unit of what changes it. */
export type PatternChange = (x: number, y: number, pattern: Pattern) => number;

/** For one unit of what changes the wave. */
export interface NullShare {
  /** The motion of the part to where the null then is: x, y, z, rx, ry, rz. */
  readonly move: Float64Array;
  /** What is left of the figure there: height at each point of the aperture (surface-heights.ts), mm. */
  readonly rest: Float64Array;
}

const STILL: ArrayLike<number> = new Float64Array(6);

/**
 * Undefined where the scenario names no surface under test. What the null does not tell of the motion (a sphere's turn about its centre)
 * is taken from `rigid`, what a body that goes along with the beam would do.
 */
export function nullShare(
  design: Design,
  change: PatternChange,
  rigid: ArrayLike<number> = STILL,
): NullShare | undefined {
  const heights = surfaceHeights(design);
  const { main } = design;
  if (heights === undefined || main === undefined) return undefined;
  const { at, byDegree } = heights;
  // Plain loops: this runs a thousand times before V8 has optimised anything.
  const asked = new Float64Array(at.length);
  for (let k = 0; k < at.length; k++) {
    let left = change(at[k]![0], at[k]![1], main);
    for (let degree = 0; degree < PISTON; degree++) left -= byDegree[degree]![k]! * rigid[degree]!;
    asked[k] = left;
  }
  const found = new Float64Array(COLUMNS);
  for (const { motion, map, roots } of modesOf(main, heights)) {
    let part = 0;
    for (let k = 0; k < asked.length; k++) part += roots[k]! * map[k]! * asked[k]!;
    for (let column = 0; column < COLUMNS; column++) found[column]! += part * motion[column]!;
  }
  // The part is in the way of what the null asks for by as much as it stands nearer to the hologram.
  const rest = new Float64Array(at.length);
  for (let k = 0; k < at.length; k++) {
    let left = found[PISTON]! - asked[k]!;
    for (let degree = 0; degree < PISTON; degree++) left += byDegree[degree]![k]! * found[degree]!;
    rest[k] = left;
  }
  return { move: Float64Array.from(rigid, (part, degree) => part + found[degree]!), rest };
}

/** A combination of the six degrees and piston that the null tells from all others. */
interface Mode {
  /** Of the mode, mm and rad, for 1 mm rms of height. */
  readonly motion: Float64Array;
  /** What it shows: root of weight times height, at each point; 1 mm rms. */
  readonly map: Float64Array;
  readonly roots: Float64Array;
}

const modes = new WeakMap<MainPattern, readonly Mode[]>();

/** By singular values, turns counted at the edge of the aperture. */
function modesOf(main: MainPattern, { at, roots, byDegree, points }: SurfaceHeights): readonly Mode[] {
  const known = modes.get(main);
  if (known !== undefined) return known;
  const lever = [1, 1, 1, points.radius, points.radius, points.radius, 1];
  const height = (k: number, column: number): number =>
    column === PISTON ? 1 : byDegree[column]![k]! / lever[column]!;
  const rows = Float64Array.from({ length: COLUMNS * at.length }, (_, entry) => {
    const k = Math.floor(entry / COLUMNS);
    return roots[k]! * height(k, entry % COLUMNS);
  });
  const { values, directions } = singularValues(rows, COLUMNS);
  const made = directions
    .filter((_, mode) => values[mode]! > SEEN * values[0]!)
    .map((direction, mode): Mode => {
      const map = roots.map((root, k) => {
        const seen = direction.reduce((sum, entry, column) => sum + entry * height(k, column), 0);
        return (root * seen) / values[mode]!;
      });
      const motion = direction.map((entry, column) => entry / lever[column]! / values[mode]!);
      return { motion, map, roots };
    });
  modes.set(main, made);
  return made;
}

const COLUMNS = 7;
const PISTON = 6;

/** Seen this much more weakly than the best, a millimetre leaves a tenth of a nanometre: the null does not tell where the part is. */
const SEEN = 1e-7;
