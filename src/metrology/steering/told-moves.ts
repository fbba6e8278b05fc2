/**
 * The moves that steering asks for: of the hologram alone where that is off, as all else is read against it; otherwise of the part and of
 * references on mounts of their own. mm and rad, corrections and not displacements found; frames as in bench-session.ts.
 */
import type { Design } from '../../design/design.ts';
import { scale, type Vec3 } from '../../geometry/vector.ts';
import { movesWithPart } from '../../kinds/reference.ts';
import type { AskedMoves, BenchMove } from '../../scenario/bench-session.ts';
import { freedomOf } from '../estimate/pose-estimate.ts';
import { alongAxis, singleMoves } from './stage.ts';
import type { Steering } from './steering.ts';
import { type Displacement, displacementOf } from './steering-part.ts';
import { asVector } from './steering-reference.ts';
import { onlySolution } from './steering-signs.ts';
import { stepOf } from './step.ts';
import { type VouchedMove, vouchedMove } from './vouched-move.ts';

/**
 * `fraction` of each correction that is decided: of the part what the readings vouch for, of a reference on a mount of its own the whole, as its
 * three degrees do not hold each other in balance.
 */
export function askedMoves({ references, part }: Steering, fraction = 1): AskedMoves {
  const ofPart = vouchedOfPart(part);
  const own = references.filter(({ reference }) => !movesWithPart(reference));
  return {
    fraction,
    hologram: undefined,
    part: ofPart && undone(displacementOf(ofPart.unknowns, part.pose.size), fraction),
    references: new Map(
      own.flatMap(({ reference, candidates }): [string, Vec3][] => {
        const solution = onlySolution(candidates);
        return solution === undefined ? [] : [[reference.id, scale(asVector(solution.unknowns), -fraction)]];
      }),
    ),
  };
}

/** What of the part's correction is under its own standard uncertainty, and not asked for. */
export function leftOutOfPart({ part }: Steering): Displacement | undefined {
  const ofPart = vouchedOfPart(part);
  return ofPart && undone(displacementOf(ofPart.leftOut, part.pose.size), 1);
}

const vouchedOfPart = (part: Steering['part']): VouchedMove | undefined =>
  part.readings.length === 0 ? undefined : vouchedMove(part, 6);

/** The whole correction of the hologram; undefined where it is not read or not decided. */
export function askedOfHologram({ hologram }: Steering): AskedMoves | undefined {
  const solution = hologram && onlySolution(hologram.candidates);
  if (solution === undefined) return undefined;
  const move = undone(hologram!.turned(solution.unknowns), 1);
  return { fraction: 1, hologram: move, part: undefined, references: new Map() };
}

/** What is told to be done first to readings of which nothing else is known. */
export const toldMoves = (design: Design, steering: Steering): AskedMoves =>
  askedMoves(steering, stepOf(design, steering, false).fraction);

/**
 * The moves as an operator makes them, one by one, each with an error of its own: screws or degrees of freedom, by what they move: `hologram`,
 * `part`, or the reference's id.
 */
export function singly(
  design: Design,
  { hologram, part, references }: BenchMove,
): ReadonlyMap<string, readonly BenchMove[]> {
  const none = { hologram: undefined, part: undefined, references: new Map<string, Vec3>() };
  const { stage } = design.scenario;
  const single = new Map<string, readonly BenchMove[]>(
    [...references].map(([id, move]) => [
      id,
      [0, 1, 2].map((axis) => ({ ...none, references: new Map([[id, alongAxis(move, axis)]]) })),
    ]),
  );
  if (part !== undefined)
    single.set(
      'part',
      singleMoves(stage, part, freedomOf(design).size).map((move) => ({ ...none, part: move })),
    );
  if (hologram !== undefined)
    single.set(
      'hologram',
      singleMoves([], hologram, 1).map((move) => ({ ...none, hologram: move })),
    );
  return single;
}

const undone = ({ translation, rotation }: Displacement, fraction: number): Displacement => ({
  translation: scale(translation, -fraction),
  rotation: scale(rotation, -fraction),
});
