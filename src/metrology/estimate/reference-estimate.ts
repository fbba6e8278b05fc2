/**
 * Where the readings say that each reference is: its own three unknowns x, y, z in the substrate frame, mm, from the patches
 * that look at it and the lengths measured to it. What it touches has no say here.
 */
import type { Design } from '../../design/design.ts';
import type { Reference } from '../../scenario/scenario.ts';
import { readingErrors } from '../budget/error-models.ts';
import type { ErrorSource, Term } from '../budget/error-source.ts';
import { COMMON_PRACTICE, type Practice } from '../budget/practice.ts';
import { isByLight, type Reading, readingsBy, readingsOf } from '../budget/readings.ts';
import { estimate, type LinearEstimate } from './linear-estimate.ts';

export interface ReferenceEstimate {
  readonly reference: Reference;
  readonly readings: readonly Reading[];
  /** From what the scenario states: readings and measured lengths with their uncertainties. */
  readonly stated: LinearEstimate;
  /** With every term of the budget, by common practice where the scenario says nothing. */
  readonly full: LinearEstimate;
  readonly sources: readonly ErrorSource[];
}

/** For every reference, in the scenario's order, from the given readings: all that the design has, unless fewer are named. */
export function estimateReferences(
  design: Design,
  practice: Practice = COMMON_PRACTICE,
  all: readonly Reading[] = readingsOf(design),
): readonly ReferenceEstimate[] {
  // A feature that shows its turns too has no place by itself: its readings go to the part's.
  const kept = readingsBy(all, ({ reference, moment }) => (moment === undefined ? reference.id : undefined));
  const sourcesOf = sourcesByReference(all, readingErrors(design, all, practice), kept);
  return design.references.map((reference): ReferenceEstimate => {
    const readings = (kept.get(reference.id) ?? []).map((k) => all[k]!);
    const sources = sourcesOf.get(reference.id) ?? [];
    const shared = {
      rows: Float64Array.from(readings.flatMap(({ direction }) => direction)),
      unknowns: 3,
      u: Float64Array.from(readings, ({ u }) => u),
      terms: readings.map(termOf),
    };
    return {
      reference,
      readings,
      stated: estimate({ ...shared, sources: [] }),
      full: estimate({ ...shared, sources }),
      sources,
    };
  });
}

/** What of each source shifts the readings of each reference, numbered as these are by themselves; sources in their order. */
function sourcesByReference(
  all: readonly Reading[],
  sources: readonly ErrorSource[],
  kept: ReadonlyMap<string | undefined, readonly number[]>,
): ReadonlyMap<string, readonly ErrorSource[]> {
  const place = new Map([...kept.values()].flatMap((numbers) => numbers.map((k, own) => [k, own] as const)));
  const found = new Map<string, ErrorSource[]>();
  for (const source of sources) {
    const { at, by } = source.effects;
    const touched = new Map<string, { at: number[]; by: number[] }>();
    at.forEach((k, entry) => {
      const { reference, moment } = all[k]!;
      if (moment !== undefined) return;
      const effects = touched.get(reference.id) ?? { at: [], by: [] };
      touched.set(reference.id, effects);
      effects.at.push(place.get(k)!);
      effects.by.push(by[entry]!);
    });
    for (const [id, effects] of touched) {
      const own = found.get(id) ?? [];
      found.set(id, own);
      own.push({ ...source, effects });
    }
  }
  return found;
}

/** The term that a reading's own uncertainty is booked to. */
export const termOf = (reading: Reading): Term => (isByLight(reading) ? 'reading' : 'measured length');
