/** Lists in the sentences of a step: whole, however long. */
import { significant } from '../page/figures.ts';
import type { ReportedCriterion } from '../report/reported-order.ts';

/** `a`, `a and b`, `a, b and c`. */
export const listed = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

const UNITS: Readonly<Record<ReportedCriterion['unit'], string>> = {
  fringes: 'fringes',
  mm: 'mm',
  um: 'µm',
  urad: 'µrad',
};

/** `x 20 µm` */
export const withinWords = ({ of, within, unit }: ReportedCriterion): string =>
  `${of} ${significant(within)} ${UNITS[unit]}`;

/** `a, b, c 20 µm; d 30 µm`: criteria of one limit together, in their order. */
export function limitWords(done: readonly ReportedCriterion[]): string {
  const byLimit = new Map<string, string[]>();
  for (const { of, within, unit } of done) {
    const limit = `${significant(within, 2)} ${UNITS[unit]}`;
    byLimit.set(limit, [...(byLimit.get(limit) ?? []), of]);
  }
  return [...byLimit].map(([limit, names]) => `${names.join(', ')} to ${limit}`).join('; ');
}

/** `is` or `are`, `it` or `them`. */
export const verb = (count: number, one: string, more: string): string => (count === 1 ? one : more);
