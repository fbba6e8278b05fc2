/**
 * How far an alignment has come: whether there is anything left to move that the readings can vouch for (see vouched-move.ts), so that another
 * move would follow their noise, and what the moves would leave of each reading. mm and rad inside; residuals in standard uncertainties are
 * Baarda's (see consistency.ts).
 */
import { chiSquaredTail } from '../../algebra/distributions.ts';
import type { Design } from '../../design/design.ts';
import { kindOf } from '../../kinds/kinds.ts';
import { movesWithPart } from '../../kinds/reference.ts';
import { DEGREES } from '../../scenario/scenario.ts';
import type { Steering } from './steering.ts';
import type { HologramSteering } from './steering-hologram.ts';
import { displacementOf, type PartSteering } from './steering-part.ts';
import type { SteeringReading } from './steering-readings.ts';
import type { ReferenceSteering } from './steering-reference.ts';
import { type Candidate, onlySolution } from './steering-signs.ts';
import { type VouchedMove, vouchedMove } from './vouched-move.ts';

/** A degree of freedom, or several together, whose move is over its standard uncertainty. */
interface Over {
  /** `hologram`, `part`, or the id of a reference on a mount of its own. */
  readonly of: string;
  readonly degree: string;
}

/** What the moves leave of a reading. */
interface Left {
  readonly reading: SteeringReading;
  /** Read less expected, mm; undefined where no move is decided. */
  readonly residual: number | undefined;
  /** Over the residual's own standard uncertainty; undefined for a reading that no other checks. */
  readonly normalised: number | undefined;
}

export interface Progress {
  /**
   * Everything that can be read was read, all moves are decided, and nothing is over: each degree, and of the part each combination of degrees
   * that the readings tell apart, is within its standard uncertainty, or at rest.
   */
  readonly done: boolean;
  /** What was all read and decided, and whose moves together are no more than the readings' noise: by name, as in `over`. */
  readonly settled: readonly string[];
  /** What is settled for the second time, so that moves would go on following the noise, while some of them are over their uncertainty. */
  readonly atRest: readonly string[];
  readonly over: readonly Over[];
  /** References that can be read and were not. */
  readonly unread: readonly string[];
  readonly undecided: boolean;
  readonly left: readonly Left[];
}

/** A residual over this many of its standard uncertainties is named. */
const SUSPECT_RESIDUAL = 3;
export const isSuspect = ({ normalised }: Left): boolean => Math.abs(normalised ?? 0) > SUSPECT_RESIDUAL;

/** `settledBefore`: what was in the round before, after whose moves these readings were taken. */
export function progressOf(
  design: Design,
  { hologram, references, part, readings, soundness }: Steering,
  settledBefore: readonly string[] = [],
): Progress {
  const read = new Set(readings.map(({ reading }) => reading.reference.id));
  const moved = movedIn({ hologram, references, part });
  const undecided = moved.some(({ move }) => move === undefined);
  const readable = readableIn(design);
  const unread = design.references
    .filter(({ id }) => readable.has(id) && !read.has(id))
    .filter((reference) => kindOf(reference).words.noCount === undefined)
    .map(({ id }) => id);
  const isSound = !undecided && soundness.setAside.size === 0;
  const isWhole = unread.length === 0 && isSound;
  // Its rings tell all of a hologram, whatever else was read.
  const settled = moved
    .filter(({ of, move }) => (of === 'hologram' ? isSound : isWhole) && move !== undefined && isNoise(move))
    .map(({ of }) => of);
  const all = moved.flatMap(overIn);
  const rests = ({ of }: Over): boolean => settled.includes(of) && settledBefore.includes(of);
  const over = all.filter((one) => !rests(one));
  return {
    done: isWhole && over.length === 0,
    settled,
    atRest: [...new Set(all.filter(rests).map(({ of }) => of))],
    over,
    unread,
    undecided,
    left: moved.flatMap(({ readings, candidates }) => leftOf(readings, candidates)),
  };
}

/** References that a patch looks at or a measurement names, in the scenario's order: others are a tracker's or a measuring machine's matter. */
export function readableIn({ references, patches, scenario }: Design): ReadonlySet<string> {
  const named = new Set([
    ...patches.map(({ reference }) => reference.id),
    ...scenario.measurements.map(({ reference }) => reference),
  ]);
  return new Set(references.map(({ id }) => id).filter((id) => named.has(id)));
}

/** A degree of freedom, the move in it and its standard uncertainty: mm or rad. */
type Told = readonly [degree: string, value: number, sigma: number | undefined];

/** Something that is moved. */
interface Moved extends Pick<Steering['part'], 'readings' | 'candidates'> {
  readonly of: string;
  /** Undefined where signs are not decided. */
  readonly move: VouchedMove | undefined;
  /** What is moved in each degree. */
  readonly told: readonly Told[];
  /** Whether all degrees together are to be moved, if none is over alone. */
  readonly isOver: boolean;
}

/** Of the part only what the readings vouch for is moved; all else is moved whole. */
function movedIn({
  hologram,
  references,
  part,
}: Pick<Steering, 'hologram' | 'references' | 'part'>): readonly Moved[] {
  const whole = (
    of: string,
    each: HologramSteering | ReferenceSteering,
    told: (unknowns: Float64Array) => readonly Told[],
  ): Moved => {
    const { readings, candidates } = each;
    const [solution, move] = [onlySolution(candidates), vouchedMove(each, 3)];
    return {
      ...{ of, readings, candidates, move },
      told: solution === undefined ? [] : told(solution.unknowns),
      isOver: move !== undefined && !isNoise(move),
    };
  };
  const own = references.filter(({ reference }) => !movesWithPart(reference));
  return [
    ...(hologram === undefined
      ? []
      : [whole('hologram', hologram, (unknowns) => turnsOf(hologram, unknowns))]),
    ...(part.readings.length === 0 ? [] : [partMoved(part)]),
    ...own.map((each) =>
      whole(each.reference.id, each, ([x, y, z]) => {
        const { sigma } = each.uncertainty;
        return [x!, y!, z!].map((value, k) => [DEGREES[k]!, value, sigma[k]]);
      }),
    ),
  ];
}

function partMoved(part: PartSteering): Moved {
  const { readings, candidates, uncertainty, pose } = part;
  const move = vouchedMove(part, 6);
  const { translation, rotation } = displacementOf(move?.unknowns ?? new Float64Array(6), pose.size);
  return {
    ...{ of: 'part', readings, candidates, move },
    told: [...translation, ...rotation].map((value, k) => [DEGREES[k]!, value, uncertainty.sigma[k]]),
    isOver: move?.isOver === true,
  };
}

/** Turns about x and y, and along z, as a hologram's move is told. */
function turnsOf({ turned, sigma }: HologramSteering, unknowns: Float64Array): readonly Told[] {
  const { translation, rotation } = turned(unknowns);
  return [
    ['rx', rotation[0], sigma.turn[0]],
    ['ry', rotation[1], sigma.turn[1]],
    ['z', translation[2], sigma.shift[2]],
  ];
}

/** In place of a degree: none is over by itself, but a combination of them is. */
const TOGETHER = 'degrees together';
/** χ² of the moves that noise exceeds with this probability. */
const NOISE = 0.05;

/** Degrees that hang together may each be under its own uncertainty while what the readings tell of them is not. */
const isNoise = ({ chiSquared, degreesOfFreedom }: VouchedMove): boolean =>
  degreesOfFreedom === 0 || chiSquaredTail(chiSquared, degreesOfFreedom) >= NOISE;

function overIn({ of, told, isOver }: Moved): readonly Over[] {
  const single = told.flatMap(([degree, value, sigma]) =>
    sigma !== undefined && Math.abs(value) > sigma ? [degree] : [],
  );
  return (single.length === 0 && isOver ? [TOGETHER] : single).map((degree) => ({ of, degree }));
}

function leftOf(readings: readonly SteeringReading[], candidates: readonly Candidate[]): readonly Left[] {
  const solution = onlySolution(candidates);
  return readings.map((reading, k) => ({
    reading,
    residual: solution?.residuals[k],
    normalised: solution?.consistency.normalised[k],
  }));
}
