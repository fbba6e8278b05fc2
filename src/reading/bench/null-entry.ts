/**
 * A reading of the null of the surface under test, one entry of the bench's readings:
 *
 *     - {patch: main, fringes: [0.8, -1.5], power: 0.4, coma: [0.1, 0]}
 *     - {patch: main, fringes: 1.7, toward: 4, power: 0.4}
 *     - {patch: main, waves: {tilt: [0.2, -0.4], power: 0.11, astigmatism: [0, 0], coma: [0.03, 0], spherical: 0}}
 *
 * Fringes as they are counted, tilt and coma along the substrate's x and y, or tilt as it is seen, with the hour toward which the path falls; or coefficients of Zernike terms by ISO 24157. For the sign see
 * scenario/bench-reading.ts.
 */
import type { Path } from '../../finding/finding.ts';
import type { BenchReading, NullValue } from '../../scenario/bench-reading.ts';
import { FIGURE_TERMS, type FigureTerm, figureTerms, MAIN, type Scenario } from '../../scenario/scenario.ts';
import { isObject } from '../yaml/field.ts';
import { typeOf } from '../yaml/values.ts';
import {
  MOST_FRINGES,
  numberOf,
  type Say,
  signOf,
  sizeOf,
  towardOf,
  uncertaintyOf,
  unknownKeys,
} from './entry-values.ts';

const KEYS = ['patch', 'fringes', 'toward', 'power', 'coma', 'waves', 'sign', 'uncertainty'];
/** Counted at the bench, each under its key. */
const COUNTED: readonly (readonly [key: string, term: FigureTerm])[] = [
  ['fringes', 'tilt'],
  ['power', 'power'],
  ['coma', 'coma'],
];

export function nullEntryOf(
  entry: Record<string, unknown>,
  path: Path,
  { test }: Scenario,
  say: Say,
): BenchReading | undefined {
  const known = unknownKeys(entry, path, KEYS, say);
  if (test === undefined)
    return say(
      'unknown-name',
      [...path, 'patch'],
      'the scenario has no main pattern: it names no surface under test',
      'add `test` to the scenario, or remove this reading',
    );
  const counted = COUNTED.filter(([key]) => entry[key] !== undefined);
  if (entry.waves !== undefined && counted.length > 0) {
    const keys = counted.map(([key]) => `\`${key}\``).join(', ');
    const message = `\`waves\` and ${keys} are two forms of one reading`;
    return say('conflicting-keys', [...path, 'waves'], message, 'keep one of them', true);
  }
  if (entry.waves === undefined && counted.length === 0) {
    const hint = 'give `fringes: [along x, along y]`, `power` or `coma`, or `waves` by Zernike term';
    return known ? say('missing-key', path, 'a reading of the null needs its `fringes`', hint) : undefined;
  }
  const values =
    entry.waves === undefined
      ? counted.flatMap(([key, term]) =>
          term === 'tilt' && entry.toward !== undefined
            ? seenTilt(entry[key], [...path, key], say)
            : partsOf(entry[key], [...path, key], term, say),
        )
      : wavesOf(entry.waves, [...path, 'waves'], say);
  const unit = entry.waves === undefined ? 'fringes' : 'waves';
  const signKnown = signOf(entry.sign, [...path, 'sign'], say);
  const uncertainty = uncertaintyOf(entry.uncertainty, [...path, 'uncertainty'], say, unit);
  const toward = towardOf(entry, [...path, 'toward'], say);
  return { kind: 'null', ...toward, values, unit, signKnown, uncertainty };
}

/** One size, whose direction is the hour's. */
function seenTilt(given: unknown, path: Path, say: Say): readonly NullValue[] {
  const value = sizeOf(given, path, say);
  return value === undefined ? [] : [{ term: 'tilt', part: 0, value }];
}

function wavesOf(given: unknown, path: Path, say: Say): readonly NullValue[] {
  if (!isObject(given)) {
    say('wrong-type', path, `\`waves\` is ${typeOf(given)}`, 'expected e.g. {tilt: [0.2, -0.4], power: 0.1}');
    return [];
  }
  const known = unknownKeys(given, path, figureTerms, say);
  const terms = figureTerms.filter((term) => given[term] !== undefined);
  if (terms.length === 0 && known)
    say('missing-key', path, '`waves` names no term', `give one of ${figureTerms.join(', ')}`);
  return terms.flatMap((term) => partsOf(given[term], [...path, term], term, say));
}

/** One number for a round term, a list of two for the others; what is wrong is said, and left out. */
function partsOf(given: unknown, path: Path, term: FigureTerm, say: Say): readonly NullValue[] {
  const expected = FIGURE_TERMS[term];
  const values: readonly unknown[] = Array.isArray(given) ? given : [given];
  const read = values.map((value, k) =>
    numberOf(value, Array.isArray(given) ? [...path, k] : path, MOST_FRINGES, say),
  );
  if (values.length !== expected || Array.isArray(given) !== (expected === 2)) {
    const parts = term === 'astigmatism' ? 'at 0° and at 45°' : 'along x and along y';
    const hint = expected === 2 ? `expected a list of two, ${parts}` : 'expected one number';
    const count = values.length === 1 ? '1 value' : `${values.length} values`;
    say('bad-value', path, `${count} for the ${term} of ${MAIN}`, hint);
    return [];
  }
  return read.flatMap((value, part): NullValue[] =>
    value === undefined ? [] : [{ term, part: part as 0 | 1, value }],
  );
}
