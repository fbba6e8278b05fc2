/**
 * The second of two readings that a picture shows alike, one of an entry's keys:
 *
 *     - {patch: ball-1, fringes: [0.4, -1.2], or: [-4.4, 1.2]}
 *     - {patch: ball-1, fringes: [0.4, -1.2], power: 0.3, or: [-4.4, 1.2, -0.3]}
 *
 * It has a value for each of the first one's, power last, each with its sign.
 */
import type { Path } from '../../finding/finding.ts';
import { shown } from '../yaml/values.ts';
import { MOST_FRINGES, numberOf, type Say } from './entry-values.ts';

/** Keys that tell the sign, which two readings leave open; or leave it open in another way. */
const APART = ['sign', 'toward', 'counted'];

/** `fringes`: the first reading. What is wrong is said, and undefined where nothing usable is there. */
export function otherOf(
  entry: Record<string, unknown>,
  path: Path,
  fringes: readonly (number | undefined)[],
  say: Say,
): readonly (number | undefined)[] | undefined {
  for (const key of APART)
    if (entry[key] !== undefined)
      say('conflicting-keys', path, `\`or\` stands beside \`${key}\``, 'keep one of the two', true);
  const values: readonly unknown[] = Array.isArray(entry.or) ? entry.or : [entry.or];
  // A power that was not read is no value of the first one's.
  const power = fringes.length > 1 ? fringes.at(-1) : undefined;
  const expected = power === undefined ? Math.min(2, fringes.length) : fringes.length;
  if (values.length !== expected) {
    const count = values.length === 1 ? '1 value' : `${values.length} values`;
    const hint = `expected ${expected}: one for each of \`fringes\`${power === undefined ? '' : ', then `power`'}`;
    return say('bad-value', path, `\`or\` has ${count}`, hint);
  }
  const read = values.map((value, k) => {
    const at = Array.isArray(entry.or) ? [...path, k] : path;
    if ((value === null) !== (fringes[k] === undefined))
      return say(
        'bad-value',
        at,
        `a value of \`or\` is ${shown(value)}`,
        'give the same values as in `fringes`',
      );
    return value === null ? undefined : numberOf(value, at, MOST_FRINGES, say);
  });
  return fringes.map((_, k) => read[k]);
}
