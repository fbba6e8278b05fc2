/**
 * Facts at a rule's limit, through what a user meets: the scenario's text goes in, the findings of all rules come out. A fact says
 * how many findings of one rule there are, and of each what it is about, the figure found and the one allowed. tests/rules/limits/
 * holds them, a file a topic; the expected figures come from geometry and optics by hand, never from the program.
 */
import { expect } from 'vitest';
import type { Finding, Severity } from '../../../src/finding/finding.ts';
import { applyRules } from '../../../src/rules/all-rules.ts';
import { designFrom, type Words } from '../../metrology/support/design-from.ts';

export interface Law {
  readonly rule: string;
  readonly severity: Severity;
  /** Undefined where the rule gives no figure, or where each fact has its own. */
  readonly limit?: number;
  readonly unit?: string;
}

/** One finding as it is to come out. */
export interface Said {
  readonly where: string;
  readonly value?: number;
  /** The difference of `value` that is let pass; EXACT where it is not said. */
  readonly within?: number;
  /** Where they are not the law's. */
  readonly severity?: Severity;
  readonly limit?: number;
  readonly unit?: string;
  /** Figures that the message is to hold. */
  readonly figures?: readonly string[];
}

export type Fact = readonly [what: string, words: Words, said: readonly Said[]];

export interface Table {
  readonly about: string;
  readonly law: Law;
  readonly facts: readonly Fact[];
}

export const table = (about: string, law: Law, facts: () => readonly Fact[]): Table => {
  return { about, law, facts: facts() };
};

/** Rounding, in the unit of the value. */
const EXACT = 1e-9;

export const findingsOf = (words: Words): readonly Finding[] => applyRules(designFrom(words));

export function expectFact(law: Law, words: Words, said: readonly Said[]): void {
  const found = findingsOf(words).filter(({ rule }) => rule === law.rule);
  expect(found.map(({ where }) => where)).toEqual(said.map(({ where }) => where));
  found.forEach((finding, k) => {
    expectSaid(finding, { ...law, ...said[k]! });
    expectPointsAtSubject(finding, words);
  });
}

function expectSaid(finding: Finding, said: Law & Said): void {
  expect([finding.severity, finding.unit]).toEqual([said.severity, said.unit]);
  if (said.limit === undefined) expect(finding.limit).toBeUndefined();
  else expectNear(finding.limit, said.limit, EXACT * Math.max(1, Math.abs(said.limit)));
  if (said.value !== undefined)
    expectNear(finding.value, said.value, said.within ?? EXACT * Math.max(1, Math.abs(said.value)));
  for (const figure of said.figures ?? []) expect(finding.message).toContain(figure);
}

function expectNear(found: number | undefined, expected: number, within: number): void {
  expect(Math.abs(found! - expected), `${found} for ${expected}`).toBeLessThanOrEqual(within);
}

/** The path leads to an entry of the scenario that the finding names. */
function expectPointsAtSubject({ path, where }: Finding, words: Words): void {
  const [list, entry] = path ?? [];
  if (typeof entry === 'number') {
    const { id } = (words[list!] as readonly { id: string }[])[entry]!;
    expect(where.split(', ')).toContain(id);
  } else expect(where).toBe(entry === undefined ? list : `${list}.${entry}`);
}
