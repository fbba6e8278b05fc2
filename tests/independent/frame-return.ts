/**
 * The wave that comes back from a patch, over the places of the camera, fast enough for whole frames: rays traced out and home from a grid
 * (returned-ray.ts), and polynomials through them. Either side of a roof is traced as if its slope went on beyond the ridge; a ray counts
 * where it left from its own side. mm, waves. Shares no code with src/.
 */
import { type Asked, biasRun, designedPhase, lineOf, type Surroundings } from './designed-phase.ts';
import { edgeOf, gridIn, isIn, type Point, rangeOver, type Shape } from './outline-points.ts';
import { type PlaneFit, planeFits, type Smooth } from './plane-fit.ts';
import type { Vector } from './ray.ts';
import { offBall, offCube, returned, type SentOut, sentOut } from './returned-ray.ts';

/** The rays from one side of a roof, or all. */
export interface Branch {
  /** W, piston and all. */
  readonly waves: Smooth;
  /** Whether light comes that way to this place of the camera. */
  readonly comes: (x: number, y: number) => boolean;
  /** Of the ridge on which it is seen, away from where both sides mingle; 0: no ridge. */
  readonly side: 1 | -1 | 0;
}

export interface PatchReturn {
  readonly outline: Shape;
  readonly branches: readonly Branch[];
}

export interface BouncingPatch extends Asked {
  /** Of the ball; undefined: a corner cube. */
  readonly radius?: number;
}

const PLAIN_BEAM: Smooth = () => 0;
const GRID = 9;
const EDGE = 8;
const DEGREES = [4, 6, 8];
/** Waves: a thousandth of a fringe is nothing beside any reading's uncertainty. */
const CLOSE = 1e-3;
const PLACES = 2;

/** For its reference at a place; `beam`, mm: by how much the beam's path is longer than what the pattern was drawn for. */
export function returnTracer({ wavelength, glass }: Surroundings, patch: BouncingPatch) {
  const { outline, order = 1, radius } = patch;
  // The pattern makes of its beam the wave sent out: that is traced alone, as if the beam had no path.
  const { bias: _, ...plain } = patch;
  const around = { wavelength, ...(glass && { glass }) };
  const phase = designedPhase(around, plain);
  const bias = biasRun(around, patch, lineOf(patch));
  const isRoof = patch.bias?.shape === 'roof';
  const places = [...gridIn(outline, GRID), ...edgeOf(outline, EDGE)];
  const reach = reachOf(patch);
  const run: Smooth = bias?.run ?? (() => 0);
  const slope = bias?.slope ?? 0;
  // What leaves on each side of a ridge, in the plain beam, is the same wherever the reference stands.
  const kept = new Map<Branch['side'], readonly SentOut[]>();
  return (at: Vector, beam: Smooth = PLAIN_BEAM): PatchReturn => {
    const bounce = radius === undefined ? offCube(at) : offBall(at, radius);
    const sides: readonly Branch['side'][] = isRoof ? [1, -1] : [0];
    const branches = sides.map((side): Branch => {
      const pattern = {
        ...{ wavelength, order, incident: beam },
        phase: (x: number, y: number): number => phase(x, y) + (side === 0 ? 1 : side) * slope * run(x, y),
        ...(glass?.side === 'after' ? { glassAfter: glass } : {}),
      };
      const sent =
        (beam === PLAIN_BEAM ? kept.get(side) : undefined) ?? places.map(([x, y]) => sentOut(pattern, x, y));
      if (beam === PLAIN_BEAM) kept.set(side, sent);
      const rays = places.flatMap(([x, y], k) => {
        const home = returned(pattern, bounce, x, y, sent[k]!);
        if (home === undefined) return [];
        // The second crossing meets the ridge wherever it does: the smooth part alone is fitted.
        const again = side === 0 ? 0 : order * side * slope * run(home.x, home.y);
        return [{ from: [x, y] as Point, to: [home.x, home.y] as Point, waves: home.waves - again }];
      });
      const to = rays.map((ray) => ray.to);
      const frame = { centre: patch.centre, reach };
      const smooth = smoothWaves(
        to,
        rays.map((ray) => ray.waves),
        frame,
      );
      const [fromX, fromY] = planeFits(
        to,
        [rays.map(({ from }) => from[0]), rays.map(({ from }) => from[1])],
        { ...frame, degree: PLACES },
      ).map(({ at }) => at) as [Smooth, Smooth];
      return {
        side: side === 0 ? 0 : isMirrored(to, rays, run) ? (-side as 1 | -1) : side,
        waves: (x, y) => smooth(x, y) + (side === 0 ? 0 : order * slope * Math.abs(run(x, y))),
        comes: (x, y) => {
          const from: Point = [fromX(x, y), fromY(x, y)];
          return isIn(outline, from) && side * run(...from) >= 0;
        },
      };
    });
    return { outline, branches };
  };
}

/** A cube sends what left on one side of the ridge back to the other. */
function isMirrored(to: readonly Point[], rays: readonly { readonly from: Point }[], run: Smooth): boolean {
  const sum = rays.reduce((total, { from }, k) => total + run(...from) * run(...to[k]!), 0);
  return sum < 0;
}

function smoothWaves(
  to: readonly Point[],
  values: readonly number[],
  frame: { readonly centre: Point; readonly reach: number },
): Smooth {
  const piston = values[0]!;
  const off = values.map((value) => value - piston);
  for (const degree of DEGREES) {
    const [{ at, worst }] = planeFits(to, [off], { ...frame, degree }) as [PlaneFit];
    if (worst < CLOSE) return (x, y) => at(x, y) + piston;
  }
  throw new Error('the returned wave is not smooth enough for the frame');
}

/** Half of the patch's largest extent. */
function reachOf({ outline, centre }: Asked): number {
  const [, most] = rangeOver(outline, (x, y) => Math.hypot(x - centre[0], y - centre[1]));
  return most;
}
