/**
 * A session file, YAML or JSON, to the rounds that it keeps, or to findings with their places. The program writes it (see
 * writing/session); a person may have changed it since, so that each value is checked as one that a person wrote.
 */
import { byPlace, errorFinding, type Finding, type Path, pathText } from '../../finding/finding.ts';
import { MM_PER_UM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import {
  type AskedMoves,
  type BenchSession,
  type ScenarioHashes,
  SESSION_FORMAT,
  type SessionRound,
} from '../../scenario/bench-session.ts';
import { PLAIN_ORIENTATION } from '../../scenario/camera-orientation.ts';
import type { Vec3 } from '../../scenario/placing.ts';
import { ROUNDS, type RoundName } from '../../scenario/round-name.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { isObject } from '../yaml/field.ts';
import { parseYaml } from '../yaml/parse-yaml.ts';
import { shown, typeOf } from '../yaml/values.ts';
import { entryOf } from './bench-entry.ts';
import { cameraOf } from './camera-entry.ts';
import { numberOf, type Say, unknownKeys } from './entry-values.ts';

interface ReadSession {
  /** Undefined where `findings` is not empty. */
  readonly session?: BenchSession;
  /** In the order of the file, each with its place. */
  readonly findings: readonly Finding[];
}

const WORDS = { holds: 'session', start: 'let `steer --session` begin a new file' };
const TOP = ['format', 'scenario', 'rounds'];
const ROUND = ['round', 'moment', 'camera', 'readings', 'found', 'asked', 'confirmed', 'settled', 'setAside'];
const ASKED = ['fraction', 'hologram', 'part', 'references', 'screws'];
/** More rounds than anyone reads, and moves of more than ten metres or radians, are slips of the pen. */
const MOST_ROUNDS = 1000;
const LARGEST_MOVE = 1e7;

/** `now`: the hashes of the scenario that the session goes on with; another one is refused. */
export function readSession(
  text: string,
  file: string,
  scenario: Scenario,
  now: ScenarioHashes,
): ReadSession {
  const { findings: yaml, data, places } = parseYaml(text, file, WORDS);
  if (data === undefined) return { findings: yaml };
  const findings: Finding[] = [...yaml];
  const say: Say = (rule, path, message, hint, atKey = false) => {
    const place = atKey ? places.ofKey(path) : places.ofValue(path);
    findings.push({ ...errorFinding(rule, pathText(path, file), message, hint, place), path });
    return undefined;
  };
  if (!isObject(data) || data.format !== SESSION_FORMAT) {
    const what = isObject(data) ? `\`format\` is ${shown(data.format)}` : `the file is ${typeOf(data)}`;
    say(
      'bad-value',
      isObject(data) ? ['format'] : [],
      what,
      `expected a session, \`format: ${SESSION_FORMAT}\``,
    );
    return { findings };
  }
  unknownKeys(data, [], TOP, say);
  const hashes = hashesOf(data.scenario, say);
  if (hashes !== undefined) sayChanged(hashes, now, say);
  // Readings of another scenario would only be said to be wrong.
  if (findings.length > 0) return { findings: byPlace(findings) };
  const rounds = listOf(data.rounds, ['rounds'], MOST_ROUNDS, say).flatMap((round, k) =>
    roundOf(round, ['rounds', k], scenario, say),
  );
  const sorted = byPlace(findings);
  return {
    ...(sorted.length > 0 || hashes === undefined ? {} : { session: { scenario: hashes, rounds } }),
    findings: sorted,
  };
}

function hashesOf(given: unknown, say: Say): ScenarioHashes | undefined {
  const { sha256, files = {} } = isObject(given) ? given : {};
  const isWhole =
    typeof sha256 === 'string' &&
    isObject(files) &&
    Object.values(files).every((hash) => typeof hash === 'string');
  if (isWhole) return { sha256, files: files as Record<string, string> };
  const hint = 'take the file as `steer --session` wrote it, or begin a new one';
  return say('bad-value', ['scenario'], '`scenario` does not say which scenario the session is of', hint);
}

function sayChanged(was: ScenarioHashes, now: ScenarioHashes, say: Say): void {
  const names = [...new Set([...Object.keys(was.files), ...Object.keys(now.files)])].sort();
  const changed = names.filter((name) => was.files[name] !== now.files[name]);
  const things = [...(was.sha256 === now.sha256 ? [] : ['the scenario']), ...changed.map(shown)];
  if (things.length === 0) return;
  const message = `${things.join(' and ')} changed since the session began: its moves belong to another design`;
  say(
    'scenario-changed',
    ['scenario'],
    message,
    'go on with the scenario as it was, or begin a new session file',
  );
}

function listOf(given: unknown, path: Path, most: number, say: Say): readonly unknown[] {
  if (!Array.isArray(given)) {
    const name = String(path.at(-1));
    if (given === undefined)
      say('missing-key', path.slice(0, -1), `\`${name}\` is missing`, 'expected a list');
    else say('wrong-type', path, `\`${name}\` is ${typeOf(given)}`, 'expected a list');
    return [];
  }
  if (given.length <= most) return given;
  say('too-many', path, `${given.length} entries`, `at most ${most}`);
  return [];
}

function roundOf(given: unknown, path: Path, scenario: Scenario, say: Say): readonly SessionRound[] {
  if (!isObject(given)) {
    say('wrong-type', path, `a round is ${typeOf(given)}`, 'expected {readings: […], asked: …}');
    return [];
  }
  unknownKeys(given, path, ROUND, say);
  const at = [...path, 'readings'];
  const readings = listOf(given.readings, at, MOST_READINGS, say).flatMap((entry, k) => {
    const read = entryOf(entry, [...at, k], scenario, say);
    return read === undefined ? [] : [read];
  });
  const isTrue = (key: string): boolean => {
    const value = given[key] ?? false;
    if (typeof value !== 'boolean')
      say('wrong-type', [...path, key], `\`${key}\` is ${typeOf(value)}`, 'expected true or false');
    return value === true;
  };
  return [
    {
      moment: momentOf(given.moment, [...path, 'moment'], say),
      readings,
      camera: { ...PLAIN_ORIENTATION, ...cameraOf(given.camera, [...path, 'camera'], say) },
      setAside: namesOf(given.setAside, [...path, 'setAside'], say),
      asked: askedOf(given.asked, [...path, 'asked'], scenario, say),
      confirmed: isTrue('confirmed'),
      settled: namesOf(given.settled, [...path, 'settled'], say),
      written: given,
    },
  ];
}

const MOST_READINGS = 20_000;

/** Left out of a round that was read while the part was being moved. */
function momentOf(given: unknown, path: Path, say: Say): RoundName {
  if (given === undefined) return 'before';
  const moment = ROUNDS.find((one) => one === given);
  if (moment !== undefined) return moment;
  say('bad-value', path, `\`moment\` is ${shown(given)}`, `expected ${ROUNDS.join(', ')}`);
  return 'before';
}

function namesOf(given: unknown, path: Path, say: Say): readonly string[] {
  if (given === undefined) return [];
  if (Array.isArray(given) && given.every((name) => typeof name === 'string')) return given;
  say('wrong-type', path, `\`${String(path.at(-1))}\` is ${typeOf(given)}`, 'expected a list of names');
  return [];
}

function askedOf(given: unknown, path: Path, scenario: Scenario, say: Say): AskedMoves | undefined {
  if (given === undefined || given === null) return undefined;
  if (!isObject(given))
    return say('wrong-type', path, `\`asked\` is ${typeOf(given)}`, 'expected the moves, or null');
  unknownKeys(given, path, ASKED, say);
  const fraction = numberOf(given.fraction ?? 1, [...path, 'fraction'], 1, say) ?? 1;
  const references = new Map<string, Vec3>();
  for (const [id, move] of Object.entries(isObject(given.references) ? given.references : {})) {
    const at = [...path, 'references', id];
    if (!scenario.references.some((one) => one.id === id))
      say(
        'unknown-name',
        at,
        `the scenario has no reference ${shown(id)}`,
        'take the file as it was written',
        true,
      );
    references.set(id, threeOf(move, 'move_um', ['x', 'y', 'z'], MM_PER_UM, at, say));
  }
  const rigid = (key: 'hologram' | 'part'): AskedMoves['part'] => {
    const move = given[key];
    if (!isObject(move)) return undefined;
    const at = [...path, key];
    return {
      translation: threeOf(move, 'move_um', ['x', 'y', 'z'], MM_PER_UM, at, say),
      rotation: threeOf(move, 'move_urad', ['rx', 'ry', 'rz'], 1 / URAD_PER_RAD, at, say),
    };
  };
  return { fraction, hologram: rigid('hologram'), part: rigid('part'), references };
}

function threeOf(
  given: unknown,
  key: string,
  axes: readonly string[],
  factor: number,
  path: Path,
  say: Say,
): Vec3 {
  const at = [...path, key];
  const move = isObject(given) ? given[key] : undefined;
  if (!isObject(move)) {
    say('wrong-type', at, `\`${key}\` is ${typeOf(move)}`, `expected {${axes.join(': 0, ')}: 0}`);
    return [0, 0, 0];
  }
  unknownKeys(move, at, axes, say);
  const [a, b, c] = axes.map(
    (axis) => (numberOf(move[axis], [...at, axis], LARGEST_MOVE, say) ?? 0) * factor,
  );
  return [a!, b!, c!];
}
