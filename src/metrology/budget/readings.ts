/**
 * All that is read of the references: a row for each direction that a patch senses, and one for each length measured
 * otherwise. mm, substrate frame.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { length, type Vec3 } from '../../geometry/vector.ts';
import type { FigureTerm, Reference } from '../../scenario/scenario.ts';
import { apparentCounts, apparentReading } from '../sensing/apparent-reading.ts';
import { normalIncidenceModes } from '../sensing/normal-incidence-modes.ts';
import { isReadable } from '../sensing/readable-return.ts';
import { sensesOf } from '../sensing/sensitivity.ts';
import type { PatternChange } from './null-share.ts';

export interface Reading {
  /** `north-1 tilt`, `rim picture 1` of a datum feature, or the measurement's id. */
  readonly name: string;
  readonly reference: Reference;
  /** What is read is this vector times the reference's move: a unit vector, but for a datum feature. */
  readonly direction: Vec3;
  /** Of a datum feature, mm: what is read besides is this times the feature's turn about its own point, where that shows. */
  readonly moment?: Vec3;
  /** Standard uncertainty of the reading alone, mm. */
  readonly u: number;
  /** The patch and which of its senses; undefined for a measured length and for the null. */
  readonly from: { readonly patch: DesignedPatch; readonly sense: number } | undefined;
  /** Of a ring as an operator counts it: fringes of the count number `sense` for a mm of what is read. */
  readonly countedPerMm?: number;
  /** Of the null of the surface under test: a term of it, mm of height. */
  readonly nullTerm?: NullReading;
}

interface NullReading {
  readonly term: FigureTerm;
  /** A change of the wave that leaves for the surface, as the height of a surface that would meet it: what this reading shows of it. */
  readonly shown: (change: PatternChange) => number;
}

/** Whether light tells it: not a length measured otherwise. */
export const isByLight = ({ from, nullTerm }: Reading): boolean =>
  from !== undefined || nullTerm !== undefined;

/** How a reading shows a change of the wave that its patch sends out, as a move of its reference, mm; a measured length shows none. */
export function shownBy(
  design: Design,
  { from, nullTerm, countedPerMm }: Reading,
  change: PatternChange,
): number {
  if (nullTerm !== undefined) return nullTerm.shown(change);
  if (from === undefined) return 0;
  if (countedPerMm !== undefined) {
    const { patch, sense } = from;
    return apparentCounts(design, patch, (x, y) => change(x, y, patch))[sense]! / countedPerMm;
  }
  return apparentReading(design, from.patch, from.sense, (x, y) => change(x, y, from.patch));
}

/** Numbers of the readings, rising, of each patch or reference or whatever else `key` tells them apart by. */
export function readingsBy<Key>(
  readings: readonly Reading[],
  key: (reading: Reading) => Key,
): ReadonlyMap<Key, readonly number[]> {
  const groups = new Map<Key, number[]>();
  readings.forEach((reading, k) => {
    const of = key(reading);
    const group = groups.get(of);
    if (group === undefined) groups.set(of, [k]);
    else group.push(k);
  });
  return groups;
}

/** mm: a sphere about its centre turns unseen, to rounding. */
const NO_MOMENT = 1e-9;

/**
 * Every reading of a design that counts: patches first, those on datum features after the others, each in their order, then
 * measurements. A patch that sends too little light back to be read tells nothing.
 */
export function readingsOf(design: Design): readonly Reading[] {
  const readable = design.patches.filter((patch) => isReadable(design, patch));
  const byPatch = readable.flatMap((patch) => readingsOfSenses(design, patch));
  const bySurface = readable.flatMap((patch) =>
    normalIncidenceModes(design, patch).modes.map(({ force, moment, resolution }, k): Reading => {
      return {
        name: `${patch.id} picture ${k + 1}`,
        reference: patch.reference,
        direction: force,
        ...(length(moment) > NO_MOMENT ? { moment } : {}),
        u: resolution,
        from: { patch, sense: k },
      };
    }),
  );
  const byLength = design.scenario.measurements.flatMap((measurement): Reading[] => {
    const reference = design.references.find(({ id }) => id === measurement.reference);
    if (reference === undefined) return [];
    const { id, direction, uncertainty } = measurement;
    return [{ name: id, reference, direction, u: uncertainty, from: undefined }];
  });
  return [...byPatch, ...bySurface, ...byLength];
}

/** What a patch reads along each of its senses, whether its light returns or not. */
export const readingsOfSenses = (design: Design, patch: DesignedPatch): readonly Reading[] =>
  sensesOf(design, patch).map((sense, k): Reading => {
    return {
      name: `${patch.id} ${sense.kind}`,
      reference: patch.reference,
      direction: sense.direction,
      u: sense.resolution,
      from: { patch, sense: k },
    };
  });
