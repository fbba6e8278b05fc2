/**
 * The bench's readings, YAML, to a list, or to findings with their places:
 *
 *     readings:
 *       - {patch: north-1, fringes: 1.3}
 *       - {patch: ball-1, fringes: [0.4, -1.2], power: 0.3}
 *       - {patch: east-1, fringes: 2, sign: unknown}
 *       - {patch: ball-2, fringes: [0.4, -1.2], or: [-4.4, 1.2]}
 *       - {measurement: spacer, deviation_um: -12}
 *       - {patch: ball-1, fringes: 1.3, toward: 9}
 *       - {patch: main, fringes: [0.8, -1.5], power: 0.4, coma: [0.1, 0]}
 *     camera: {view: interferometer, turned: 90, mirrored: false}
 *
 * Fringes are signed along the patch's `senses`: positive where the reference is displaced along + that direction, and counted
 * beyond what the design place shows. A point focus takes a list of two, its two tilts, and `power`; a line focus one number.
 * With `toward` it is one number, as seen: so many fringes, the path of the return falling toward that hour on the clock in the camera's
 * picture, which is turned as `camera` says (camera-entry.ts).
 */
import { byPlace, errorFinding, type Finding, pathText } from '../../finding/finding.ts';
import { didYouMean } from '../../quantity/nearest-name.ts';
import type { BenchReading } from '../../scenario/bench-reading.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { isObject } from '../yaml/field.ts';
import { parseYaml } from '../yaml/parse-yaml.ts';
import type { PlaceFinder } from '../yaml/place-finder.ts';
import { shown, typeOf } from '../yaml/values.ts';
import { entryOf } from './bench-entry.ts';
import { cameraOf } from './camera-entry.ts';
import { type Say, unknownKeys } from './entry-values.ts';
import { isReadingsTable, readingsTable } from './readings-table.ts';

interface ReadReadings {
  /** Undefined where `findings` is not empty. */
  readonly readings?: readonly BenchReading[];
  /** The entry of each reading as it was given, a patch by its id, values that were not read left out. */
  readonly entries: readonly unknown[];
  /** What the file says of the camera. */
  readonly camera: Partial<CameraOrientation>;
  /** In the order of the file, each with its place. */
  readonly findings: readonly Finding[];
  /** Where a path of the file stands in its text. */
  readonly places: PlaceFinder;
  /** Which entry of the file a reading is of. */
  readonly indexOf: (reading: number) => number;
}

/** Readings in one file; a design has fewer patches by far. */
const MOST_READINGS = 20_000;

const WORDS = { holds: 'readings', start: 'start with `readings:`' };
const TOP = ['readings', 'camera', 'format'];

/** `numbered`: ids of the patches in the order of their numbers on the sheet, from 1; a patch may be named by its number. */
export function readReadings(
  text: string,
  file: string,
  scenario: Scenario,
  numbered: readonly string[] = [],
): ReadReadings {
  const {
    findings: yaml,
    data,
    places,
  } = isReadingsTable(text) ? fromTable(text, file) : parseYaml(text, file, WORDS);
  // Of the readings as they are handed on, without the entries that are blank.
  const filled: number[] = [];
  const indexOf = (reading: number): number => filled[reading] ?? reading;
  const finder: PlaceFinder = ([head, k, ...rest]) =>
    places.ofValue(
      head === 'readings' && typeof k === 'number'
        ? [head, indexOf(k), ...rest]
        : [head, k, ...rest].filter((step) => step !== undefined),
    );
  if (data === undefined) return { entries: [], camera: {}, findings: yaml, places: finder, indexOf };
  const findings: Finding[] = [...yaml];
  const say: Say = (rule, path, message, hint, atKey = false) => {
    const place = atKey ? places.ofKey(path) : places.ofValue(path);
    findings.push({ ...errorFinding(rule, pathText(path, file), message, hint, place), path });
    return undefined;
  };
  const entries = listOf(data, say).map((entry) => filledIn(withId(entry, scenario, numbered)));
  const readings = entries.flatMap((entry, k): BenchReading[] => {
    if (entry === undefined) return [];
    filled.push(k);
    const read = entryOf(entry, ['readings', k], scenario, say);
    return read === undefined ? [] : [read];
  });
  if (entries.length > 0 && entries.every((entry) => entry === undefined))
    say(
      'missing-key',
      ['readings'],
      'no reading is filled in',
      'write a count in place of `~` where one was read',
    );
  sayDuplicates(entries, say);
  const camera = isObject(data) ? cameraOf(data.camera, ['camera'], say) : {};
  const sorted = byPlace(findings);
  return {
    ...(sorted.length > 0 ? {} : { readings }),
    entries: entries.filter((entry) => entry !== undefined),
    ...{ camera, findings: sorted, places: finder, indexOf },
  };
}

function listOf(data: unknown, say: Say): readonly unknown[] {
  if (!isObject(data)) {
    say('wrong-type', [], `the file is ${typeOf(data)}`, WORDS.start);
    return [];
  }
  unknownKeys(data, [], TOP, say);
  if (data.format !== undefined && data.format !== FORMAT)
    say('bad-value', ['format'], `\`format\` is ${shown(data.format)}`, `expected \`${FORMAT}\``);
  const { readings } = data;
  if (readings === undefined) {
    const hint = 'add a list, e.g. `readings: [{patch: north-1, fringes: 1.3}]`';
    if (Object.keys(data).every((key) => didYouMean(key, ['readings']) === undefined))
      say('missing-key', [], 'the file has no `readings`', hint);
    return [];
  }
  if (!Array.isArray(readings)) {
    say('wrong-type', ['readings'], `\`readings\` is ${typeOf(readings)}`, 'expected a list of readings');
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

/** A table as the YAML of the same entries. */
function fromTable(text: string, file: string) {
  const { entries, findings, place } = readingsTable(text, file);
  const data: unknown = findings.length > 0 ? undefined : { readings: entries };
  return { findings, data, places: { ofValue: place, ofKey: place } };
}

/** The entry with its patch by id where it is given by number; an id goes first. */
function withId(entry: unknown, { patches }: Scenario, numbered: readonly string[]): unknown {
  if (!isObject(entry) || !/^\d+$/.test(String(entry.patch))) return entry;
  const name = String(entry.patch);
  const id = patches.some((patch) => patch.id === name) ? name : numbered[Number(name) - 1];
  return id === undefined ? entry : { ...entry, patch: id };
}

/** What the values of an entry stand under; `~` for one that was not read. */
const VALUES = ['fringes', 'power', 'coma', 'deviation_um'];

const isUnread = (value: unknown): boolean =>
  Array.isArray(value) ? value.length > 0 && value.every((one) => one === null) : value === null;

/** Without the values that were not read; undefined where none was. */
function filledIn(entry: unknown): unknown {
  if (!isObject(entry)) return entry;
  const unread = VALUES.filter((key) => key in entry && isUnread(entry[key]));
  if (unread.length === 0) return entry;
  const rest = Object.fromEntries(Object.entries(entry).filter(([key]) => !unread.includes(key)));
  return [...VALUES, 'waves'].some((key) => rest[key] !== undefined) ? rest : undefined;
}

function sayDuplicates(entries: readonly unknown[], say: Say): void {
  for (const key of ['patch', 'measurement']) {
    const seen = new Map<unknown, number>();
    for (const [k, entry] of entries.entries()) {
      const name: unknown = isObject(entry) ? entry[key] : undefined;
      if (name === undefined) continue;
      const before = seen.get(name);
      if (before === undefined) {
        seen.set(name, k);
        continue;
      }
      const message = `${key} ${shown(name)} is read twice: it is already in entry ${before + 1}`;
      const hint = 'keep one; for repeated readings, give their mean with its `uncertainty`';
      say('duplicate-id', ['readings', k, key], message, hint);
    }
  }
}
