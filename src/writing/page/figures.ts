/** Numbers as the sheet shows them to a reader: a sensible count of digits, the sign as a minus, `–` where there is none. */
import { UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import { trimmed } from '../../quantity/format.ts';

export const NONE = '–';

/** `value` to so many significant digits, without an exponent; beyond a million, or nothing: `–`. */
export function significant(value: number | null | undefined, digits = 3): string {
  if (value === null || value === undefined || !Number.isFinite(value) || Math.abs(value) >= LARGEST)
    return NONE;
  const decimals = value === 0 ? 0 : Math.max(0, digits - 1 - Math.floor(Math.log10(Math.abs(value))));
  return withMinus(trimmed(Number(value.toPrecision(digits)), Math.min(decimals, MOST_DECIMALS)));
}

/** µm, µrad or fringes: what is under a thousandth is said to be that. */
export const micro = (value: number | null | undefined): string =>
  value !== null && value !== undefined && Math.abs(value) < SMALLEST ? `<${SMALLEST}` : significant(value);

/** `1 fringe`, `0.5, 3 fringes`. */
export function fringeWords(counts: readonly number[]): string {
  const words = counts.map((count) => significant(count, 2)).join(', ');
  return `${words} ${words === '1' ? 'fringe' : 'fringes'}`;
}

/** The name of a picture's state beneath it; aligned with the fringes that the patch shows then, where it shows any. */
export function stateWords(name: string, fringesAtNull: number | null | undefined): string {
  if (name === 'one fringe') return 'one fringe off';
  const shows = name === 'aligned' && Math.abs(fringesAtNull ?? 0) >= VISIBLE_FRINGES;
  return shows ? `aligned (shows ${fringeWords([Math.abs(fringesAtNull!)])})` : name;
}

/** Fewer fringes than this are none to the eye. */
export const VISIBLE_FRINGES = 0.01;

/** `x 7.2 µm`, `rx 12 µrad`: a motion along one degree, in mm and radians. */
export const motionWords = ({
  degree,
  amount,
}: {
  readonly degree: string;
  readonly amount: number;
}): string =>
  degree.startsWith('r')
    ? `${degree} ${significant(amount * URAD_PER_RAD)} µrad`
    : `${degree} ${significant(amount * UM_PER_MM)} µm`;

/** A length in mm with three decimals at most: a micrometre; `–` for one without end. */
export const place = (value: number): string =>
  Number.isFinite(value) ? withMinus(trimmed(value, 3)) : NONE;

/** `(x, y, z)` in mm. */
export const places = (values: readonly number[]): string => `(${values.map(place).join(', ')})`;

/** Degrees of an angle in radians, two decimals. */
export const degrees = (angle: number): string => withMinus(trimmed((angle * 180) / Math.PI, 2));

export const withMinus = (text: string): string => text.replace('-', '\u2212');

/** Words that hold figures, such as a finding's, for a page: each sign before a figure as a minus, but in what stands between backticks. */
export const withMinusSigns = (words: string): string =>
  words
    .split('`')
    .map((part, k) => (k % 2 === 0 ? part.replace(/(?<=^|[\s([=,])-(?=\d)/g, '\u2212') : part))
    .join('`');

const SMALLEST = 0.001;
const LARGEST = 1e7;
const MOST_DECIMALS = 12;

/** A direction whose other parts are this small is named by its axis: less than the three decimals of a direction show. */
const SLIGHT = 5e-4;

/** `x`, `−y`, or the unit vector where it runs along no axis. */
export function axisWords(direction: readonly number[]): string {
  const size = Math.hypot(...direction);
  const unit = direction.map((part) => part / size);
  const axis = unit.findIndex((_, k) => unit.every((part, other) => other === k || Math.abs(part) < SLIGHT));
  if (axis < 0) return places(unit);
  return `${unit[axis]! < 0 ? '\u2212' : ''}${'xyz'[axis]}`;
}
