/**
 * Which readings the moves may be worked out from. Set aside are those beyond what the camera can show, and, where readings contradict each
 * other, the suspects: those without any one of which the others agree. Where no single one explains it, none of that group is trusted. The
 * hologram is one group, the part and the references that move with it are one, and each reference on a mount of its own is one.
 */
import { movesWithPart } from '../../kinds/reference.ts';
import { type Judged, likelySlips, type Slip, suspectEntries } from './fault-search.ts';
import type { HologramSteering } from './steering-hologram.ts';
import type { PartSteering } from './steering-part.ts';
import type { SteeringReading } from './steering-readings.ts';
import type { ReferenceSteering } from './steering-reference.ts';
import type { SteeringProblem } from './steering-solve.ts';

/** What a set of readings comes to. */
export interface Solved {
  /** Undefined where no return ring was read. */
  readonly hologram: HologramSteering | undefined;
  readonly references: readonly ReferenceSteering[];
  readonly part: PartSteering;
}

type Why = 'beyond range' | 'suspect' | 'contradicts';

/** A group whose readings contradict each other. */
interface Contradicting {
  /** Ids of the references in it. */
  readonly references: ReadonlySet<string>;
  readonly slips: readonly Slip[];
}

export interface Soundness {
  /** By the entry of the bench's list. */
  readonly setAside: ReadonlyMap<number, Why>;
  readonly contradicting: readonly Contradicting[];
}

/** Of a pair of readings, both. */
export const isBeyond = ({ value, other = value, captureRange }: SteeringReading): boolean =>
  Math.min(Math.abs(value), Math.abs(other)) > captureRange;

/** `solved`: from the readings that are not beyond range. */
export function soundnessOf(all: readonly SteeringReading[], solved: Solved): Soundness {
  const setAside = new Map<number, Why>();
  for (const reading of all) if (isBeyond(reading)) setAside.set(reading.entry, 'beyond range');
  const contradicting = groupsOf(solved).flatMap((group): Contradicting[] => {
    const judged = judgedIn(group);
    if (judged.every((one) => !isContradictory(one))) return [];
    const doubtful = judged.filter((one, k) => k === 0 || isContradictory(one));
    const entries = new Set(judged.flatMap(({ problem }) => problem.readings.map(({ entry }) => entry)));
    const suspects = suspectEntries(doubtful);
    if (suspects.length > 0) for (const entry of suspects) setAside.set(entry, 'suspect');
    else for (const entry of entries) setAside.set(entry, 'contradicts');
    const references = new Set(
      judged.flatMap(({ problem }) => problem.readings.map(({ reading }) => reading.reference.id)),
    );
    return [{ references, slips: likelySlips(doubtful) }];
  });
  return { setAside, contradicting };
}

/** Entries of a group whose readings still contradict each other. */
export const stillContradicting = (solved: Solved): readonly number[] =>
  groupsOf(solved).flatMap((group) => {
    const judged = judgedIn(group);
    return judged.some(isContradictory)
      ? judged.flatMap(({ problem }) => problem.readings.map(({ entry }) => entry))
      : [];
  });

type Group = readonly {
  readonly problem: SteeringProblem;
  readonly candidates: PartSteering['candidates'];
}[];

/** The part's problem goes first. */
function groupsOf({ hologram, references, part }: Solved): readonly Group[] {
  const withPart = references.filter(({ reference }) => movesWithPart(reference));
  const own = references.filter(({ reference }) => !movesWithPart(reference));
  return [...(hologram === undefined ? [] : [[hologram]]), [part, ...withPart], ...own.map((one) => [one])];
}

/** Without candidates nothing is known of the signs, and nothing contradicts. */
const judgedIn = (group: Group): readonly Judged[] =>
  group.flatMap(({ problem, candidates: [candidate] }) =>
    candidate === undefined || problem.readings.length === 0 ? [] : [{ problem, candidate }],
  );

const isContradictory = ({ candidate }: Judged): boolean => candidate.solution.consistency.contradictory;
