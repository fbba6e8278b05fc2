/**
 * What biases the null of the surface under test as a reading of the part's place: the surface's own tilt against its datums, its own power
 * and coma look like a motion of the part. Each term by itself, mm rms of height.
 */
import type { ErrorModel, ErrorSource } from './error-source.ts';

export const ownFigure: ErrorModel = ({ scenario: { test } }, readings, practice) =>
  readings.flatMap(({ name, nullTerm }, k): ErrorSource[] => {
    if (nullTerm === undefined) return [];
    return [
      {
        term: 'own figure',
        name,
        u: test?.ownFigure?.[nullTerm.term] ?? practice.ownFigure[nullTerm.term],
        distribution: 'normal',
        effects: { at: [k], by: [1] },
      },
    ];
  });
