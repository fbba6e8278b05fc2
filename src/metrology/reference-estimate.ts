/**
 * Where the readings say that each reference is: its own three unknowns x, y, z in the substrate frame, mm, from the patches
 * that look at it and the lengths measured to it. What it touches has no say here.
 */
import type { Design } from '../design/design.ts';
import type { Reference } from '../scenario/scenario.ts';
import { readingErrors } from './error-models.ts';
import type { ErrorSource, Term } from './error-source.ts';
import { estimate, type LinearEstimate } from './linear-estimate.ts';
import { COMMON_PRACTICE, type Practice } from './practice.ts';
import { type Reading, readingsOf } from './readings.ts';

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
  const allSources = readingErrors(design, all, practice);
  return design.references.map((reference): ReferenceEstimate => {
    // A feature that shows its turns too has no place by itself: its readings go to the part's.
    const kept = all.flatMap((reading, k) =>
      reading.reference.id === reference.id && reading.moment === undefined ? [k] : [],
    );
    const readings = kept.map((k) => all[k]!);
    const sources = allSources.map((source) => {
      return { ...source, effects: Float64Array.from(kept, (k) => source.effects[k]!) };
    });
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

/** The term that a reading's own uncertainty is booked to. */
export const termOf = ({ from }: Reading): Term => (from === undefined ? 'measured length' : 'reading');
