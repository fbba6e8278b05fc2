/**
 * The readings of one round, for an alignment's log and its record: from a file of readings, from a list in place, or from what a record
 * holds of them. All rounds are read here.
 */
import { errorFinding, type Finding, type Path, pathText } from '../../finding/finding.ts';
import type { LoggedRound, RoundName } from '../../scenario/alignment-log.ts';
import { type CameraOrientation, PLAIN_ORIENTATION } from '../../scenario/camera-orientation.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { isObject } from '../yaml/field.ts';
import { parseYaml } from '../yaml/parse-yaml.ts';
import type { PlaceFinder } from '../yaml/place-finder.ts';
import { readReadings } from './read-readings.ts';

/** What a log names, as text, or why there is none. */
export type TextSource = (name: string) => { readonly text: string } | { readonly finding: Finding };

/** Where the readings stand: the text, and the place in it of a path of a readings file. */
export interface RoundPlaces {
  readonly text: string;
  readonly placeOf: PlaceFinder;
}

type ReadRound =
  | { readonly round: LoggedRound; readonly placeOf: PlaceFinder; readonly text: string | undefined }
  /** `text`: that in which the findings have their places. */
  | { readonly findings: readonly Finding[]; readonly text: string | undefined };

/** The file of readings called `name`. */
export function roundFromFile(
  round: RoundName,
  name: string,
  files: TextSource,
  scenario: Scenario,
  camera: Partial<CameraOrientation>,
): ReadRound {
  const file = files(name);
  if ('finding' in file) return { findings: [file.finding], text: undefined };
  const { readings, findings } = readReadings(file.text, name, scenario);
  if (readings === undefined) return { findings, text: file.text };
  const { data, places } = parseYaml(file.text, name);
  return {
    round: { round, file: name, ...asGiven(data, scenario, camera) },
    placeOf: (path) => places.ofValue(path),
    text: file.text,
  };
}

/** Readings that stand at `path` of a log: a list, or a mapping as a readings file is one; `places` finds them in the log. */
export function roundInPlace(
  round: RoundName,
  value: unknown,
  path: Path,
  scenario: Scenario,
  camera: Partial<CameraOrientation>,
  places: PlaceFinder,
): ReadRound {
  const isList = Array.isArray(value);
  const data = isList ? { readings: value } : value;
  const { readings, findings } = readReadings(asText(data), pathText(path, ''), scenario);
  const whole = (inner: Path): Path => [...path, ...(isList ? inner.slice(1) : inner)];
  if (readings !== undefined)
    return {
      round: { round, file: undefined, ...asGiven(data, scenario, camera) },
      placeOf: (inner) => places(whole(inner)),
      text: undefined,
    };
  const moved = findings.map(({ rule, message, hint, path: inner = [] }) =>
    errorFinding(rule, pathText(whole(inner), ''), message, hint, places(whole(inner))),
  );
  return { findings: moved, text: undefined };
}

/** Readings as a record holds them: undefined where they are none. */
export function roundFromRecord(
  round: RoundName,
  file: string | undefined,
  given: unknown,
  scenario: Scenario,
): LoggedRound | undefined {
  const { readings } = readReadings(asText(given), 'record', scenario);
  return readings === undefined ? undefined : { round, file, ...asGiven(given, scenario, {}) };
}

/** The values as JSON holds them: what a record keeps of them gives the same figures again. */
function asGiven(
  data: unknown,
  scenario: Scenario,
  usual: Partial<CameraOrientation>,
): Pick<LoggedRound, 'readings' | 'camera' | 'given'> {
  const { format: _, ...rest } = isObject(data) ? data : {};
  const { readings, camera } = readReadings(asText(rest), '', scenario);
  const whole = { ...PLAIN_ORIENTATION, ...usual, ...camera };
  return { given: { ...rest, camera: whole }, camera: whole, readings: readings! };
}

/** JSON is YAML. A number without end has no JSON: it stays what the reader refuses. */
const asText = (data: unknown): string =>
  JSON.stringify(data, (_, value: unknown) =>
    typeof value === 'number' && !Number.isFinite(value) ? String(value) : value,
  ) ?? 'null';
