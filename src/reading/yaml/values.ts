/** Reads single values of the scenario: quantities within limits, words, directions, ids. Lengths mm, angles rad. */
import { type Dimension, describeDimension } from '../../quantity/dimension.ts';
import { evaluateQuantity } from '../../quantity/evaluate.ts';
import { quote } from '../../quantity/problem.ts';
import { showValue } from '../../quantity/quantity.ts';
import { unitDirection, type Vec2, type Vec3 } from '../../scenario/placing.ts';
import { FAULTY, type Faulty, type Field, type Read } from './field.ts';

/** In the program's own units. */
export interface Limits {
  readonly moreThan?: number;
  readonly atLeast?: number;
  readonly lessThan?: number;
  readonly atMost?: number;
}

export const POSITIVE: Limits = { moreThan: 0 };
export const NOT_NEGATIVE: Limits = { atLeast: 0 };

/** The value of a required quantity; of one left out, FAULTY (the schema has said so). */
export function quantity(field: Field, dimension: Dimension, limits?: Limits): Read<number>;
/** The value of a quantity that may be left out, and `absent` if it is. */
export function quantity<A>(field: Field, dimension: Dimension, limits: Limits, absent: A): Read<number | A>;
export function quantity(
  field: Field,
  dimension: Dimension,
  limits: Limits = {},
  ...absent: readonly unknown[]
): unknown {
  const { value: given } = field;
  if (given === undefined) return absent.length === 0 ? FAULTY : absent[0];
  if (typeof given !== 'string' && !(typeof given === 'number' && Number.isFinite(given))) return FAULTY;
  const { value, problem } = evaluateQuantity(given, dimension, field.reading.scope);
  if (value !== undefined) return within(value, limits) ? value : outOfRange(field, value, dimension, limits);
  if (problem !== undefined) field.report(problem.code, problem.message, problem.hint);
  return FAULTY;
}

export const length = (field: Field, limits: Limits = {}): Read<number> => quantity(field, 'length', limits);
export const angle = (field: Field, limits: Limits = {}): Read<number> => quantity(field, 'angle', limits);

/** Those of `keys` that are given; what is left out there is left out here too. */
export function quantitiesGiven<K extends string>(
  field: Field,
  keys: readonly K[],
  dimension: Dimension,
  limits: Limits = {},
): { readonly [key in K]?: Read<number> } {
  const read = keys.map((key) => [key, quantity(field.get(key), dimension, limits, undefined)] as const);
  return Object.fromEntries(read.filter(([, value]) => value !== undefined)) as {
    [key in K]?: Read<number>;
  };
}

/** One of `words`, as the schema lists them. */
export function word<W extends string>(
  field: Field,
  words: readonly W[],
  absent: W | Faulty = FAULTY,
): Read<W> {
  if (!field.present) return absent;
  return words.find((known) => known === field.value) ?? FAULTY;
}

export function point2(field: Field, absent: Vec2 | Faulty = FAULTY): Read<Vec2> {
  return tuple(field, 2, 'length', absent) as Read<Vec2>;
}

export function point3(field: Field, absent: Vec3 | Faulty = FAULTY): Read<Vec3> {
  return tuple(field, 3, 'length', absent) as Read<Vec3>;
}

export function angles3(field: Field, absent: Vec3 | Faulty = FAULTY): Read<Vec3> {
  return tuple(field, 3, 'angle', absent) as Read<Vec3>;
}

/** A unit vector. */
export function direction3(field: Field, absent: Vec3 | Faulty = FAULTY): Read<Vec3> {
  const given = tuple(field, 3, 'number', absent) as Read<Vec3>;
  if (given === FAULTY) return FAULTY;
  const direction = unitDirection(given);
  if (direction !== undefined) return direction;
  return field.report(
    'bad-value',
    `\`${field.name}\` is [${given.join(', ')}], a zero vector`,
    'give a nonzero vector, e.g. [0, 0, 1]',
  );
}

function tuple(field: Field, count: number, dimension: Dimension, absent: unknown): unknown {
  if (!field.present) return absent;
  const items = field.items();
  const values = items.map((item) => quantity(item, dimension));
  return items.length !== count || values.includes(FAULTY) ? FAULTY : values;
}

/** Each bound of Limits in words, and whether a value keeps it. */
const BOUNDS: readonly (readonly [keyof Limits, string, (value: number, limit: number) => boolean])[] = [
  ['moreThan', 'more than', (value, limit) => value > limit],
  ['atLeast', 'at least', (value, limit) => value >= limit],
  ['lessThan', 'less than', (value, limit) => value < limit],
  ['atMost', 'at most', (value, limit) => value <= limit],
];

const within = (value: number, limits: Limits): boolean =>
  BOUNDS.every(([key, , keeps]) => limits[key] === undefined || keeps(value, limits[key]));

function outOfRange(field: Field, value: number, dimension: Dimension, limits: Limits): Faulty {
  const parts = BOUNDS.flatMap(([key, words]) =>
    limits[key] === undefined ? [] : [`${words} ${showValue(limits[key], dimension)}`],
  );
  const bare = typeof field.value === 'number' && dimension !== 'number';
  const message = `\`${field.name}\` is ${showValue(value, dimension)}`;
  const hint = `expected ${describeDimension(dimension)} of ${parts.join(' and ')}${bare ? '; check the unit' : ''}`;
  return field.report('out-of-range', message, hint);
}

/** What a value is, in a message: a list, a mapping, or the value itself. */
export function typeOf(value: unknown): string {
  if (value === null) return 'empty';
  if (Array.isArray(value)) return 'a list';
  return typeof value === 'object' ? 'a mapping' : shown(value);
}

export const shown = (value: unknown): string =>
  quote(typeof value === 'string' ? value : (JSON.stringify(value) ?? String(value)));
