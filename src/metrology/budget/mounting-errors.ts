/**
 * What stands between a reference and the part: the form and the radius of the ball that touches a datum, and the seat of a
 * reference that is mounted at a given place. The part's own datum surfaces are what its place is reckoned from: they have no
 * error here. mm.
 */
import { dot, type Vec3 } from '../../geometry/vector.ts';
import { kindOf } from '../../kinds/kinds.ts';
import type { Reference } from '../../scenario/scenario.ts';
import { type Effects, type ErrorModel, type ErrorSource, effectsOn } from './error-source.ts';
import { holdOf } from './hold.ts';
import { type Reading, readingsBy } from './readings.ts';
import { AXES, RECTANGULAR } from './reference-errors.ts';

/** Each contact by itself: the ball's surface there is off its sphere. */
export const touchForm: ErrorModel = (design, readings, practice) =>
  readReferences(readings).flatMap(([reference, numbers]) =>
    holdOf(design, reference).contacts.map(({ datum, push }, k): ErrorSource => {
      return {
        term: 'ball form',
        name: `${reference.id} on ${datum} ${k + 1}`,
        u: (reference.form ?? practice.form) * RECTANGULAR,
        distribution: 'rectangular',
        effects: movesOf(readings, numbers, push),
      };
    }),
  );

/** All contacts of one ball alike: a larger ball stands off farther along every normal. */
export const touchRadius: ErrorModel = (design, readings, practice) =>
  readReferences(readings).flatMap(([reference, numbers]): ErrorSource[] => {
    const { contacts } = holdOf(design, reference);
    if (contacts.length === 0) return [];
    const together = contacts.reduce<Vec3>(
      ([x, y, z], { push }) => [x + push[0], y + push[1], z + push[2]],
      [0, 0, 0],
    );
    const usual = kindOf(reference).errors?.usualRadius ?? 'ballRadius';
    const halfWidth = reference.radiusTolerance ?? practice[usual];
    return [
      {
        term: 'ball radius',
        name: reference.id,
        u: halfWidth * RECTANGULAR,
        distribution: 'rectangular',
        effects: movesOf(readings, numbers, together),
      },
    ];
  });

/** The seat of a reference whose place was given: three directions, each by itself. */
export const nest: ErrorModel = (_design, readings, practice) =>
  readReferences(readings)
    .filter(([reference]) => kindOf(reference).errors !== undefined && reference.given !== 'touches')
    .flatMap(([reference, numbers]) =>
      AXES.map(({ name, along }): ErrorSource => {
        return {
          term: 'nest',
          name: `${reference.id} ${name}`,
          u: (reference.nest ?? practice.nest) * RECTANGULAR,
          distribution: 'rectangular',
          effects: movesOf(readings, numbers, along),
        };
      }),
    );

/** The references that are read, each with its readings' numbers. */
const readReferences = (
  readings: readonly Reading[],
): readonly (readonly [Reference, readonly number[]])[] => [
  ...readingsBy(readings, ({ reference }) => reference),
];

const movesOf = (readings: readonly Reading[], numbers: readonly number[], move: Vec3): Effects =>
  effectsOn(numbers, (k) => dot(readings[k]!.direction, move));
