/** How values of two reports are compared: numbers beyond rounding, places by the distance in µm, records field by field. */
import { UM_PER_MM } from '../../quantity/conversion.ts';

/** Inputs nearer than this, relative to the larger, differ by the rounding of their arithmetic and not by design. */
const ROUNDING = 1e-9;
/** Of figures that come out of a trace or a fit, which carry their iteration's last steps. */
export const FIGURE_ROUNDING = 1e-7;
/** Places nearer than this, mm (a picometre), are the same. */
const SAME_PLACE = 1e-9;

export interface ValueChange {
  readonly before: string | number | boolean | null;
  readonly after: string | number | boolean | null;
  /** After less before, or the distance moved; undefined where there is no such figure. */
  readonly by?: number;
}

export interface NumberChange extends ValueChange {
  readonly before: number | null;
  readonly after: number | null;
}

export const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Undefined where both are the same number, or neither is one: null is what is not observed. */
export function numberChange(was: unknown, is: unknown, rounding = ROUNDING): NumberChange | undefined {
  const [before, after] = [was, is].map((value) => (typeof value === 'number' ? value : null)) as [
    number | null,
    number | null,
  ];
  if (before === null || after === null) return before === after ? undefined : { before, after };
  if (Math.abs(after - before) <= rounding * Math.max(Math.abs(before), Math.abs(after))) return undefined;
  return { before, after, by: after - before };
}

/** Two places in mm: how far apart they are, in µm. */
export function vectorMove(was: unknown, is: unknown): (ValueChange & { by: number }) | undefined {
  if (!isPlace(was) || !isPlace(is) || was.length !== is.length) return undefined;
  const squares = was.map((value, k) => (is[k]! - value) ** 2);
  const distance = Math.sqrt(squares.reduce((sum, square) => sum + square, 0));
  if (distance <= SAME_PLACE) return undefined;
  return { before: placeText(was), after: placeText(is), by: distance * UM_PER_MM };
}

const isPlace = (value: unknown): value is readonly number[] =>
  Array.isArray(value) && value.every((entry) => typeof entry === 'number');

/** Digits of a place in words: a nanometre. */
const placeText = (place: readonly number[]): string =>
  `(${place.map((value) => Number(value.toFixed(6)) + 0).join(', ')}) mm`;

/** Every field, nested ones by `outer.inner`, that is not what it was. */
export function fieldChanges(
  was: Record<string, unknown>,
  is: Record<string, unknown>,
): readonly (ValueChange & { what: string })[] {
  const keys = [...new Set([...Object.keys(was), ...Object.keys(is)])];
  return keys.flatMap((key) => {
    const [before, after] = [was[key], is[key]];
    if (isRecord(before) && isRecord(after)) {
      return fieldChanges(before, after).map(({ what, ...change }) => ({
        what: `${key}.${what}`,
        ...change,
      }));
    }
    if (typeof before === 'number' && typeof after === 'number') {
      const change = numberChange(before, after);
      return change === undefined ? [] : [{ what: key, ...change }];
    }
    if (isPlace(before) && isPlace(after) && sameNumbers(before, after)) return [];
    const [old, fresh] = [plain(before), plain(after)];
    return old === fresh ? [] : [{ what: key, before: old, after: fresh }];
  });
}

const sameNumbers = (a: readonly number[], b: readonly number[]): boolean =>
  a.length === b.length && a.every((value, k) => numberChange(value, b[k]) === undefined);

function plain(value: unknown): string | number | boolean | null {
  if (value === undefined || value === null) return null;
  if (typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean') return value;
  return JSON.stringify(value);
}

/** What of a list read from a file is records. */
export const listOf = <Entry>(list: readonly Entry[] | null | undefined): readonly Entry[] =>
  Array.isArray(list) ? (list as readonly Entry[]).filter((entry) => isRecord(entry)) : [];

/** The same by one of their fields. */
export const listBy = <Entry>(
  list: readonly Entry[] | null | undefined,
  key: keyof Entry,
): ReadonlyMap<string, Entry> => new Map(listOf(list).map((entry) => [String(entry[key]), entry]));

/** The middle and the sides of the upright rectangle around a written outline. */
export function boxOf(
  outline: unknown,
): { readonly middle: readonly number[]; readonly size: readonly number[] } | undefined {
  if (!isRecord(outline)) return undefined;
  const { centre_mm: middle, points_mm: points, diameter_mm, outerDiameter_mm } = outline;
  const diameter = diameter_mm ?? outerDiameter_mm;
  if (Array.isArray(middle) && typeof diameter === 'number') return { middle, size: [diameter, diameter] };
  if (!Array.isArray(points) || points.length === 0) return undefined;
  const ranges = [0, 1].map((axis) => {
    const along = points.map((point: unknown) => Number((point as unknown[] | null)?.[axis]));
    return [Math.min(...along), Math.max(...along)] as const;
  });
  return { middle: ranges.map(([a, b]) => (a + b) / 2), size: ranges.map(([a, b]) => b - a) };
}
