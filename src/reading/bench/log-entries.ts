/** The texts, figures and steps of a log, each said to be wrong where it is. °C and Pa. */
import type { Path } from '../../finding/finding.ts';
import { evaluateQuantity } from '../../quantity/evaluate.ts';
import type { LoggedStep } from '../../scenario/alignment-log.ts';
import { isObject } from '../yaml/field.ts';
import { shown, typeOf } from '../yaml/values.ts';
import { type Say, unknownKeys } from './entry-values.ts';

const STEP_KEYS = ['step', 'at', 'by', 'note'];

/** Letters of a name or a time, and of a remark. */
export const MOST_LETTERS = 120;
const MOST_WORDS = 2000;
const MOST_REMARKS = 100;
const MOST_STEPS = 200;

/** °C and Pa: wider than any laboratory. */
const RANGES = { temperature: [-40, 100], pressure: [10e3, 140e3] } as const;
const UNITS = { temperature: '°C', pressure: 'Pa' } as const;

/** A text; undefined where it is left out or said to be wrong. A number loses its zeros, as of a serial 0042. */
export function wordOf(value: unknown, path: Path, most: number, say: Say): string | undefined {
  if (value === undefined) return undefined;
  const hint = `expected a text of 1 to ${most} characters${typeof value === 'number' ? '; put it in quotes' : ''}`;
  if (typeof value !== 'string')
    return say('wrong-type', path, `\`${path.at(-1)}\` is ${typeOf(value)}`, hint);
  const word = value.trim();
  if (word === '' || word.length > most)
    return say('bad-value', path, `\`${path.at(-1)}\` has ${word.length} characters`, hint);
  return word;
}

export function measured(value: unknown, key: keyof typeof RANGES, say: Say): number | undefined {
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

export function remarksOf(value: unknown, say: Say): readonly string[] {
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

export function stepsOf(value: unknown, say: Say): readonly LoggedStep[] {
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
