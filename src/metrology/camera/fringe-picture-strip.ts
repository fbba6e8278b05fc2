/**
 * A patch's fringes on the way to alignment: its reference far off along what the patch senses, coarsely set, one fringe off, in place;
 * and, of a point focus, one fringe off along each of the other directions. Moves in mm, waves.
 *
 * From the same traces, which way the fringes go: the change of W for a move along each sensed direction, as a slope over the
 * pattern and a curvature.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { boundsOf } from '../../geometry/extent.ts';
import { scale, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import { type Sense, sensesOf } from '../sensing/sensitivity.ts';
import { benchState } from './fringe-picture-displacements.ts';
import { type ReturnBranch, returnBranches } from './fringe-picture-return.ts';

export type StripName = 'far off' | 'coarse' | 'one fringe' | 'aligned';

export interface StripState {
  readonly name: StripName;
  /** The sensed direction along which the reference is off: a place in the patch's senses. */
  readonly sense: number;
  /** Beyond what the bias shows. */
  readonly fringes: number;
  /** Along the sensed direction. */
  readonly move: number;
  readonly displacement: Vec3;
}

/** Fringes at the states of the strip, beyond what the bias shows: too many to count, countable, one, none. */
export const STRIP: readonly (readonly [StripName, number])[] = [
  ['far off', 8],
  ['coarse', 3],
  ['one fringe', 1],
  ['aligned', 0],
];

/** The four states, then one fringe along each further sense. None for a screen, which sends nothing back. */
export function stripStates(senses: readonly Sense[]): readonly StripState[] {
  const [first, ...further] = senses;
  if (first === undefined) return [];
  return [
    ...STRIP.map(([name, fringes]) => stateOf(name, fringes, first, 0)),
    ...further.map((sense, k) => stateOf('one fringe', 1, sense, k + 1)),
  ];
}

function stateOf(name: StripName, wanted: number, sense: Sense, index: number): StripState {
  // Not farther than the camera can tell fringes apart.
  const most = sense.captureRange > 0 ? sense.captureRange : Number.POSITIVE_INFINITY;
  const move = Math.min(wanted / sense.fringesPerMm, most);
  return {
    name,
    sense: index,
    fringes: move * sense.fringesPerMm,
    move,
    displacement: scale(sense.direction, move),
  };
}

/** How W changes over the pattern for a move of 1 mm along a sensed direction, as traced. */
export interface FringeTurning {
  readonly sense: Sense;
  /** Waves per mm of pattern and mm of move, at the patch's centre. */
  readonly slope: Vec2;
  /** Mean second derivative, waves per mm² of pattern and mm of move. */
  readonly curvature: number;
}

export interface TracedStrip {
  readonly states: readonly StripState[];
  /** One for each state. */
  readonly branches: readonly (readonly ReturnBranch[])[];
  /** One for each sense whose light comes back. */
  readonly turnings: readonly FringeTurning[];
}

export function tracedStrip(design: Design, patch: DesignedPatch): TracedStrip {
  const senses = sensesOf(design, patch);
  const states = stripStates(senses);
  const branches = states.map(({ displacement }) => {
    const references = new Map([[patch.reference.id, displacement]]);
    return returnBranches(design, patch, benchState(design, { references }));
  });
  const aligned = branches[states.findIndex(({ name }) => name === 'aligned')] ?? [];
  const turnings = states.flatMap(({ name, sense, move }, k) => {
    if (name !== 'one fringe') return [];
    const turned = turningOf(patch, aligned, branches[k]!, move);
    return turned === undefined ? [] : [{ sense: senses[sense]!, ...turned }];
  });
  return { states, branches, turnings };
}

/** Differences are taken over the middle half of the patch. */
const REACH = 0.25;

function turningOf(
  patch: DesignedPatch,
  aligned: readonly ReturnBranch[],
  moved: readonly ReturnBranch[],
  move: number,
): Pick<FringeTurning, 'slope' | 'curvature'> | undefined {
  if (aligned.length === 0 || moved.length !== aligned.length) return undefined;
  const { minX, maxX, minY, maxY } = boundsOf(patch.outline);
  const step = REACH * Math.min(maxX - minX, maxY - minY);
  const [x0, y0] = [(minX + maxX) / 2, (minY + maxY) / 2];
  const change = (x: number, y: number): number =>
    aligned.reduce((sum, branch, k) => sum + moved[k]!.waves.at(x, y) - branch.waves.at(x, y), 0) /
    (aligned.length * move);
  const [left, right] = [change(x0 - step, y0), change(x0 + step, y0)];
  const [down, up] = [change(x0, y0 - step), change(x0, y0 + step)];
  return {
    slope: [(right - left) / (2 * step), (up - down) / (2 * step)],
    curvature: (left + right + down + up - 4 * change(x0, y0)) / (2 * step * step),
  };
}
