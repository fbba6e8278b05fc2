/**
 * Where the return rings say that the hologram stands against its beam. They show the beam as the hologram sees it and no more: of one with
 * a focus, where the focus lies, so that a turn is not told from a shift that displaces it alike; of a collimated one its direction, so that
 * only turns show. mm, radians; a displacement of the hologram in the substrate frame, about its origin. The move to make is the negative.
 */

import { solveLeastSquares } from '../../algebra/least-squares.ts';
import type { Design, DesignedPatch } from '../../design/design.ts';
import { placeFromParent, rotationFromAngles } from '../../geometry/frame.ts';
import { add, cross, scale, subtract, type Vec3 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { benchState } from '../camera/fringe-picture-displacements.ts';
import { estimate } from '../estimate/linear-estimate.ts';
import { SETTING } from '../estimate/unobserved.ts';
import { returnCounts } from '../rings/ring-trace.ts';
import { hologramLever, isReadByShifts } from './ring-readings.ts';
import type { Displacement } from './steering-part.ts';
import type { SteeringReading } from './steering-readings.ts';
import { asVector } from './steering-reference.ts';
import { type Candidate, candidatesOf, type Trial, trialOf } from './steering-signs.ts';
import type { SteeringProblem } from './steering-solve.ts';
import { uncertaintyOf } from './steering-uncertainty.ts';

export interface HologramSteering {
  readonly readings: readonly SteeringReading[];
  /** The unknowns are x, y, z of a shift, or the turns rx, ry, rz times a lever; see `turned` and `shifted`. */
  readonly candidates: readonly Candidate[];
  readonly trial: Trial | undefined;
  readonly problem: SteeringProblem;
  /** The displacement as turns about x and y, and along z where that shows. */
  readonly turned: (unknowns: Float64Array) => Displacement;
  /** The same as a shift alone, which shows alike; undefined in a collimated beam, which shows no shift. */
  readonly shifted: ((unknowns: Float64Array) => Displacement) | undefined;
  /** The unknowns that show a displacement, in whichever form: a shift T + θ × F of a beam with a focus, otherwise the turns. */
  readonly unknownsOf: (hologram: Displacement | undefined) => Float64Array;
  /** Standard uncertainties by the readings' own, of x, y, z and of rx, ry, rz in either form: mm, radians; undefined where not seen. */
  readonly sigma: {
    readonly shift: readonly (number | undefined)[];
    readonly turn: readonly (number | undefined)[];
  };
  /** A shift that shows as the unit turn about x and about y, mm along y and x per radian; undefined in a collimated beam. */
  readonly shiftPerTurn: readonly [aboutX: Vec3, aboutY: Vec3] | undefined;
}

/** Undefined where no return ring was read. */
export function steerHologram(design: Design, all: readonly SteeringReading[]): HologramSteering | undefined {
  const readings = all.filter(({ reading }) => isReadBy(reading.reference, 'alignment'));
  if (readings.length === 0) return undefined;
  const byShifts = isReadByShifts(design);
  const lever = hologramLever(design);
  const rows = Float64Array.from(readings.flatMap(({ reading }) => reading.direction));
  const linear = estimate({
    ...{ rows, unknowns: 3, sources: [] },
    u: Float64Array.from(readings, ({ reading }) => reading.u),
    terms: readings.map(() => 'reading' as const),
  });
  const placed = (unknowns: ArrayLike<number>): Displacement =>
    byShifts
      ? { translation: asVector(unknowns), rotation: STILL }
      : { translation: STILL, rotation: scale(asVector(unknowns), 1 / lever) };
  const problem: SteeringProblem = {
    ...{ readings, rows, unknowns: 3, estimate: linear, sources: [] },
    predict: (unknowns) => seenBy(design, readings, placed(unknowns)),
  };
  const focus = focusOf(design);
  const { sigma } = uncertaintyOf(problem, linear.unobserved, [1, 1, 1]);
  return {
    readings,
    candidates: candidatesOf(problem),
    trial: trialOf(problem),
    problem,
    turned: (unknowns) => (focus === undefined ? placed(unknowns) : asTurns(focus, asVector(unknowns))),
    shifted: focus === undefined ? undefined : placed,
    unknownsOf: ({ translation, rotation } = { translation: STILL, rotation: STILL }) =>
      Float64Array.from(
        focus === undefined ? scale(rotation, lever) : add(translation, shiftLike(focus, rotation)),
      ),
    sigma: focus === undefined ? turnsOnly(sigma, lever) : bothWays(focus, sigma, problem),
    shiftPerTurn:
      focus === undefined ? undefined : [shiftLike(focus, [1, 0, 0]), shiftLike(focus, [0, 1, 0])],
  };
}

const STILL: Vec3 = [0, 0, 0];

const focusOf = ({ scenario: { interferometer } }: Design): Vec3 | undefined =>
  interferometer.beam.kind === 'collimated' ? undefined : interferometer.beam.focus;

/** What the rings show with the hologram displaced, mm of each reading; undefined where its beam has nowhere to come from. */
function seenBy(
  design: Design,
  readings: readonly SteeringReading[],
  hologram: Displacement,
): Float64Array | undefined {
  try {
    const { incident } = benchState(design, { hologram });
    const seen = new Map<DesignedPatch, readonly number[]>();
    return Float64Array.from(readings, ({ reading, perMm }) => {
      const { patch, sense } = reading.from!;
      const counts = seen.get(patch) ?? returnCounts(design, patch, incident);
      seen.set(patch, counts);
      return counts[sense]! / perMm;
    });
  } catch (error) {
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}

/** A shift that displaces the focus, as the hologram sees it, as a turn θ does: the focus goes by −θ × F, or by −T. */
const shiftLike = (focus: Vec3, turn: Vec3): Vec3 => cross(turn, focus);

/** mm per radian and mm of rx, ry and z: the shift that shows alike. */
const likeColumns = (focus: Vec3): readonly [Vec3, Vec3, Vec3] => [
  shiftLike(focus, [1, 0, 0]),
  shiftLike(focus, [0, 1, 0]),
  [0, 0, 1],
];

/** Settles to rounding in four or five. */
const STEPS = 12;

/** rx, ry and z that put the focus where a shift puts it, as the hologram sees it. */
function asTurns(focus: Vec3, shift: Vec3): Displacement {
  const wanted = subtract(focus, shift);
  let [rx, ry, z] = [0, 0, 0];
  for (let step = 0; step < STEPS; step++) {
    const moved = { origin: [0, 0, z] as Vec3, rotation: rotationFromAngles([rx, ry, 0]) };
    const left = subtract(placeFromParent(moved, focus), wanted);
    const [dx, dy, dz] = solvedBy(likeColumns(focus), left);
    [rx, ry, z] = [rx + dx, ry + dy, z + dz];
  }
  return { translation: [0, 0, z], rotation: [rx, ry, 0] };
}

function solvedBy(columns: readonly [Vec3, Vec3, Vec3], right: Vec3): Vec3 {
  const rows = Float64Array.from([0, 1, 2].flatMap((row) => columns.map((column) => column[row]!)));
  return asVector(solveLeastSquares(rows, 3, Float64Array.from(right)).solution);
}

type Sigma = HologramSteering['sigma'];

/** A reading of turns alone. */
const turnsOnly = (sigma: readonly (number | undefined)[], lever: number): Sigma => ({
  shift: [undefined, undefined, undefined],
  turn: sigma.map((value) => value && value / lever),
});

/** Of a shift, and of the turns and the z that show alike. */
function bothWays(
  focus: Vec3,
  shift: readonly (number | undefined)[],
  { estimate: { gains, unobserved }, readings }: SteeringProblem,
): Sigma {
  const m = readings.length;
  const byReading = readings.map(({ reading }, i) => {
    const [x, y, z] = [0, 1, 2].map((k) => gains[k * m + i]! * reading.u) as [number, number, number];
    return solvedBy(likeColumns(focus), [x, y, z]);
  });
  const unseen = unobserved.map((direction) => solvedBy(likeColumns(focus), asVector(direction)));
  // A turn about x is seen where the shift along y is, with the same share of setting by eye.
  const sigmaOf = (turn: 0 | 1, along: 0 | 1): number | undefined =>
    shift[along] === undefined
      ? undefined
      : Math.hypot(...byReading.map((each) => each[turn]), ...unseen.map((each) => SETTING * each[turn]));
  return { shift, turn: [sigmaOf(0, 1), sigmaOf(1, 0), undefined] };
}
