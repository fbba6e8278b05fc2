/** What a reference says of itself besides its place: how its cube stands, and its own figures for the budget. mm, radians. */
import type { Reference, ReferenceKind } from '../../scenario/scenario.ts';
import type { Field, Read } from '../yaml/field.ts';
import { direction3, type Limits, NOT_NEGATIVE, quantity } from '../yaml/values.ts';

type Told<Key extends keyof Reference> = { readonly [K in Key]?: Read<NonNullable<Reference[K]>> };

const ACCEPTANCES: Limits = { moreThan: 0, lessThan: Math.PI / 2 };

export function buildCube(
  field: Field,
  kind: Read<ReferenceKind>,
): Told<'axis' | 'roll' | 'acceptance' | 'centring'> {
  for (const key of ['axis', 'roll', 'acceptance', 'centring'])
    hasNone(field.get(key), kind === 'ball' || kind === 'screen', 'it is about the cube of an `smr`');
  const roll = quantity(field.get('roll'), 'angle', {}, undefined);
  const acceptance = quantity(field.get('acceptance'), 'angle', ACCEPTANCES, undefined);
  const centring = quantity(field.get('centring'), 'length', NOT_NEGATIVE, undefined);
  return {
    ...(field.get('axis').present ? { axis: direction3(field.get('axis')) } : {}),
    ...(roll === undefined ? {} : { roll }),
    ...(acceptance === undefined ? {} : { acceptance }),
    ...(centring === undefined ? {} : { centring }),
  };
}

export function buildFigures(
  field: Field,
  kind: Read<ReferenceKind>,
  given: Read<string>,
): Told<'form' | 'radiusTolerance' | 'nest'> {
  const keys = ['form', 'radiusTolerance', 'nest'] as const;
  for (const key of keys) hasNone(field.get(key), kind === 'screen', 'nothing is measured of a screen');
  hasNone(field.get('nest'), given === 'touches', 'its place is given by touches, not by a nest');
  const told = keys.flatMap((key) => {
    const value = quantity(field.get(key), 'length', NOT_NEGATIVE, undefined);
    return value === undefined ? [] : [[key, value] as const];
  });
  return Object.fromEntries(told);
}

function hasNone(field: Field, isOutOfPlace: boolean, why: string): void {
  if (isOutOfPlace && field.present)
    field.report('conflicting-keys', `\`${field.name}\` has no meaning here: ${why}`, 'remove it');
}
