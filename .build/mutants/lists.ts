/** The lists kept by hand: mutants by name, each with the test that catches it, and those that change nothing a test could see. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Mutant } from './sites.ts';

const NAMED = 'tests/mutants/named';
const EQUIVALENT = 'tests/mutants/equivalent.json';

/** An entry of `tests/mutants/named/*.json`. */
export interface Named {
  readonly id: string;
  readonly file: string;
  /** Stands exactly once in the file. */
  readonly find: string;
  readonly replace: string;
  /** What a user would suffer. */
  readonly fault: string;
  /** The test file that fails. */
  readonly caughtBy: string;
}

/** An entry of `tests/mutants/equivalent.json`: a mutant that no test can catch, and why. */
export interface Equivalent {
  readonly file: string;
  readonly operator: string;
  /** The source line, without white space around it. */
  readonly line: string;
  readonly change: string;
  /** Which of several with the same line and change; 1 if left out. */
  readonly count?: number;
  readonly reason: string;
}

export function namedMutants(): readonly Named[] {
  const lists = existsSync(NAMED) ? readdirSync(NAMED).filter((name) => name.endsWith('.json')) : [];
  return lists.sort().flatMap((name) => readJson<Named[]>(join(NAMED, name)));
}

export const equivalents = (): readonly Equivalent[] => (existsSync(EQUIVALENT) ? readJson(EQUIVALENT) : []);

const readJson = <T>(file: string): T => JSON.parse(readFileSync(file, 'utf8'));

/** The key of the mutant that an entry speaks of. */
export const keyOf = ({ file, operator, line, change, count = 1 }: Equivalent): string =>
  [file, operator, line, change, ...(count > 1 ? [count] : [])].join(' | ');

/** A named mutant as an edit of its file. */
export function namedAsMutant(named: Named, source: string): Mutant {
  const { id, file, find, replace } = named;
  const start = source.indexOf(find);
  if (start < 0) throw new Error(`${id}: ${file} does not hold ${JSON.stringify(find)}`);
  if (source.indexOf(find, start + 1) >= 0)
    throw new Error(`${id}: ${file} holds ${JSON.stringify(find)} twice`);
  const line = source.slice(0, start).split('\n').length;
  return {
    ...{ operator: 'named', start, end: start + find.length, text: replace, file, line },
    lineText: source.split('\n')[line - 1].trim(),
    change: `${find} → ${replace}`,
    key: `named | ${id} | ${file} | ${find} → ${replace}`,
  };
}
