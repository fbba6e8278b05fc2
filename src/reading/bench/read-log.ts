/**
 * The log of an alignment, YAML, to what it says, or to findings with their places:
 *
 *     serial: H-0042                  # of the hologram
 *     date: 2026-01-31
 *     operator: A. Operator
 *     camera: {turned: 90}            # as in a readings file, for all rounds whose readings do not say
 *     temperature: 20.4               # °C, or a text with a unit; pressure in Pa or with a unit
 *     before: before.readings.yml     # a readings file, or the readings themselves
 *     clamped: [{patch: north-1, fringes: 0.1}]
 *     reseated: reseated.readings.yml
 *     steps: [{step: hologram, at: "09:10"}, {step: part, at: "10:05", note: second try}]
 *     remarks: [one, another]
 *
 * Times and dates are texts as they were written down.
 */
import { byPlace, errorFinding, type Finding, type Path, pathText } from '../../finding/finding.ts';
import { evaluateQuantity } from '../../quantity/evaluate.ts';
import {
  type AlignmentLog,
  type LoggedRound,
  type LoggedStep,
  ROUNDS,
  type RoundName,
} from '../../scenario/alignment-log.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { isObject } from '../yaml/field.ts';
import { parseYaml } from '../yaml/parse-yaml.ts';
import { shown, typeOf } from '../yaml/values.ts';
import { cameraOf } from './camera-entry.ts';
import { type Say, unknownKeys } from './entry-values.ts';
import { type RoundPlaces, roundFromFile, roundInPlace, type TextSource } from './log-round.ts';

interface ReadLog {
  /** Undefined where there are faults. */
  readonly log?: AlignmentLog;
  /** Of each round. */
  readonly places: ReadonlyMap<RoundName, RoundPlaces>;
  /** Findings by the text that they have their places in, the log's first. */
  readonly faults: readonly { readonly findings: readonly Finding[]; readonly text?: string }[];
}

const WORDS = { holds: 'log', start: 'start with `serial:`' };
const FORMAT = 'datumlight-log/1';
const NAMES = ['serial', 'part', 'operator', 'witness'] as const;
const KEYS = ['format', 'date', ...NAMES, 'temperature', 'pressure', 'camera', 'remarks', 'steps', ...ROUNDS];
const STEP_KEYS = ['step', 'at', 'by', 'note'];

/** Letters of a name or a time, and of a remark. */
const MOST_LETTERS = 120;
const MOST_WORDS = 2000;
const MOST_REMARKS = 100;
const MOST_STEPS = 200;

/** °C and Pa: wider than any laboratory. */
const RANGES = { temperature: [-40, 100], pressure: [10e3, 140e3] } as const;
const UNITS = { temperature: '°C', pressure: 'Pa' } as const;

export function readLog(text: string, file: string, scenario: Scenario, files: TextSource): ReadLog {
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
  const done = (log?: AlignmentLog): ReadLog => {
    const own = findings.length > 0 ? [{ findings: byPlace(findings), text }] : [];
    const faults = [...own, ...elsewhere];
    return { ...(faults.length > 0 || log === undefined ? {} : { log }), places: roundPlaces, faults };
  };
  if (!isObject(data)) {
    say('wrong-type', [], `the file is ${typeOf(data)}`, WORDS.start);
    return done();
  }
  unknownKeys(data, [], KEYS, say);
  if (data.format !== undefined && data.format !== FORMAT)
    say('bad-value', ['format'], `\`format\` is ${shown(data.format)}`, `expected \`${FORMAT}\``);
  const camera = cameraOf(data.camera, ['camera'], say);
  const rounds = ROUNDS.flatMap((round): LoggedRound[] => {
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
        ? roundFromFile(round, value, files, scenario, camera)
        : roundInPlace(round, value, [round], scenario, camera, (path) => places.ofValue(path));
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
  if (ROUNDS.every((round) => data[round] === undefined))
    say(
      'missing-key',
      [],
      'the log has no readings',
      `add ${ROUNDS.map((round) => `\`${round}:\``).join(', ')}`,
    );
  const date = wordOf(data.date, ['date'], MOST_LETTERS, say);
  if (data.date === undefined)
    say('missing-key', [], 'the log has no `date`', 'add the day of the alignment, e.g. `date: 2026-01-31`');
  const [serial, part, operator, witness] = NAMES.map((key) => wordOf(data[key], [key], MOST_LETTERS, say));
  const air = (key: keyof typeof RANGES): number | undefined => measured(data[key], key, say);
  return done({
    ...{ serial, part, operator, witness, date: date ?? '' },
    temperature: air('temperature'),
    pressure: air('pressure'),
    remarks: remarksOf(data.remarks, say),
    steps: stepsOf(data.steps, say),
    rounds,
  });
}

/** A text; undefined where it is left out or said to be wrong. A number loses its zeros, as of a serial 0042. */
function wordOf(value: unknown, path: Path, most: number, say: Say): string | undefined {
  if (value === undefined) return undefined;
  const hint = `expected a text of 1 to ${most} characters${typeof value === 'number' ? '; put it in quotes' : ''}`;
  if (typeof value !== 'string')
    return say('wrong-type', path, `\`${path.at(-1)}\` is ${typeOf(value)}`, hint);
  const word = value.trim();
  if (word === '' || word.length > most)
    return say('bad-value', path, `\`${path.at(-1)}\` has ${word.length} characters`, hint);
  return word;
}

function measured(value: unknown, key: keyof typeof RANGES, say: Say): number | undefined {
  if (value === undefined) return undefined;
  const unit = UNITS[key];
  if (typeof value !== 'number' && typeof value !== 'string')
    return say(
      'wrong-type',
      [key],
      `\`${key}\` is ${typeOf(value)}`,
      `expected a number in ${unit}, or a text with a unit`,
    );
  const { value: read, problem } = evaluateQuantity(value, key, new Map());
  if (problem !== undefined) say(problem.code, [key], problem.message, problem.hint);
  if (read === undefined) return undefined;
  const [least, most] = RANGES[key];
  if (read >= least && read <= most) return read;
  return say(
    'out-of-range',
    [key],
    `\`${key}\` is ${shown(value)}`,
    `expected ${least} to ${most} ${unit}; check the unit`,
  );
}

function remarksOf(value: unknown, say: Say): readonly string[] {
  if (value === undefined) return [];
  const list: readonly unknown[] = Array.isArray(value) ? value : [value];
  if (list.length > MOST_REMARKS) {
    say('too-many', ['remarks'], `\`remarks\` has ${list.length} entries`, `at most ${MOST_REMARKS}`);
    return [];
  }
  return list.flatMap(
    (remark, k) => wordOf(remark, Array.isArray(value) ? ['remarks', k] : ['remarks'], MOST_WORDS, say) ?? [],
  );
}

function stepsOf(value: unknown, say: Say): readonly LoggedStep[] {
  if (value === undefined) return [];
  if (!Array.isArray(value)) {
    say(
      'wrong-type',
      ['steps'],
      `\`steps\` is ${typeOf(value)}`,
      'expected a list, e.g. `[{step: hologram, at: "09:10"}]`',
    );
    return [];
  }
  if (value.length > MOST_STEPS) {
    say('too-many', ['steps'], `\`steps\` has ${value.length} entries`, `at most ${MOST_STEPS}`);
    return [];
  }
  return value.flatMap((entry: unknown, k): LoggedStep[] => {
    const path = ['steps', k];
    if (typeof entry === 'string') entry = { step: entry };
    if (!isObject(entry)) {
      say('wrong-type', path, `a step is ${typeOf(entry)}`, 'expected e.g. {step: hologram, at: "09:10"}');
      return [];
    }
    const known = unknownKeys(entry, path, STEP_KEYS, say);
    const word = (key: string, most: number): string | undefined =>
      wordOf(entry[key], [...path, key], most, say);
    const step = word('step', MOST_LETTERS);
    if (entry.step === undefined && known)
      say('missing-key', path, 'an entry has no `step`', 'name the step that was done');
    const rest = {
      at: word('at', MOST_LETTERS),
      by: word('by', MOST_LETTERS),
      note: word('note', MOST_WORDS),
    };
    return step === undefined ? [] : [{ step, ...rest }];
  });
}
