/** What a reference says of itself besides its place: how its cube stands, and its own figures for the budget. mm, radians. */
import { CUBE_KEYS, FIT_KEYS, type InScenario } from '../../kinds/kind.ts';
import type { CubeFigures, Fit } from '../../kinds/reference.ts';
import { assemble, type Field, type Read } from '../yaml/field.ts';
import { direction3, type Limits, NOT_NEGATIVE, quantitiesGiven } from '../yaml/values.ts';

const ACCEPTANCES: Limits = { moreThan: 0, lessThan: Math.PI / 2 };

/** `without`: keys that the kind has no use for, with the reasons; undefined where the kind is not known. */
export function buildFigures(
  field: Field,
  without: InScenario['without'] | undefined,
  given: Read<string>,
): { readonly [Key in keyof Fit]?: Read<number> } & { readonly cube?: Read<CubeFigures> } {
  for (const key of CUBE_KEYS) hasNone(field.get(key), without?.[key]);
  const cube = buildCube(field);
  for (const key of FIT_KEYS) hasNone(field.get(key), without?.[key]);
  if (given === 'touches') hasNone(field.get('nest'), 'its position is given by touches, not by a nest');
  const isCube = without !== undefined && CUBE_KEYS.every((key) => without[key] === undefined);
  return {
    ...quantitiesGiven(field, FIT_KEYS, 'length', NOT_NEGATIVE),
    ...(isCube ? { cube } : {}),
  };
}

const buildCube = (field: Field): Read<CubeFigures> =>
  assemble<CubeFigures>({
    ...(field.get('axis').present ? { axis: direction3(field.get('axis')) } : {}),
    ...quantitiesGiven(field, ['roll'], 'angle'),
    ...quantitiesGiven(field, ['acceptance'], 'angle', ACCEPTANCES),
    ...quantitiesGiven(field, ['centring'], 'length', NOT_NEGATIVE),
  });

/** Reports a key that is given though it does not apply, for a reason; whether it was. */
export function hasNone(field: Field, why: string | undefined): boolean {
  const reported = why !== undefined && field.present;
  if (reported)
    field.report('conflicting-keys', `\`${field.name}\` does not apply here: ${why}`, 'remove it');
  return reported;
}
