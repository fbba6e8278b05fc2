/** How many findings are printed: the most of them, and of the rest a count by code. */
import { errorFinding, type Finding, type Severity } from './finding.ts';

/** Findings printed of one input. Nobody reads more; a job's log and a terminal stay usable. */
export const MOST_LISTED = 200;

type Countable = Pick<Finding, 'severity' | 'rule'>;

const SEVERITIES: readonly Severity[] = ['error', 'warning', 'note'];

/**
 * At most MOST_LISTED of `findings`, in their order, and those left out. The first of each code stays, then errors go before
 * warnings and warnings before notes. One more than the most is listed too: a line that counts it would be no shorter.
 */
export function listed<T extends Countable>(
  findings: readonly T[],
): { readonly list: readonly T[]; readonly rest: readonly T[] } {
  if (findings.length <= MOST_LISTED + 1) return { list: findings, rest: [] };
  const seen = new Set<string>();
  const ranks = findings.map(({ severity, rule }) => {
    const isFirst = !seen.has(`${severity} ${rule}`);
    seen.add(`${severity} ${rule}`);
    return isFirst ? 0 : 1 + SEVERITIES.indexOf(severity);
  });
  const byRank = [...findings.keys()].sort((a, b) => ranks[a]! - ranks[b]!);
  const kept = new Set(byRank.slice(0, MOST_LISTED));
  return {
    list: findings.filter((_, k) => kept.has(k)),
    rest: findings.filter((_, k) => !kept.has(k)),
  };
}

/** As `listed`, with one finding at the end that counts the others; `where` is the input that they are of. */
export function listedFindings(findings: readonly Finding[], where: string): readonly Finding[] {
  const { list, rest } = listed(findings);
  return rest.length === 0 ? list : [...list, restFinding(where, rest)];
}

/** The finding that stands for these, which are not listed. */
export const restFinding = (where: string, rest: readonly Countable[]): Finding =>
  moreFindings(where, worstOf(rest), countsOf(rest));

/** The finding that stands for those not listed, `counts` by code. */
export const moreFindings = (
  where: string,
  severity: Severity,
  counts: ReadonlyMap<string, number>,
): Finding => ({
  ...errorFinding('too-many', where, moreWords(counts), 'correct these first'),
  severity,
});

/** `and 299,900 more: 299,800 bad-table, 100 out-of-range`; the most frequent first. */
function moreWords(counts: ReadonlyMap<string, number>): string {
  const byCount = [...counts].sort(([a, m], [b, n]) => n - m || (a < b ? -1 : 1));
  const all = byCount.reduce((sum, [, count]) => sum + count, 0);
  return `and ${grouped(all)} more: ${byCount.map(([code, count]) => `${grouped(count)} ${code}`).join(', ')}`;
}

const worstOf = (findings: readonly Countable[]): Severity =>
  SEVERITIES.find((severity) => findings.some((finding) => finding.severity === severity)) ?? 'note';

function countsOf(findings: readonly Countable[]): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const { rule } of findings) counts.set(rule, (counts.get(rule) ?? 0) + 1);
  return counts;
}

/** 299,900 */
const grouped = (count: number): string => String(count).replace(/\B(?=(\d{3})+$)/g, ',');
