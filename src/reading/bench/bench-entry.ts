/**
 * One entry of the bench's readings: what a patch shows, or what a length measured otherwise shows. Each fault is said where it
 * stands; undefined comes back where nothing can be used. Fringes as they are counted, lengths to mm.
 */
import type { Code } from '../../finding/codes.ts';
import type { Path } from '../../finding/finding.ts';
import { kindOf } from '../../kinds/kinds.ts';
import { MM_PER_UM } from '../../quantity/conversion.ts';
import { didYouMean } from '../../quantity/nearest-name.ts';
import type { BenchReading } from '../../scenario/bench-reading.ts';
import type { Patch, Scenario } from '../../scenario/scenario.ts';
import { isObject } from '../yaml/field.ts';
import { shown, typeOf } from '../yaml/values.ts';

/** Says what is wrong, at a value or at its key; what cannot be used is undefined. */
export type Say = (rule: Code, path: Path, message: string, hint: string, atKey?: boolean) => undefined;

/** More fringes than any camera shows, and deviations of more than a metre, are slips of the pen. */
const MOST_FRINGES = 1e5;
const MOST_DEVIATION_UM = 1e6;

const OF_A_PATCH = ['patch', 'fringes', 'power', 'sign', 'uncertainty'];
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
  const tilts = tiltsOf(entry.fringes, [...path, 'fringes'], patch, say);
  const power = powerOf(entry.power, [...path, 'power'], patch, say);
  const signKnown = signOf(entry.sign, [...path, 'sign'], say);
  const uncertainty = uncertaintyOf(entry.uncertainty, [...path, 'uncertainty'], say);
  if (patch === undefined) return undefined;
  const fringes = patch.focus === 'line' ? tilts : [...tilts, power];
  return { kind: 'fringes', patch: patch.id, fringes, signKnown, uncertainty };
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
  const read = values.map((value, k) =>
    numberOf(value, Array.isArray(given) ? [...path, k] : path, MOST_FRINGES, say),
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

function powerOf(given: unknown, path: Path, patch: Patch | undefined, say: Say): number | undefined {
  if (given === undefined) return undefined;
  if (patch?.focus !== 'line') return numberOf(given, path, MOST_FRINGES, say);
  const message = `patch ${patch.id} has a line focus, which shows no power`;
  return say('conflicting-keys', path, message, 'remove it', true);
}

function signOf(given: unknown, path: Path, say: Say): boolean {
  if (given === undefined || given === 'known') return true;
  if (given !== 'unknown')
    say('bad-value', path, `\`sign\` is ${shown(given)}`, 'write `sign: unknown`, or leave it out');
  return false;
}

function uncertaintyOf(given: unknown, path: Path, say: Say): number | undefined {
  if (given === undefined) return undefined;
  const value = numberOf(given, path, MOST_FRINGES, say);
  if (value !== undefined && !(value > 0)) {
    const hint = 'a standard uncertainty in fringes, more than 0';
    say('out-of-range', path, `\`uncertainty\` is ${value}`, hint);
  }
  return value;
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

function numberOf(value: unknown, path: Path, most: number, say: Say): number | undefined {
  if (typeof value !== 'number')
    return say('wrong-type', path, `a value is ${typeOf(value)}`, 'expected a number');
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
