/**
 * A ring's fringes on the way to alignment: the hologram, or the part, off by so many fringes of the first of the counts that show it, in
 * place; and one fringe off by each of the other counts. mm, radians.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { benchState, type Displacements, type RigidMotion } from '../camera/fringe-picture-displacements.ts';
import { type ReturnBranch, returnBranches } from '../camera/fringe-picture-return.ts';
import { STRIP, type StripName } from '../camera/fringe-picture-strip.ts';
import { MOST_FRINGES_PER_PIXEL, pixelPitch } from '../sensing/camera-pixels.ts';
import { RING_COUNTS, rulerOf } from '../sensing/ring-count.ts';
import { motionFor, type RingMove, ringMoves, withMoved } from './ring-moves.ts';

export interface RingState {
  readonly name: StripName;
  readonly move: RingMove;
  /** Beyond what the bias shows, of the move's count. */
  readonly fringes: number;
  readonly motion: RigidMotion;
  readonly displacements: Displacements;
}

/** None for what is no ring. */
export function ringStates(design: Design, patch: DesignedPatch): readonly RingState[] {
  const [first, ...further] = leading(ringMoves(design, patch));
  if (first === undefined) return [];
  return [
    ...STRIP.map(([name, fringes]) => stateOf(design, patch, name, fringes, first)),
    ...further.map((move) => stateOf(design, patch, 'one fringe', 1, move)),
  ];
}

/** The plainest way of each count. */
export const leading = (moves: readonly RingMove[]): readonly RingMove[] =>
  RING_COUNTS.flatMap((_, count) => moves.find((move) => move.count === count) ?? []);

function stateOf(
  design: Design,
  { outline }: DesignedPatch,
  name: StripName,
  wanted: number,
  move: RingMove,
): RingState {
  // Not farther than the camera can tell fringes apart.
  const { widths } = rulerOf(outline);
  const most = (MOST_FRINGES_PER_PIXEL * Math.min(...widths)) / pixelPitch(design);
  const fringes = Math.min(wanted, most);
  const motion = motionFor(move, fringes);
  return { name, move, fringes, motion, displacements: withMoved(move.of, motion) };
}

/** The light of each state, for a strip of pictures. */
export const ringBranches = (
  design: Design,
  patch: DesignedPatch,
  states: readonly RingState[],
): readonly (readonly ReturnBranch[])[] =>
  states.map(({ displacements }) => returnBranches(design, patch, benchState(design, displacements)));
