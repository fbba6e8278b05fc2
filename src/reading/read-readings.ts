/**
 * The bench's readings, YAML, to a list, or to findings with their places:
 *
 *     readings:
 *       - {patch: north-1, fringes: 1.3}
 *       - {patch: ball-1, fringes: [0.4, -1.2], power: 0.3}
 *       - {patch: east-1, fringes: 2, sign: unknown}
 *       - {measurement: spacer, deviation_um: -12}
 *
 * Fringes are signed along the patch's `senses`: positive where the reference is displaced along + that direction, and counted
 * beyond what the design place shows. A point focus takes a list of two, its two tilts, and `power`; a line focus one number.
 */
import type { Code } from '../finding/codes.ts';
import type { Finding, Path } from '../finding/finding.ts';
import { didYouMean } from '../quantity/nearest-name.ts';
import type { BenchReading } from '../scenario/bench-reading.ts';
import type { Patch, Scenario } from '../scenario/scenario.ts';
import { isObject } from './field.ts';
import { parseYaml } from './parse-yaml.ts';
import type { PlaceFinder } from './place-finder.ts';

export interface ReadReadings {
  /** Undefined where `findings` is not empty. */
  readonly readings?: readonly BenchReading[];
  /** In the order of the file, each with its place. */
  readonly findings: readonly Finding[];
  /** Where a path of the file stands in its text. */
  readonly places: PlaceFinder;
}

/** More fringes than any camera shows, and deviations of more than a metre, are slips of the pen. */
const MOST_FRINGES = 1e5;
const MOST_DEVIATION_UM = 1e6;
const MM_PER_UM = 1e-3;
/** Readings in one file; a design has fewer patches by far. */
const MOST_READINGS = 20_000;

const WORDS = { holds: 'readings', start: 'start with `readings:`' };
const TOP = ['readings', 'format'];
const OF_A_PATCH = ['patch', 'fringes', 'power', 'sign', 'uncertainty'];
const OF_A_LENGTH = ['measurement', 'deviation_um'];

export function readReadings(text: string, file: string, scenario: Scenario): ReadReadings {
  const { findings: yaml, data, places } = parseYaml(text, file, WORDS);
  const finder: PlaceFinder = (path) => places.ofValue(path);
  if (data === undefined) return { findings: yaml, places: finder };
  const findings: Finding[] = [...yaml];
  const say: Say = (rule, path, message, hint, atKey = false) => {
    const place = atKey ? places.ofKey(path) : places.ofValue(path);
    const where = path.length === 0 ? file : pathText(path);
    findings.push({
      severity: 'error',
      rule,
      where,
      message,
      hint,
      path,
      ...(place === undefined ? {} : { place }),
    });
  };
  const readings = listOf(data, say).flatMap((entry, k): BenchReading[] => {
    const read = entryOf(entry, ['readings', k], scenario, say);
    return read === undefined ? [] : [read];
  });
  sayDuplicates(data, say);
  findings.sort(
    ({ place: a }, { place: b }) => (a?.line ?? 0) - (b?.line ?? 0) || (a?.column ?? 0) - (b?.column ?? 0),
  );
  return findings.length > 0 ? { findings, places: finder } : { readings, findings, places: finder };
}

type Say = (rule: Code, path: Path, message: string, hint: string, atKey?: boolean) => void;

function listOf(data: unknown, say: Say): readonly unknown[] {
  if (!isObject(data)) {
    say('wrong-type', [], `the file is ${kindOf(data)}`, WORDS.start);
    return [];
  }
  unknownKeys(data, [], TOP, say);
  if (data.format !== undefined && data.format !== FORMAT)
    say('bad-value', ['format'], `\`format\` is ${shown(data.format)}`, `expected \`${FORMAT}\``);
  const { readings } = data;
  if (readings === undefined) {
    if (Object.keys(data).every((key) => didYouMean(key, ['readings']) === undefined))
      say('missing-key', [], 'the file lacks `readings`', 'add the list of them');
    return [];
  }
  if (!Array.isArray(readings)) {
    say('wrong-type', ['readings'], `\`readings\` is ${kindOf(readings)}`, 'expected a list of readings');
    return [];
  }
  if (readings.length === 0)
    say('bad-value', ['readings'], '`readings` is empty', 'give at least one reading');
  if (readings.length > MOST_READINGS) {
    say('too-many', ['readings'], `\`readings\` has ${readings.length} entries`, `at most ${MOST_READINGS}`);
    return [];
  }
  return readings;
}

const FORMAT = 'datumlight-readings/1';

function entryOf(entry: unknown, path: Path, scenario: Scenario, say: Say): BenchReading | undefined {
  if (!isObject(entry)) {
    say('wrong-type', path, `a reading is ${kindOf(entry)}`, 'such as {patch: north-1, fringes: 1.3}');
    return undefined;
  }
  if (entry.measurement !== undefined && entry.patch === undefined)
    return lengthOf(entry, path, scenario, say);
  const known = unknownKeys(entry, path, OF_A_PATCH, say);
  if (entry.patch === undefined) {
    if (known) say('missing-key', path, 'a reading lacks its `patch`', 'name the patch that was read');
    return undefined;
  }
  const patch = scenario.patches.find(({ id }) => id === entry.patch);
  if (patch === undefined) {
    const ids = scenario.patches.map(({ id }) => id);
    const hint = didYouMean(String(entry.patch), ids) ?? `its patches are ${ids.slice(0, 12).join(', ')}`;
    say('unknown-name', [...path, 'patch'], `the scenario has no patch named ${shown(entry.patch)}`, hint);
  } else if (scenario.references.some(({ id, kind }) => id === patch.reference && kind === 'screen')) {
    const message = `the light of patch ${patch.id} ends on a screen: it shows no fringes`;
    say('bad-value', [...path, 'patch'], message, 'remove this reading');
    return undefined;
  }
  if (entry.fringes === undefined && entry.power === undefined) {
    if (known) say('missing-key', path, 'a reading lacks its `fringes`', 'give them, signed along `senses`');
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
        ? 'a list of two: its tilts along both of its `senses`'
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
    say('conflicting-keys', path, `patch ${patch.id} has a line focus: it shows no power`, 'remove it', true);
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
    const listed = ids.length === 0 ? 'it has none' : `its measurements are ${ids.slice(0, 12).join(', ')}`;
    const hint = didYouMean(String(entry.measurement), ids) ?? listed;
    const message = `the scenario has no measurement named ${shown(entry.measurement)}`;
    say('unknown-name', [...path, 'measurement'], message, hint);
  }
  if (entry.deviation_um === undefined) {
    if (known)
      say('missing-key', path, 'a measurement lacks its `deviation_um`', 'give found less nominal, in µm');
    return undefined;
  }
  const deviation = numberOf(entry.deviation_um, [...path, 'deviation_um'], MOST_DEVIATION_UM, say);
  if (measurement === undefined || deviation === undefined) return undefined;
  return { kind: 'length', measurement: measurement.id, deviation: deviation * MM_PER_UM };
}

function numberOf(value: unknown, path: Path, most: number, say: Say): number | undefined {
  if (typeof value !== 'number') {
    say('wrong-type', path, `a value is ${kindOf(value)}`, 'expected a number');
    return undefined;
  }
  if (Number.isFinite(value) && Math.abs(value) <= most) return value;
  say('out-of-range', path, `a value is ${value}`, `expected a finite number of at most ${most}`);
  return undefined;
}

/** Says which keys are unknown; false where one of them may stand for a key that then seems to be missing. */
function unknownKeys(
  entry: Record<string, unknown>,
  path: Path,
  known: readonly string[],
  say: Say,
): boolean {
  let clean = true;
  for (const key of Object.keys(entry)) {
    if (known.includes(key)) continue;
    clean = false;
    const hint = didYouMean(key, known) ?? `known here are ${known.join(', ')}`;
    say('unknown-key', [...path, key], `unknown key ${shown(key)}`, hint, true);
  }
  return clean;
}

function sayDuplicates(data: unknown, say: Say): void {
  const entries = isObject(data) && Array.isArray(data.readings) ? data.readings : [];
  for (const key of ['patch', 'measurement']) {
    const seen = new Map<unknown, number>();
    for (const [k, entry] of entries.entries()) {
      const name: unknown = isObject(entry) ? entry[key] : undefined;
      if (name === undefined) continue;
      const before = seen.get(name);
      if (before === undefined) seen.set(name, k);
      else
        say(
          'duplicate-id',
          ['readings', k, key],
          `${key} ${shown(name)} is read twice: entry ${before + 1} has it already`,
          'keep one: for repeats, their mean, with its `uncertainty`',
        );
    }
  }
}

const pathText = (path: Path): string =>
  path.reduce<string>(
    (text, step) => (typeof step === 'number' ? `${text}[${step}]` : text ? `${text}.${step}` : step),
    '',
  );

function kindOf(value: unknown): string {
  if (value === null) return 'empty';
  if (Array.isArray(value)) return 'a list';
  return typeof value === 'object' ? 'a mapping' : shown(value);
}

function shown(value: unknown): string {
  const text = typeof value === 'string' ? value : (JSON.stringify(value) ?? String(value));
  return `\`${text.length > 60 ? `${text.slice(0, 60)}…` : text}\``;
}
