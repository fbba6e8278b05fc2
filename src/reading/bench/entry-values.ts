/** What entries of the bench's readings have in common: how a fault is said, numbers, signs and uncertainties. */
import type { Code } from '../../finding/codes.ts';
import type { Path } from '../../finding/finding.ts';
import { didYouMean } from '../../quantity/nearest-name.ts';
import { shown, typeOf } from '../yaml/values.ts';
import { countIn } from './count-text.ts';

/** Says what is wrong, at a value or at its key; what cannot be used is undefined. */
export type Say = (rule: Code, path: Path, message: string, hint: string, atKey?: boolean) => undefined;

/** More fringes than any camera shows: a slip of the pen. */
export const MOST_FRINGES = 1e5;

export function signOf(given: unknown, path: Path, say: Say): boolean {
  if (given === undefined || given === 'known') return true;
  if (given !== 'unknown')
    say('bad-value', path, `\`sign\` is ${shown(given)}`, 'write `sign: unknown`, or leave it out');
  return false;
}

export function uncertaintyOf(
  given: unknown,
  path: Path,
  say: Say,
  unit: 'fringes' | 'waves' = 'fringes',
): number | undefined {
  if (given === undefined) return undefined;
  const value = numberOf(given, path, MOST_FRINGES, say);
  if (value !== undefined && !(value > 0)) {
    const hint = `a standard uncertainty in ${unit}, more than 0`;
    say('out-of-range', path, `\`uncertainty\` is ${value}`, hint);
  }
  return value;
}

/** A number, or a text that is a count: see count-text.ts. */
export function numberOf(given: unknown, path: Path, most: number, say: Say): number | undefined {
  const value = typeof given === 'string' ? countIn(given) : given;
  if (typeof value !== 'number')
    return say(
      'wrong-type',
      path,
      `a value is ${typeOf(given)}`,
      'expected a number, e.g. -1.5, "+0.5" or 2 1/2',
    );
  if (Number.isFinite(value) && Math.abs(value) <= most) return value;
  return say('out-of-range', path, `a value is ${value}`, `expected a finite number of at most ${most}`);
}

/** Says which keys are unknown; false where one of them may stand for a key that then seems to be missing. */
export function unknownKeys(
  entry: Record<string, unknown>,
  path: Path,
  known: readonly string[],
  say: Say,
): boolean {
  let clean = true;
  for (const key of Object.keys(entry)) {
    if (known.includes(key)) continue;
    clean = false;
    const hint = didYouMean(key, known) ?? `allowed keys: ${known.join(', ')}`;
    say('unknown-key', [...path, key], `unknown key ${shown(key)}`, hint, true);
  }
  return clean;
}

/** As seen: an hour beside one size. */
export function towardOf(entry: Record<string, unknown>, path: Path, say: Say): { readonly toward?: number } {
  if (entry.toward === undefined) return {};
  if (entry.fringes === undefined)
    say('conflicting-keys', path, '`toward` stands without `fringes`', 'give the count, or remove it', true);
  if (entry.sign === 'unknown')
    say('conflicting-keys', path, '`toward` is the sign, which is unknown', 'keep one of the two', true);
  const hour = numberOf(entry.toward, path, MOST_FRINGES, say);
  if (hour === undefined) return {};
  if (hour > 0 && hour <= 12) return { toward: hour };
  say('out-of-range', path, `\`toward\` is ${hour}`, 'an hour on the clock, above 0 and up to 12, e.g. 4.5');
  return {};
}

/** Of a count beside an hour. */
export function sizeOf(given: unknown, path: Path, say: Say): number | undefined {
  if (given === undefined) return undefined;
  if (Array.isArray(given))
    return say('bad-value', path, '`fringes` is a list beside `toward`', 'expected one number, 0 or more');
  const size = numberOf(given, path, MOST_FRINGES, say);
  if (size === undefined || size >= 0) return size;
  return say(
    'out-of-range',
    path,
    `\`fringes\` is ${size} beside \`toward\``,
    'a count of 0 or more: `toward` is its sign',
  );
}
