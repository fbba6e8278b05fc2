/**
 * One entry of the bench's readings: what a patch shows, or what a length measured otherwise shows. Each fault is said where it
 * stands; undefined comes back where nothing can be used. Fringes as they are counted, lengths to mm.
 */
import type { Path } from '../../finding/finding.ts';
import { kindOf } from '../../kinds/kinds.ts';
import { MM_PER_UM } from '../../quantity/conversion.ts';
import { didYouMean } from '../../quantity/nearest-name.ts';
import type { BenchReading } from '../../scenario/bench-reading.ts';
import { MAIN, type Patch, type Scenario } from '../../scenario/scenario.ts';
import { isObject } from '../yaml/field.ts';
import { shown, typeOf } from '../yaml/values.ts';
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
import { nullEntryOf } from './null-entry.ts';
import { otherOf } from './other-reading.ts';

/** A deviation of more than a metre is a slip of the pen. */
const MOST_DEVIATION_UM = 1e6;

const OF_A_PATCH = ['patch', 'fringes', 'toward', 'counted', 'power', 'or', 'sign', 'uncertainty'];
const OF_A_LENGTH = ['measurement', 'deviation_um'];

export function entryOf(entry: unknown, path: Path, scenario: Scenario, say: Say): BenchReading | undefined {
  if (!isObject(entry))
    return say(
      'wrong-type',
      path,
      `a reading is ${typeOf(entry)}`,
      'expected e.g. {patch: north-1, fringes: 1.3}',
    );
  if (entry.measurement !== undefined && entry.patch === undefined)
    return lengthOf(entry, path, scenario, say);
  if (entry.patch === MAIN) return nullEntryOf(entry, path, scenario, say);
  const known = unknownKeys(entry, path, OF_A_PATCH, say);
  if (entry.patch === undefined)
    return known
      ? say('missing-key', path, 'a reading needs its `patch`', 'name the patch that you read')
      : undefined;
  const patch = namedIn(scenario.patches, entry, 'patch', path, say);
  const reference = scenario.references.find(({ id }) => id === patch?.reference);
  const noCount = reference && kindOf(reference).words.noCount;
  if (patch !== undefined && noCount !== undefined)
    return say('bad-value', [...path, 'patch'], noCount(patch.id), 'remove this reading');
  if (entry.fringes === undefined && entry.power === undefined) {
    const hint = 'give a count, signed along `senses`';
    return known ? say('missing-key', path, 'a reading needs its `fringes`', hint) : undefined;
  }
  const toward = towardOf(entry, [...path, 'toward'], say);
  const tilts =
    entry.toward === undefined
      ? tiltsOf(entry.fringes, [...path, 'fringes'], patch, say)
      : [sizeOf(entry.fringes, [...path, 'fringes'], say)];
  const counted = countedOf(entry, [...path, 'counted'], say);
  const power = powerOf(entry.power, [...path, 'power'], patch, say);
  const signKnown = signOf(entry.sign, [...path, 'sign'], say);
  const uncertainty = uncertaintyOf(entry.uncertainty, [...path, 'uncertainty'], say);
  if (patch === undefined) return undefined;
  const spare = entry.toward === undefined ? [] : [undefined];
  const fringes = patch.focus === 'line' ? tilts : [...tilts, ...spare, power];
  const given = { kind: 'fringes', patch: patch.id, ...toward, ...counted, fringes, uncertainty } as const;
  if (entry.or === undefined) return { ...given, signKnown };
  const or = otherOf(entry, [...path, 'or'], fringes, say);
  return or && { ...given, signKnown: false, or };
}

/** The one of `things` that the entry names under `key`; undefined, and said, where the scenario has none of that name. */
function namedIn<T extends { readonly id: string }>(
  things: readonly T[],
  entry: Record<string, unknown>,
  key: 'patch' | 'measurement',
  path: Path,
  say: Say,
): T | undefined {
  const found = things.find(({ id }) => id === entry[key]);
  if (found !== undefined) return found;
  const ids = things.map(({ id }) => id);
  const plural = key === 'patch' ? 'patches' : 'measurements';
  const listed =
    key === 'measurement' && ids.length === 0
      ? 'the scenario has no measurements'
      : `known ${plural}: ${ids.slice(0, 12).join(', ')}`;
  const hint = didYouMean(String(entry[key]), ids) ?? listed;
  return say('unknown-name', [...path, key], `the scenario has no ${key} ${shown(entry[key])}`, hint);
}

/** As many as the focus has tilts; what is wrong is said, and undefined where nothing usable is there. */
function tiltsOf(
  given: unknown,
  path: Path,
  patch: Patch | undefined,
  say: Say,
): readonly (number | undefined)[] {
  const expected = patch === undefined || patch.focus === 'line' ? 1 : 2;
  const absent = Array.from({ length: expected }, () => undefined);
  if (given === undefined) return absent;
  const values: readonly unknown[] = Array.isArray(given) ? given : [given];
  // Of the two tilts of a point focus one may not have been read.
  const read = values.map((value, k) =>
    value === null && Array.isArray(given)
      ? undefined
      : numberOf(value, Array.isArray(given) ? [...path, k] : path, MOST_FRINGES, say),
  );
  if (patch === undefined || values.length === expected) return read;
  const hint =
    expected === 2
      ? `a list of two tilts, ${patch.focus === 'point' ? 'one along each of its `senses`' : 'along the substrate’s x and y'}`
      : 'one number: a line focus senses one direction';
  const count = values.length === 1 ? '1 value' : `${values.length} values`;
  const what = `patch ${patch.id}, ${patch.focus === 'point' || patch.focus === 'line' ? `a ${patch.focus} focus` : 'a ring'}`;
  say('bad-value', path, `${count} for ${what}`, `expected ${hint}`);
  return absent;
}

/** With what the aligned patch shows, or beyond it. */
function countedOf(entry: Record<string, unknown>, path: Path, say: Say): { readonly counted?: 'total' } {
  if (entry.counted === undefined || entry.counted === 'beyond') return {};
  if (entry.counted !== 'total') {
    const hint =
      'write `counted: total` for all fringes seen, or leave it out for those beyond the aligned patch’s';
    say('bad-value', path, `\`counted\` is ${shown(entry.counted)}`, hint);
    return {};
  }
  if (entry.sign === 'unknown')
    say(
      'conflicting-keys',
      path,
      'of a total whose sign is unknown, the bias cannot be subtracted',
      'give `toward`, or count beyond the bias',
      true,
    );
  return { counted: 'total' };
}

function powerOf(given: unknown, path: Path, patch: Patch | undefined, say: Say): number | undefined {
  if (given === undefined) return undefined;
  if (patch?.focus !== 'line') return numberOf(given, path, MOST_FRINGES, say);
  const message = `patch ${patch.id} has a line focus, which shows no power`;
  return say('conflicting-keys', path, message, 'remove it', true);
}

function lengthOf(
  entry: Record<string, unknown>,
  path: Path,
  scenario: Scenario,
  say: Say,
): BenchReading | undefined {
  const known = unknownKeys(entry, path, OF_A_LENGTH, say);
  const measurement = namedIn(scenario.measurements, entry, 'measurement', path, say);
  if (entry.deviation_um === undefined) {
    const hint = 'give measured minus nominal, in µm';
    return known ? say('missing-key', path, 'a measurement needs its `deviation_um`', hint) : undefined;
  }
  const deviation = numberOf(entry.deviation_um, [...path, 'deviation_um'], MOST_DEVIATION_UM, say);
  if (measurement === undefined || deviation === undefined) return undefined;
  return { kind: 'length', measurement: measurement.id, deviation: deviation * MM_PER_UM };
}
