/** What `--json` says of an input that cannot be used: the findings alone. */
import type { Finding } from '../finding/finding.ts';
import { reportedFinding } from '../writing/report/reported-finding.ts';

export const unusableReport = (file: string, findings: readonly Finding[]): unknown => ({
  ok: false,
  file,
  findings: findings.map(reportedFinding),
});
