/**
 * Which motions show on a ring as which count (sensing/ring-count.ts), and how far each goes for a fringe: turns and shifts of the hologram
 * in the substrate frame for a return ring, of the part in its own for light at normal incidence, each about its frame's origin. mm, radians.
 */
import { solveLeastSquares } from '../../algebra/least-squares.ts';
import type { Design, DesignedPatch } from '../../design/design.ts';
import { scale, type Vec3 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { DEGREES } from '../../scenario/scenario.ts';
import type { Displacements, RigidMotion } from '../camera/fringe-picture-displacements.ts';
import { RING_COUNTS, type RingCounts, rulerOf } from '../sensing/ring-count.ts';
import { EYE_SETTING } from '../sensing/sensitivity.ts';
import { motionIn, STEP } from './return-ring.ts';
import { isRing, ringCountsAt } from './ring-trace.ts';

export type RingBody = 'hologram' | 'part';

/** A motion that shows as one fringe more of one count, and as nothing of the others. */
export interface RingMove {
  readonly of: RingBody;
  /** In RING_COUNTS. */
  readonly count: number;
  readonly kind: 'turn' | 'shift';
  /** Along it, mm, or about it, radians; its length is what one fringe takes. */
  readonly perFringe: Vec3;
  /** Standard uncertainty of one reading as such a move, mm or radians. */
  readonly resolution: number;
}

export const bodyOf = ({ reference }: DesignedPatch): RingBody =>
  isReadBy(reference, 'alignment') ? 'hologram' : 'part';

/** The bench with the body moved by `motion`. */
export const withMoved = (of: RingBody, motion: RigidMotion): Displacements => ({ [of]: motion });

const moved = (of: RingBody, move: Vec3, turn: Vec3): Displacements =>
  withMoved(of, { translation: move, rotation: turn });

/** Counts for a mm and a radian of each degree of the body that the ring is of: 3 × 6, row-major. Undefined where nothing comes back. */
export function countsByDegree(design: Design, patch: DesignedPatch): Float64Array | undefined {
  const of = bodyOf(patch);
  const rates = new Float64Array(RING_COUNTS.length * DEGREES.length);
  for (const [k, degree] of DEGREES.entries()) {
    const step = degree.startsWith('r') ? STEP.turn : STEP.move;
    const [ahead, behind] = [step, -step].map((amount) =>
      ringCountsAt(design, patch, moved(of, ...motionIn(degree, amount))),
    ) as [RingCounts?, RingCounts?];
    if (ahead === undefined || behind === undefined) return undefined;
    ahead.forEach((count, row) => {
      rates[row * DEGREES.length + k] = (count - behind[row]!) / (2 * step);
    });
  }
  return rates;
}

const known = new WeakMap<DesignedPatch, readonly RingMove[]>();

/** In the order of the counts, the plainer way first: turns of a hologram, shifts of a part. None for what is no ring. */
export function ringMoves(design: Design, patch: DesignedPatch): readonly RingMove[] {
  if (!isRing(patch)) return [];
  const found = known.get(patch) ?? workedOut(design, patch);
  known.set(patch, found);
  return found;
}

function workedOut(design: Design, patch: DesignedPatch): readonly RingMove[] {
  const rates = countsByDegree(design, patch);
  if (rates === undefined) return [];
  const of = bodyOf(patch);
  const kinds = of === 'hologram' ? (['turn', 'shift'] as const) : (['shift', 'turn'] as const);
  const { readable } = design.scenario.interferometer;
  const lever = Math.max(...rulerOf(patch.outline).widths) / 2;
  return RING_COUNTS.flatMap((_, count) =>
    kinds.flatMap((kind): RingMove[] => {
      const perFringe = moveFor(rates, count, kind);
      if (perFringe === undefined) return [];
      const resolution = readable * Math.hypot(...perFringe);
      // What fringes tell no better than an eye does, they do not tell.
      const seen = resolution * (kind === 'turn' ? lever : 1) < EYE_SETTING.poor;
      return seen ? [{ of, count, kind, perFringe, resolution }] : [];
    }),
  );
}

/** Motions that show this much less than the best one show nothing. */
const DEPENDENT = 1e-6;
/** Counts beside the one that is meant: of a lateral move no more than an eye overlooks; otherwise rounding. */
const OVERLOOKED = 0.05;
const MET = 1e-3;

/**
 * The turn or the shift for one fringe of a count and none of the others; undefined where there is none. A tilt by a move across the light
 * where that will do: its share of power, which moves along the light show so little of, would else send it far along.
 */
function moveFor(rates: Float64Array, count: number, kind: RingMove['kind']): Vec3 | undefined {
  const across =
    count === RING_COUNTS.indexOf('power') ? undefined : solved(rates, count, kind, 2, OVERLOOKED);
  return across ?? solved(rates, count, kind, 3, MET);
}

/** By the first `axes` of the three. */
function solved(
  rates: Float64Array,
  count: number,
  kind: RingMove['kind'],
  axes: 2 | 3,
  most: number,
): Vec3 | undefined {
  const first = kind === 'turn' ? 3 : 0;
  const rateOf = (row: number, k: number): number => rates[row * DEGREES.length + first + k]!;
  const columns = [0, 1, 2].slice(0, axes);
  // Of a move across the light the tilts are met, whatever power it shows.
  const rows = Float64Array.from(
    [0, 1, 2].slice(0, axes).flatMap((row) => columns.map((k) => rateOf(row, k))),
  );
  if (rows.every((rate) => rate === 0)) return undefined;
  const wanted = Float64Array.from(columns, (row) => (row === count ? 1 : 0));
  const { solution } = solveLeastSquares(rows, axes, wanted, {
    scaleColumns: false,
    rankTolerance: DEPENDENT,
  });
  const move: Vec3 = [solution[0]!, solution[1]!, axes === 3 ? solution[2]! : 0];
  const shown = [0, 1, 2].map((row) => move.reduce((sum, by, k) => sum + by * rateOf(row, k), 0));
  const near = shown.every((fringes, row) => Math.abs(fringes - (row === count ? 1 : 0)) < most);
  return near ? move : undefined;
}

/** So many fringes of a move. */
export const motionFor = ({ kind, perFringe }: RingMove, fringes: number): RigidMotion => {
  const by = scale(perFringe, fringes);
  const still: Vec3 = [0, 0, 0];
  return kind === 'turn' ? { translation: still, rotation: by } : { translation: by, rotation: still };
};
