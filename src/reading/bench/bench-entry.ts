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

export type Say = (rule: Code, path: Path, message: string, hint: string, atKey?: boolean) => void;

/** More fringes than any camera shows, and deviations of more than a metre, are slips of the pen. */
const MOST_FRINGES = 1e5;
const MOST_DEVIATION_UM = 1e6;

const OF_A_PATCH = ['patch', 'fringes', 'power', 'sign', 'uncertainty'];
const OF_A_LENGTH = ['measurement', 'deviation_um'];

export function entryOf(entry: unknown, path: Path, scenario: Scenario, say: Say): BenchReading | undefined {
  if (!isObject(entry)) {
    say('wrong-type', path, `a reading is ${typeOf(entry)}`, 'expected e.g. {patch: north-1, fringes: 1.3}');
    return undefined;
  }
  if (entry.measurement !== undefined && entry.patch === undefined)
    return lengthOf(entry, path, scenario, say);
  const known = unknownKeys(entry, path, OF_A_PATCH, say);
  if (entry.patch === undefined) {
    if (known) say('missing-key', path, 'a reading needs its `patch`', 'name the patch that you read');
    return undefined;
  }
  const patch = scenario.patches.find(({ id }) => id === entry.patch);
  if (patch === undefined) {
    const ids = scenario.patches.map(({ id }) => id);
    const hint = didYouMean(String(entry.patch), ids) ?? `known patches: ${ids.slice(0, 12).join(', ')}`;
    say('unknown-name', [...path, 'patch'], `the scenario has no patch ${shown(entry.patch)}`, hint);
  } else {
    const reference = scenario.references.find(({ id }) => id === patch.reference);
    const noCount = reference && kindOf(reference).words.noCount;
    if (noCount !== undefined) {
      say('bad-value', [...path, 'patch'], noCount(patch.id), 'remove this reading');
      return undefined;
    }
  }
  if (entry.fringes === undefined && entry.power === undefined) {
    if (known)
      say('missing-key', path, 'a reading needs its `fringes`', 'give a count, signed along `senses`');
    return undefined;
  }
  const tilts = tiltsOf(entry.fringes, [...path, 'fringes'], patch, say);
  const power = powerOf(entry.power, [...path, 'power'], patch, say);
  const signKnown = signOf(entry.sign, [...path, 'sign'], say);
  const uncertainty = uncertaintyOf(entry.uncertainty, [...path, 'uncertainty'], say);
  if (patch === undefined) return undefined;
  const fringes = patch.focus === 'point' ? [...tilts, power] : tilts;
  return { kind: 'fringes', patch: patch.id, fringes, signKnown, uncertainty };
}

/** As many as the focus has tilts; what is wrong is said, and undefined where nothing usable is there. */
function tiltsOf(
  given: unknown,
  path: Path,
  patch: Patch | undefined,
  say: Say,
): readonly (number | undefined)[] {
  const expected = patch?.focus === 'point' ? 2 : 1;
  const absent = Array.from({ length: expected }, () => undefined);
  if (given === undefined) return absent;
  const values: readonly unknown[] = Array.isArray(given) ? given : [given];
  const read = values.map((value, k) =>
    numberOf(value, Array.isArray(given) ? [...path, k] : path, MOST_FRINGES, say),
  );
  if (patch !== undefined && values.length !== expected) {
    const hint =
      expected === 2
        ? 'a list of two tilts, one along each of its `senses`'
        : 'one number: a line focus senses one direction';
    const count = values.length === 1 ? '1 value' : `${values.length} values`;
    say('bad-value', path, `${count} for patch ${patch.id}, a ${patch.focus} focus`, `expected ${hint}`);
    return absent;
  }
  return read;
}

function powerOf(given: unknown, path: Path, patch: Patch | undefined, say: Say): number | undefined {
  if (given === undefined) return undefined;
  if (patch?.focus === 'line') {
    say(
      'conflicting-keys',
      path,
      `patch ${patch.id} has a line focus, which shows no power`,
      'remove it',
      true,
    );
    return undefined;
  }
  return numberOf(given, path, MOST_FRINGES, say);
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
  if (value !== undefined && !(value > 0))
    say(
      'out-of-range',
      path,
      `\`uncertainty\` is ${value}`,
      'a standard uncertainty in fringes, more than 0',
    );
  return value;
}

function lengthOf(
  entry: Record<string, unknown>,
  path: Path,
  scenario: Scenario,
  say: Say,
): BenchReading | undefined {
  const known = unknownKeys(entry, path, OF_A_LENGTH, say);
  const measurement = scenario.measurements.find(({ id }) => id === entry.measurement);
  if (measurement === undefined) {
    const ids = scenario.measurements.map(({ id }) => id);
    const listed =
      ids.length === 0
        ? 'the scenario has no measurements'
        : `known measurements: ${ids.slice(0, 12).join(', ')}`;
    const hint = didYouMean(String(entry.measurement), ids) ?? listed;
    const message = `the scenario has no measurement ${shown(entry.measurement)}`;
    say('unknown-name', [...path, 'measurement'], message, hint);
  }
  if (entry.deviation_um === undefined) {
    if (known)
      say(
        'missing-key',
        path,
        'a measurement needs its `deviation_um`',
        'give measured minus nominal, in µm',
      );
    return undefined;
  }
  const deviation = numberOf(entry.deviation_um, [...path, 'deviation_um'], MOST_DEVIATION_UM, say);
  if (measurement === undefined || deviation === undefined) return undefined;
  return { kind: 'length', measurement: measurement.id, deviation: deviation * MM_PER_UM };
}

function numberOf(value: unknown, path: Path, most: number, say: Say): number | undefined {
  if (typeof value !== 'number') {
    say('wrong-type', path, `a value is ${typeOf(value)}`, 'expected a number');
    return undefined;
  }
  if (Number.isFinite(value) && Math.abs(value) <= most) return value;
  say('out-of-range', path, `a value is ${value}`, `expected a finite number of at most ${most}`);
  return undefined;
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

export function typeOf(value: unknown): string {
  if (value === null) return 'empty';
  if (Array.isArray(value)) return 'a list';
  return typeof value === 'object' ? 'a mapping' : shown(value);
}

export function shown(value: unknown): string {
  const text = typeof value === 'string' ? value : (JSON.stringify(value) ?? String(value));
  return `\`${text.length > 60 ? `${text.slice(0, 60)}…` : text}\``;
}
