/** The report of a checked design, for `check --json`: with the figures that only the report needs. */
import type { Design } from '../design/design.ts';
import type { Finding } from '../finding/finding.ts';
import { patchTables } from '../writing/coefficients/coefficients.ts';
import { reportOf } from '../writing/report/report.ts';
import type { Report } from '../writing/report/report-form.ts';
import { VERSION } from './version.ts';

export function checkReport(design: Design, findings: readonly Finding[], scenarioHash: string): Report {
  return reportOf(design, findings, { version: VERSION, scenarioHash, draft: false }, patchTables(design));
}
