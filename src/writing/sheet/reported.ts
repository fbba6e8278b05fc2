import type { PartPose } from '../../metrology/estimate/pose.ts';
import type { ReferencePosition } from '../../metrology/estimate/reference-position.ts';
import type { PatternReport } from '../pattern/pattern-files.ts';

/** The part of a report (report.ts) that the sheet shows; units as the keys say, null where there is nothing to say. */
export interface Reported {
  readonly ok: boolean;
  readonly findings: readonly ReportedFinding[];
  readonly patches: readonly ReportedPatch[];
  readonly references: readonly ReferencePosition[];
  readonly part: PartPose;
  /** Where the package holds the written pattern. */
  readonly pattern?: PatternReport;
}

interface ReportedFinding {
  readonly severity: 'error' | 'warning' | 'note';
  readonly rule: string;
  readonly where: string;
  readonly message: string;
  readonly hint?: string;
}

export interface ReportedPatch {
  readonly id: string;
  readonly period_um: { readonly min: number; readonly max: number };
  readonly resolution_um: number | null;
  readonly resolutionAlongSenses_um: readonly number[];
  readonly fringesPerUmAlongSenses: readonly number[];
  readonly captureRangeAlongSenses_um: readonly number[];
  readonly fresnelNumber: number | null;
  readonly bias: { readonly shape: string; readonly fringes: number; readonly fringesAtNull: number | null };
  readonly fitResidual_waves: { readonly pv: number; readonly rms: number };
  readonly fitDegree: number;
}

/** A report as `reportOf` makes it. */
export const asReported = (report: Record<string, unknown>): Reported => report as unknown as Reported;
