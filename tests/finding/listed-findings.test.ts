/** Of many findings some hundred are listed: the first of each code, errors before warnings, in their order; the rest are counted by code. */
import { expect, test } from 'vitest';
import { errorFinding, type Finding } from '../../src/finding/finding.ts';
import { listed, listedFindings, MOST_LISTED } from '../../src/finding/listed-findings.ts';

const many = (count: number, rule: string, severity: Finding['severity'] = 'error'): Finding[] =>
  Array.from({ length: count }, (_, k) => ({ ...errorFinding(rule, `${rule} ${k}`, 'wrong'), severity }));

test('as many as fit are listed as they are', () => {
  const findings = many(MOST_LISTED + 1, 'bad-table');
  expect(listedFindings(findings, 'f')).toBe(findings);
});

test('the rest are counted by code, the most frequent first', () => {
  const findings = [...many(1000, 'bad-table'), ...many(299_000, 'unknown-reference')];
  const said = listedFindings(findings, 'points.csv');
  expect(said).toHaveLength(MOST_LISTED + 1);
  expect(said.at(-1)).toMatchObject({
    severity: 'error',
    rule: 'too-many',
    where: 'points.csv',
    message: 'and 299,800 more: 298,999 unknown-reference, 801 bad-table',
  });
});

test('the first of each code is listed, and no warning takes the place of an error', () => {
  const findings = [
    ...many(300, 'few-pixels', 'warning'),
    ...many(150, 'patch-overlap'),
    ...many(300, 'note', 'note'),
    ...many(1, 'off-glass'),
  ];
  const { list, rest } = listed(findings);
  const count = (rule: string): number => list.filter((finding) => finding.rule === rule).length;
  expect(list).toHaveLength(MOST_LISTED);
  expect([count('patch-overlap'), count('off-glass'), count('few-pixels'), count('note')]).toEqual([
    150, 1, 48, 1,
  ]);
  expect(list).toEqual(findings.filter((finding) => list.includes(finding)));
  expect(rest).toHaveLength(findings.length - MOST_LISTED);
});
