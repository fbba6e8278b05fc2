/**
 * Slips of a table's rows that no step on places or phases explains: minus signs or decimal points that a program lost, coefficients
 * a row too low or too high, two rows exchanged, one sign. A block is compared row by row with the package's own coefficients. Waves.
 */
import type { Pattern } from '../design/pattern.ts';
import { powerOfTen } from '../quantity/power.ts';
import type { TableBlock } from '../scenario/coefficient-table.ts';
import type { Step } from './misreading.ts';
import { meantTerms, type TermDifference, termKey } from './table-terms.ts';

/** A shift shows only along a column of some length: a roof's three rows. */
const LEAST_ROWS = 3;
/** Digits in which a coefficient with its decimal point elsewhere agrees: as a fraction of it, or of the bound for small ones. */
const SAME_DIGITS = 1e-6;
const SMALL_DIGITS = 1e-3;
const MOST_PLACES = 15;

/** Slips of a whole block under which its rows differ by no more than `bound` in all; none where the block has a frame of its own. */
export function rowSlips(patch: Pattern, block: TableBlock, bound: number): readonly Step[] {
  const own = meantTerms(patch, block);
  if (own === undefined) return [];
  const meantOf = new Map(own.map((term) => [termKey(term), term.coefficient]));
  const meant = block.terms.map((term) => meantOf.get(termKey(term)) ?? 0);
  const found = block.terms.map(({ coefficient }) => coefficient);
  // a term that is not there is told as such
  const lost = own.filter((term) => !block.terms.some((row) => termKey(row) === termKey(term)));
  if (lost.reduce((sum, { coefficient }) => sum + Math.abs(coefficient), 0) > bound) return [];
  const isMeant = (by: (k: number) => number | undefined): boolean =>
    found.reduce((sum, value, k) => sum + Math.abs(value - (by(k) ?? value)), 0) <= bound;
  const slips: Step[] = [];
  if (isMeant((k) => Math.abs(meant[k]!))) slips.push('minus-signs-lost');
  if (found.length >= LEAST_ROWS) {
    // what came from the block before, or went to it, is not known here
    if (isMeant((k) => meant[k - 1])) slips.push('rows-shifted-down');
    if (isMeant((k) => meant[k + 1])) slips.push('rows-shifted-up');
  }
  const large = meant.flatMap((value, k) => (Math.abs(value) > bound ? [k] : []));
  // one alone is told by its term
  const shifted = large.filter((k) => placesBetween(found[k]!, meant[k]!, bound) !== 0);
  if (shifted.length > 1 && large.every((k) => placesBetween(found[k]!, meant[k]!, bound) !== undefined))
    slips.push('decimal-points-lost');
  return slips;
}

/** By how many places the decimal point of `found` is to the right; undefined where its digits are others. */
function placesBetween(found: number, meant: number, bound: number): number | undefined {
  if (found === 0 || Math.sign(found) !== Math.sign(meant)) return undefined;
  const places = Math.round(Math.log10(found / meant));
  if (Math.abs(places) > MOST_PLACES) return undefined;
  const off = Math.abs(found / powerOfTen(places) - meant);
  return off <= Math.max(SAME_DIGITS * Math.abs(meant), SMALL_DIGITS * bound) ? places : undefined;
}

export interface Slip {
  readonly rule: 'table-misread' | 'table-incomplete';
  readonly words: string;
}

/** What became of single rows, where that is plain; else undefined. `name` gives a term's name, `highest` the highest degree of the block's rows. */
export function termSlip(
  terms: readonly TermDifference[],
  bound: number,
  name: (term: TermDifference) => string,
  highest: number,
): Slip | undefined {
  if (terms.length === 0) return undefined;
  if (terms.every(({ found }) => found === undefined))
    return { rule: 'table-incomplete', words: lostRows(terms, name, highest) };
  const words = wrongRows(terms, bound, name);
  return words === undefined ? undefined : { rule: 'table-misread', words };
}

function wrongRows(
  terms: readonly TermDifference[],
  bound: number,
  name: (term: TermDifference) => string,
): string | undefined {
  const [first, second] = terms;
  if (first?.found === undefined) return undefined;
  const near = (a: number, b: number): boolean => Math.abs(a - b) <= bound;
  if (terms.length === 2)
    return second!.found !== undefined && near(first.found, second!.meant) && near(second!.found, first.meant)
      ? `the coefficients of ${name(first)} and ${name(second!)} are exchanged`
      : undefined;
  if (terms.length !== 1) return undefined;
  if (near(first.found, -first.meant)) return `the sign of the coefficient of ${name(first)} is flipped`;
  const places = placesBetween(first.found, first.meant, bound);
  if (places === undefined || places === 0) {
    const slip = digitSlip(first.found, first.meant);
    return (
      slip &&
      `${slip} in the coefficient of ${name(first)}: it is ${first.found}, expected ${Number(first.meant.toPrecision(DIGITS))}`
    );
  }
  return `the decimal point in the coefficient of ${name(first)} is ${Math.abs(places)} ${Math.abs(places) === 1 ? 'place' : 'places'} too far to the ${places > 0 ? 'right' : 'left'}`;
}

/** Rows that are not there, and no other is wrong. */
const ROWS_NAMED = 3;

function lostRows(
  terms: readonly TermDifference[],
  name: (term: TermDifference) => string,
  highest: number,
): string {
  if (terms.length === 1) return `the row of ${name(terms[0]!)} is left out`;
  const degrees = terms.map(({ i, j }) => i + Math.abs(j));
  if (degrees.every((degree) => degree > highest)) return `the terms above degree ${highest} are left out`;
  const named = terms.slice(0, ROWS_NAMED).map(name);
  const more = terms.length - named.length;
  const all = more > 0 ? [...named, `${more} more`] : named;
  return `the rows of ${all.slice(0, -1).join(', ')} and ${all.at(-1)} are left out`;
}

/** Digits of a coefficient that are looked at, and how many must agree: a wrong one is then no chance. */
const DIGITS = 10;
const LEAST_AGREEING = 6;

/** Two neighbouring digits exchanged, once or twice, or one digit wrong; undefined where more is. */
function digitSlip(found: number, meant: number): string | undefined {
  if (found === 0 || Math.sign(found) !== Math.sign(meant)) return undefined;
  const decimals = Math.max(0, DIGITS - 1 - Math.floor(Math.log10(Math.abs(meant))));
  if (decimals > 100) return undefined;
  const [given, own] = [found, meant].map((value) => Math.abs(value).toFixed(decimals).replace('.', '')) as [
    string,
    string,
  ];
  if (given.length !== own.length) return undefined;
  let [exchanged, wrong] = [0, 0];
  for (let k = 0; k < own.length; k++) {
    if (given[k] === own[k]) continue;
    if (given[k] === own[k + 1] && given[k + 1] === own[k]) {
      exchanged++;
      k++;
    } else wrong++;
  }
  const agreeing = own.replace(/^0+/, '').length - 2 * exchanged - wrong;
  if (agreeing < LEAST_AGREEING) return undefined;
  if (exchanged === 0 && wrong === 1) return 'one digit is wrong';
  if (wrong === 0 && exchanged <= 2)
    return exchanged === 1 ? 'two digits are exchanged' : 'digits are exchanged';
  return undefined;
}
