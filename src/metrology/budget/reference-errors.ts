/**
 * What a reference itself puts between its sphere's centre and what the light shows: the apex of a cube beside the centre
 * of its sphere, and a ball that is not quite a sphere. Common to all patches that look at one reference; mm.
 */
import { dot, type Vec3 } from '../../geometry/vector.ts';
import { kindOf } from '../../kinds/kinds.ts';
import type { Reference } from '../../scenario/scenario.ts';
import { type ErrorModel, type ErrorSource, effectsOn, type Term } from './error-source.ts';
import type { Practice } from './practice.ts';
import { type Reading, readingsBy } from './readings.ts';

export const AXES: readonly { readonly name: string; readonly along: Vec3 }[] = [
  { name: 'x', along: [1, 0, 0] },
  { name: 'y', along: [0, 1, 0] },
  { name: 'z', along: [0, 0, 1] },
];

/** A tolerance ±a taken as rectangular has the standard uncertainty a/√3 (JCGM 100, 4.3.7). */
export const RECTANGULAR = 1 / Math.sqrt(3);

export const apexCentring: ErrorModel = (_design, readings, practice) =>
  offsets('apex centring', readings, practice);

export const ballForm: ErrorModel = (_design, readings, practice) => offsets('ball form', readings, practice);

/** The largest offset of what the light shows from the sphere's centre, along each axis. */
export function largestOffset(reference: Reference, practice: Practice): number {
  const { errors } = kindOf(reference);
  return errors?.offset.own(reference) ?? practice[errors?.offset.usual ?? 'form'];
}

/** The three components of an offset of each reference whose kind has that term, as the patches that look at it show them. */
function offsets(term: Term, readings: readonly Reading[], practice: Practice): ErrorSource[] {
  const seen = readingsBy(readings, ({ reference, from }) =>
    from && kindOf(reference).errors?.offset.term === term ? reference : undefined,
  );
  return [...seen].flatMap(([reference, numbers]) =>
    reference === undefined
      ? []
      : AXES.map(({ name, along }): ErrorSource => {
          return {
            term,
            name: `${reference.id} ${name}`,
            u: largestOffset(reference, practice) * RECTANGULAR,
            distribution: 'rectangular',
            effects: effectsOn(numbers, (k) => dot(readings[k]!.direction, along)),
          };
        }),
  );
}
