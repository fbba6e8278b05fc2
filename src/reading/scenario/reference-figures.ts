/** What a reference says of itself besides its place: how its cube stands, and its own figures for the budget. mm, radians. */
import { CUBE_KEYS, FIT_KEYS, type InScenario } from '../../kinds/kind.ts';
import type { CubeFigures, Fit } from '../../kinds/reference.ts';
import { assemble, type Field, type Read } from '../yaml/field.ts';
import { direction3, type Limits, NOT_NEGATIVE, quantity } from '../yaml/values.ts';

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
  const told = FIT_KEYS.flatMap((key) => {
    const value = quantity(field.get(key), 'length', NOT_NEGATIVE, undefined);
    return value === undefined ? [] : [[key, value] as const];
  });
  const isCube = without !== undefined && CUBE_KEYS.every((key) => without[key] === undefined);
  return { ...Object.fromEntries(told), ...(isCube ? { cube } : {}) };
}

function buildCube(field: Field): Read<CubeFigures> {
  const roll = quantity(field.get('roll'), 'angle', {}, undefined);
  const acceptance = quantity(field.get('acceptance'), 'angle', ACCEPTANCES, undefined);
  const centring = quantity(field.get('centring'), 'length', NOT_NEGATIVE, undefined);
  return assemble<CubeFigures>({
    ...(field.get('axis').present ? { axis: direction3(field.get('axis')) } : {}),
    ...(roll === undefined ? {} : { roll }),
    ...(acceptance === undefined ? {} : { acceptance }),
    ...(centring === undefined ? {} : { centring }),
  });
}

function hasNone(field: Field, why: string | undefined): void {
  if (why !== undefined && field.present)
    field.report('conflicting-keys', `\`${field.name}\` does not apply here: ${why}`, 'remove it');
}
