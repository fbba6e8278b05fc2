/** What the rows of a batch come to: lines for those in trouble, a tally, an exit code. */
import type { Finding } from '../../finding/finding.ts';
import { type BatchRow, OUTCOME_WORDS } from '../../writing/batch/batch-row.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { sayLine } from '../say.ts';

/** Told whole on the terminal; of the rest a line each, since the cases of one sweep say much the same. summary.json has all. */
const TOLD_WHOLE = 20;

export function sayTroubles(rows: readonly BatchRow[], io: Io): void {
  const troubled = rows.filter(({ outcome }) => outcome !== 'fine');
  for (const [k, { name, outcome, says, rules }] of troubled.entries()) {
    const whole = k < TOLD_WHOLE;
    const lines = whole
      ? [`${name}: ${OUTCOME_WORDS[outcome]}`, ...says.map((line) => `  ${line}`)]
      : [`${name}: ${OUTCOME_WORDS[outcome]}: ${rules.join(', ')}`];
    for (const line of lines) sayLine(io.stderr, line);
  }
}

const CODES: Readonly<Record<BatchRow['outcome'], ExitCode>> = {
  fine: EXIT.fine,
  broken: EXIT.rulesBroken,
  unusable: EXIT.unusable,
  fault: EXIT.fault,
};

/** The largest exit code of all: one bad scenario stops no other, but it is told. */
export const worst = (rows: readonly BatchRow[], findings: readonly Finding[]): ExitCode =>
  rows.reduce<ExitCode>(
    (code, { outcome }) => Math.max(code, CODES[outcome]) as ExitCode,
    findings.some(({ severity }) => severity === 'error') ? EXIT.unusable : EXIT.fine,
  );

export function tally(rows: readonly BatchRow[]): string {
  const words = (Object.keys(OUTCOME_WORDS) as BatchRow['outcome'][]).flatMap((outcome) => {
    const count = rows.filter((row) => row.outcome === outcome).length;
    return count === 0 ? [] : [`${count} ${OUTCOME_WORDS[outcome]}`];
  });
  return words.join(', ') || 'nothing to do';
}
