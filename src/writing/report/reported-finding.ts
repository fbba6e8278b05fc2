/** A finding as reports carry it; the place in the file only where it is known. */
import type { Finding } from '../../finding/finding.ts';
import type { ReportedFinding } from './report-form.ts';

export function reportedFinding(finding: Finding): ReportedFinding {
  const { severity, rule, where, message, hint, value, limit, unit, follows, place } = finding;
  return {
    severity,
    rule,
    where,
    message,
    hint,
    value: value ?? null,
    limit: limit ?? null,
    unit: unit ?? null,
    follows,
    place: place && { file: place.file, line: place.line, column: place.column },
  };
}
