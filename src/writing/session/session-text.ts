/**
 * A session of alignment as a file: `datumlight-session/1`, YAML or JSON, each round on from the one before. The YAML has a line for each
 * reading, so that a person can follow it and a version control system shows what came to it. µm, µrad, turns, fringes.
 */
import { withoutRawControls } from '../../finding/visible-text.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import type { BenchReading } from '../../scenario/bench-reading.ts';
import { type BenchSession, SESSION_FORMAT } from '../../scenario/bench-session.ts';
import { MAIN } from '../../scenario/scenario.ts';
import { jsonText } from '../json.ts';

/** `path` decides the form: JSON for a name that ends so, YAML for any other. */
export function sessionText({ scenario, rounds }: BenchSession, path: string): string {
  const { sha256, files } = scenario;
  const plain = {
    format: SESSION_FORMAT,
    scenario: { sha256, files },
    rounds: rounds.map(({ written }) => written),
  };
  return /\.json$/i.test(path) ? jsonText(plain) : benchText(plain);
}

/** A mapping as YAML of the bench's files: a line for each entry of a list. */
export const benchText = (plain: object): string => `${withoutRawControls(block(plain, ''))}\n`;

/** Known as the program's own by this. */
export const isSession = (text: string): boolean =>
  /^\s*"?format"?: "?datumlight-session\/1"?,?\s*$/m.test(text);

/** A reading as an entry of a readings file. */
export function readingEntry(reading: BenchReading): Readonly<Record<string, unknown>> {
  if (reading.kind === 'length')
    return { measurement: reading.measurement, deviation_um: reading.deviation * UM_PER_MM };
  const or = reading.kind === 'fringes' ? reading.or : undefined;
  const how = {
    ...(or === undefined ? {} : { or: orEntry(or) }),
    ...(reading.signKnown || or !== undefined ? {} : { sign: 'unknown' }),
    ...(reading.uncertainty === undefined ? {} : { uncertainty: reading.uncertainty }),
  };
  if (reading.kind === 'null') return { patch: MAIN, ...nullTerms(reading), ...how };
  const [first, second, power] = reading.fringes;
  const isPoint = reading.fringes.length > 1;
  const tilts = isPoint ? [first ?? null, second ?? null] : first;
  const isRead = first !== undefined || second !== undefined;
  return {
    patch: reading.patch,
    ...(isRead ? { fringes: tilts } : {}),
    ...(power === undefined ? {} : { power }),
    ...how,
  };
}

/** Without the power, where that was not read. */
const orEntry = (or: readonly (number | undefined)[]): readonly (number | null)[] =>
  (or.length > 1 && or.at(-1) === undefined ? or.slice(0, -1) : or).map((value) => value ?? null);

function nullTerms({ values, unit }: Extract<BenchReading, { kind: 'null' }>): Record<string, unknown> {
  const terms: Record<string, number | number[]> = {};
  for (const { term, value } of values) {
    const key = unit === 'fringes' && term === 'tilt' ? 'fringes' : term;
    const before = terms[key];
    terms[key] = before === undefined ? value : [...(Array.isArray(before) ? before : [before]), value];
  }
  return unit === 'waves' ? { waves: terms } : terms;
}

/** Lines of the file are kept under this where they can be broken. */
const WIDEST = 110;

/** A mapping or a list in lines, those that are short in one. */
function block(value: object, indent: string): string {
  return Array.isArray(value)
    ? value.map((item) => `${indent}- ${inList(item, indent)}`).join('\n')
    : membersOf(value)
        .map(([key, member]) => {
          const flow = flowText(member);
          const isShort =
            indent.length + key.length + flow.length <= WIDEST &&
            !(Array.isArray(member) && member.some(isNested));
          return isShort || !isNested(member) || Object.keys(member).length === 0
            ? `${indent}${word(key)}: ${flow}`
            : `${indent}${word(key)}:\n${block(member, `${indent}  `)}`;
        })
        .join('\n');
}

function inList(item: unknown, indent: string): string {
  const flow = flowText(item);
  if (!isNested(item) || indent.length + flow.length <= WIDEST) return flow;
  return block(item, `${indent}  `).trimStart();
}

const membersOf = (value: object): [string, unknown][] =>
  Object.entries(value).filter(([, member]) => member !== undefined);

const isNested = (value: unknown): value is object => typeof value === 'object' && value !== null;

function flowText(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(flowText).join(', ')}]`;
  if (isNested(value))
    return `{${membersOf(value)
      .map(([key, member]) => `${word(key)}: ${flowText(member)}`)
      .join(', ')}}`;
  if (typeof value === 'number')
    return Number.isFinite(value) ? String(Number(value.toPrecision(DIGITS)) + 0) : 'null';
  return typeof value === 'string' ? word(value) : String(value);
}

const DIGITS = 12;

/** Quoted where YAML could take it for something else. */
const word = (text: string): string =>
  /^[A-Za-z][\w.-]*$/.test(text) && !/^(true|false|null|yes|no|on|off|y|n)$/i.test(text)
    ? text
    : JSON.stringify(text);
