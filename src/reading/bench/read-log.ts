/**
 * The log of an alignment, YAML, to what it says, or to findings with their places:
 *
 *     serial: H-0042                  # of the hologram
 *     date: 2026-01-31
 *     operator: A. Operator
 *     camera: {turned: 90}            # as in a readings file, for all rounds whose readings do not say
 *     temperature: 20.4               # °C, or a text with a unit; pressure in Pa or with a unit
 *     session: session.yml            # of `steer`: its rounds are those before clamping, and those marked as after it
 *     before: before.readings.yml     # a readings file, or the readings themselves
 *     clamped: [{patch: north-1, fringes: 0.1}]
 *     reseated: reseated.readings.yml
 *     steps: [{step: hologram, at: "09:10"}, {step: clamp, at: "10:05", note: second try}]
 *     remarks: [one, another]
 *
 * Times and dates are texts as they were written down.
 */
import { byPlace, errorFinding, type Finding, pathText } from '../../finding/finding.ts';
import type { AlignmentLog, LoggedRound } from '../../scenario/alignment-log.ts';
import type { ScenarioHashes } from '../../scenario/bench-session.ts';
import { ROUNDS, type RoundName } from '../../scenario/round-name.ts';
import { isObject } from '../yaml/field.ts';
import { parseYaml } from '../yaml/parse-yaml.ts';
import { shown, typeOf } from '../yaml/values.ts';
import { cameraOf } from './camera-entry.ts';
import { type Say, unknownKeys } from './entry-values.ts';
import { MOST_LETTERS, measured, remarksOf, stepsOf, wordOf } from './log-entries.ts';
import {
  type RoundContext,
  type RoundPlaces,
  roundFromFile,
  roundInPlace,
  type TextSource,
} from './log-round.ts';
import { readLogSession } from './log-session.ts';

interface ReadLog {
  /** Undefined where there are faults. */
  readonly log?: AlignmentLog;
  /** Of the session, as it is read. */
  readonly sessionText?: string;
  /** Of each round. */
  readonly places: ReadonlyMap<RoundName, RoundPlaces>;
  /** Findings by the text that they have their places in, the log's first. */
  readonly faults: readonly { readonly findings: readonly Finding[]; readonly text?: string }[];
}

const WORDS = { holds: 'log', start: 'start with `serial:`' };
const FORMAT = 'datumlight-log/1';
const NAMES = ['serial', 'part', 'operator', 'witness'] as const;
const KEYS = [
  'format',
  'date',
  ...NAMES,
  ...ROUNDS,
  'session',
  'temperature',
  'pressure',
  'camera',
  'remarks',
  'steps',
];

export interface LogContext extends RoundContext {
  /** What the log names, looked for beside it. */
  readonly files: TextSource;
  /** Of the scenario, whose session it has to be. */
  readonly hashes: ScenarioHashes;
  /** A session named beside the log, and not in it. */
  readonly session?: { readonly name: string; readonly text: string } | undefined;
}

export function readLog(text: string, file: string, context: LogContext): ReadLog {
  const { scenario, files } = context;
  const { findings: yaml, data, places } = parseYaml(text, file, WORDS);
  if (data === undefined) return { places: new Map(), faults: [{ findings: yaml, text }] };
  const findings: Finding[] = [...yaml];
  const elsewhere: { readonly findings: readonly Finding[]; readonly text?: string }[] = [];
  const say: Say = (rule, path, message, hint, atKey = false) => {
    const place = atKey ? places.ofKey(path) : places.ofValue(path);
    findings.push(errorFinding(rule, pathText(path, file), message, hint, place));
    return undefined;
  };
  const roundPlaces = new Map<RoundName, RoundPlaces>();
  let sessionText: string | undefined;
  const done = (log?: AlignmentLog): ReadLog => {
    const own = findings.length > 0 ? [{ findings: byPlace(findings), text }] : [];
    const faults = [...own, ...elsewhere];
    return {
      ...(faults.length > 0 || log === undefined ? {} : { log }),
      ...(sessionText === undefined ? {} : { sessionText }),
      ...{ places: roundPlaces, faults },
    };
  };
  if (!isObject(data)) {
    say('wrong-type', [], `the file is ${typeOf(data)}`, WORDS.start);
    return done();
  }
  unknownKeys(data, [], KEYS, say);
  if (data.format !== undefined && data.format !== FORMAT)
    say('bad-value', ['format'], `\`format\` is ${shown(data.format)}`, `expected \`${FORMAT}\``);
  const camera = cameraOf(data.camera, ['camera'], say);
  const ofRounds = {
    ...context,
    orient: (told: typeof camera) => context.orient({ ...camera, ...told }),
  };
  const ofLog = ROUNDS.flatMap((round): LoggedRound[] => {
    const value = data[round];
    if (value === undefined) return [];
    if (typeof value !== 'string' && !isObject(value) && !Array.isArray(value)) {
      say(
        'wrong-type',
        [round],
        `\`${round}\` is ${typeOf(value)}`,
        'name a readings file, or give a list of readings',
      );
      return [];
    }
    const read =
      typeof value === 'string'
        ? roundFromFile(round, value, files, ofRounds)
        : roundInPlace(round, value, [round], ofRounds, (path) => places.ofValue(path));
    if ('round' in read) {
      roundPlaces.set(round, { text: read.text ?? text, placeOf: read.placeOf });
      return [read.round];
    }
    if (typeof value !== 'string') findings.push(...read.findings);
    else if (read.text !== undefined) elsewhere.push({ findings: read.findings, text: read.text });
    else
      for (const { rule, message, hint } of read.findings)
        findings.push(errorFinding(rule, `${round}: ${value}`, message, hint, places.ofValue([round])));
    return [];
  });
  const named = sessionNamed(data.session, context, say);
  sessionText = named?.text;
  const session = named && readLogSession(named.text, named.name, scenario, context.hashes);
  if (session !== undefined && session.findings.length > 0)
    elsewhere.push({ findings: session.findings, text: named!.text });
  for (const [round, place] of session?.places ?? []) {
    if (data[round] !== undefined)
      say('conflicting-keys', [round], `\`${round}\` is in the session ${named!.name} too`, HINT_TWICE, true);
    roundPlaces.set(round, place);
  }
  const rounds = ROUNDS.flatMap((round) =>
    [...ofLog, ...(session?.logged ?? [])].filter((one) => one.round === round),
  );
  if (session?.findings.length === 0 && session.rounds.length === 0)
    say(
      'missing-key',
      ['session'],
      `the session ${named!.name} has no rounds`,
      'add one with `steer --session`',
    );
  else if (
    named === undefined &&
    data.session === undefined &&
    ROUNDS.every((round) => data[round] === undefined)
  )
    say(
      'missing-key',
      [],
      'the log has no readings',
      `add ${ROUNDS.map((round) => `\`${round}:\``).join(', ')}, or \`session:\``,
    );
  const date = wordOf(data.date, ['date'], MOST_LETTERS, say);
  if (data.date === undefined)
    say('missing-key', [], 'the log has no `date`', 'add the day of the alignment, e.g. `date: 2026-01-31`');
  const [serial, part, operator, witness] = NAMES.map((key) => wordOf(data[key], [key], MOST_LETTERS, say));
  const air = (key: 'temperature' | 'pressure'): number | undefined => measured(data[key], key, say);
  return done({
    ...{ serial, part, operator, witness, date: date ?? '' },
    temperature: air('temperature'),
    pressure: air('pressure'),
    remarks: remarksOf(data.remarks, say),
    steps: stepsOf(data.steps, say),
    ...(session === undefined ? {} : { session: { file: named!.name, rounds: session.rounds } }),
    rounds,
  });
}

const HINT_TWICE = 'remove one of the two';

/** The session that the log names, or that is named beside it. */
function sessionNamed(value: unknown, { files, session }: LogContext, say: Say): LogContext['session'] {
  if (value === undefined) return session;
  if (session !== undefined)
    return say(
      'conflicting-keys',
      ['session'],
      `the log names a session, and so does --session: ${session.name}`,
      HINT_TWICE,
    );
  if (typeof value !== 'string')
    return say(
      'wrong-type',
      ['session'],
      `\`session\` is ${typeOf(value)}`,
      'name the file of `steer --session`',
    );
  const found = files(value);
  if ('finding' in found) {
    return say(
      'unreadable-file',
      ['session'],
      found.finding.message,
      'give the file’s name as seen from the log',
    );
  }
  return { name: value, text: found.text };
}
