/**
 * The readings of one round, for an alignment's log and its record: from a file of readings, from a list in place, from a session, or from
 * what a record holds of them. All rounds are read here.
 */
import { errorFinding, type Finding, type Path, pathText } from '../../finding/finding.ts';
import type { LoggedRound } from '../../scenario/alignment-log.ts';
import { SESSION_FORMAT, type SessionRound } from '../../scenario/bench-session.ts';
import { type CameraOrientation, PLAIN_ORIENTATION } from '../../scenario/camera-orientation.ts';
import type { RoundName } from '../../scenario/round-name.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { isObject } from '../yaml/field.ts';
import type { PlaceFinder } from '../yaml/place-finder.ts';
import { readReadings } from './read-readings.ts';

/** What a log names, as text, or why there is none. */
export type TextSource = (name: string) => { readonly text: string } | { readonly finding: Finding };

/** What readings are read with. */
export interface RoundContext {
  readonly scenario: Scenario;
  /** Ids of the patches in the order of their numbers on the sheet, from 1. */
  readonly numbered: readonly string[];
  /** The camera's orientation from what the readings say of it. */
  readonly orient: (told: Partial<CameraOrientation>) => CameraOrientation;
}

/** Where the readings stand: the text, and the place in it of a path of a readings file. */
export interface RoundPlaces {
  readonly text: string;
  readonly placeOf: PlaceFinder;
}

type ReadRound =
  | { readonly round: LoggedRound; readonly placeOf: PlaceFinder; readonly text: string | undefined }
  /** `text`: that in which the findings have their places. */
  | { readonly findings: readonly Finding[]; readonly text: string | undefined };

/** A file that keeps a session says so in a line of its own. */
const SESSION = new RegExp(`^\\s*"?format"?: *["']?${SESSION_FORMAT}["']?,?\\s*$`, 'm');

/** The file of readings called `name`. */
export function roundFromFile(
  round: RoundName,
  name: string,
  files: TextSource,
  context: RoundContext,
): ReadRound {
  const file = files(name);
  if ('finding' in file) return { findings: [file.finding], text: undefined };
  if (SESSION.test(file.text)) {
    const hint = 'name it with `session:`, or with --session';
    return {
      findings: [errorFinding('bad-value', name, `${name} is a session, not readings`, hint)],
      text: undefined,
    };
  }
  const { readings, entries, camera, findings, places } = readReadings(
    file.text,
    name,
    context.scenario,
    context.numbered,
  );
  if (readings === undefined) return { findings, text: file.text };
  return {
    round: { round, file: name, ...asKept(entries, context.orient(camera), context.scenario) },
    placeOf: places,
    text: file.text,
  };
}

/** Readings that stand at `path` of a log: a list, or a mapping as a readings file is one; `found` finds them in the log. */
export function roundInPlace(
  round: RoundName,
  value: unknown,
  path: Path,
  context: RoundContext,
  found: PlaceFinder,
): ReadRound {
  const isList = Array.isArray(value);
  const data = isList ? { readings: value } : value;
  const { readings, entries, camera, findings, indexOf } = readReadings(
    asText(data),
    pathText(path, ''),
    context.scenario,
    context.numbered,
  );
  const whole = (inner: Path): Path => [...path, ...(isList ? inner.slice(1) : inner)];
  if (readings !== undefined)
    return {
      round: { round, file: undefined, ...asKept(entries, context.orient(camera), context.scenario) },
      placeOf: ([head, k, ...rest]) =>
        found(whole(typeof k === 'number' ? [head!, indexOf(k), ...rest] : head === undefined ? [] : [head])),
      text: undefined,
    };
  const moved = findings.map(({ rule, message, hint, path: inner = [] }) =>
    errorFinding(rule, pathText(whole(inner), ''), message, hint, found(whole(inner))),
  );
  return { findings: moved, text: undefined };
}

/** Round `index` of a session, from 0, whose file is called `file`. Findings have the paths of the session. */
export function roundFromSession(
  { moment, camera, written }: SessionRound,
  index: number,
  file: string,
  scenario: Scenario,
): { readonly round: LoggedRound } | { readonly findings: readonly Finding[] } {
  const entries = isObject(written) && Array.isArray(written.readings) ? written.readings : [];
  const { readings, findings } = readReadings(asText({ readings: entries }), file, scenario);
  const round = { round: moment, file, sessionRound: index + 1 };
  if (readings !== undefined) return { round: { ...round, ...asKept(entries, camera, scenario) } };
  return {
    findings: findings.map(({ rule, message, hint, path = [] }) => {
      const whole = ['rounds', index, ...path];
      return { ...errorFinding(rule, pathText(whole, ''), message, hint), path: whole };
    }),
  };
}

/** Readings as a record holds them: undefined where they are none. */
export function roundFromRecord(
  round: RoundName,
  file: string | undefined,
  given: unknown,
  scenario: Scenario,
): LoggedRound | undefined {
  const { readings, camera: told } = readReadings(asText(given), 'record', scenario);
  if (readings === undefined || !isObject(given)) return undefined;
  const camera = { ...PLAIN_ORIENTATION, ...told };
  return { round, file, given: { ...given, camera }, camera, readings };
}

/** The values as JSON holds them: what a record keeps of them gives the same figures again. */
function asKept(
  entries: readonly unknown[],
  camera: CameraOrientation,
  scenario: Scenario,
): Pick<LoggedRound, 'readings' | 'camera' | 'given'> {
  const { readings } = readReadings(asText({ readings: entries }), '', scenario);
  return { given: { readings: entries, camera }, camera, readings: readings! };
}

/** JSON is YAML. A number without end has no JSON: it stays what the reader refuses. */
const asText = (data: unknown): string =>
  JSON.stringify(data, (_, value: unknown) =>
    typeof value === 'number' && !Number.isFinite(value) ? String(value) : value,
  ) ?? 'null';
