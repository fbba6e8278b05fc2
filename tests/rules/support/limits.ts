/**
 * Facts at a rule's limit, through what a user meets: the scenario's text goes in, the findings of all rules come out. A fact says
 * how many findings of one rule there are, and of each what it is about, the figure found and the one allowed.
 */
import { expect, test } from 'vitest';
import type { Code } from '../../../src/finding/codes.ts';
import type { Finding, Severity } from '../../../src/finding/finding.ts';
import { applyRules } from '../../../src/rules/all-rules.ts';
import { designFrom, type Words } from '../../metrology/support/design-from.ts';

/** A rule's findings as they are to come out. */
export interface Said {
  readonly where: string;
  readonly value?: number;
  /** Where it is not that of the whole table. */
  readonly limit?: number;
  readonly unit?: string;
  /** The difference of `value` that is let pass; EXACT where it is not said. */
  readonly within?: number;
}

export type Fact = readonly [what: string, words: Words, said: readonly Said[]];

export interface Limits {
  readonly rule: Code;
  readonly severity: Severity;
  /** Undefined where the rule gives no figure. */
  readonly limit?: number;
  readonly unit?: string;
}

/** Rounding, in the unit of the value. */
const EXACT = 1e-9;

export const findingsOf = (words: Words): readonly Finding[] => applyRules(designFrom(words));

/** One test a fact. */
export function holdAtLimits(limits: Limits, facts: readonly Fact[]): void {
  test.each(facts)('%s', (_, words, said) => {
    const found = findingsOf(words).filter(({ rule }) => rule === limits.rule);
    expect(found.map(({ where }) => where)).toEqual(said.map(({ where }) => where));
    found.forEach((finding, k) => {
      expectSaid(finding, limits, said[k]!);
      expectPointsAtSubject(finding, words);
    });
  });
}

function expectSaid(finding: Finding, limits: Limits, said: Said): void {
  const { severity, value, limit, unit } = finding;
  expect(severity).toBe(limits.severity);
  expect(unit).toBe(said.unit ?? limits.unit);
  const allowed = said.limit ?? limits.limit;
  if (allowed === undefined) expect(limit).toBeUndefined();
  else expect(Math.abs(limit! - allowed)).toBeLessThanOrEqual(EXACT * Math.max(1, Math.abs(allowed)));
  if (said.value === undefined) return;
  expect(Math.abs(value! - said.value), `${value} for ${said.value}`).toBeLessThanOrEqual(
    said.within ?? EXACT * Math.max(1, Math.abs(said.value)),
  );
}

/** The path leads to an entry of the scenario that the finding names. */
function expectPointsAtSubject({ path, where }: Finding, words: Words): void {
  const [list, entry] = path ?? [];
  if (typeof entry === 'number') {
    const { id } = (words[list!] as readonly { id: string }[])[entry]!;
    expect(where.split(', ')).toContain(id);
  } else if (entry !== undefined) expect(where).toBe(`${list}.${entry}`);
  else expect(where).toBe(list);
}
