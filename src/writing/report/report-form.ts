/**
 * The form of `report.json`: what the program found and computed, for a program to read. Every other writer takes its figures from
 * this type; `schemas/report.schema.json` says the same of the file. Each key that carries a quantity names its unit; `sigma` and
 * `covariance` of a body stand beside `units`. Places and directions are in the substrate frame unless `frame` says otherwise.
 * Null: there is no such figure.
 */
import type { Severity } from '../../finding/finding.ts';
import type { Vec2, Vec3 } from '../../geometry/vector.ts';
import type { BudgetTable } from '../../metrology/budget/budget-table.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import type { Degree, Patch, Reference } from '../../scenario/scenario.ts';
import type { PatternReport } from '../pattern/pattern-files.ts';
import type { ReportedMarks } from './reported-marks.ts';
import type { ReportedStep } from './reported-order.ts';
import type { ReportedOrientation } from './reported-orientation.ts';
import type { ReportedOutline } from './reported-outline.ts';
import type { ReportedScenario } from './reported-scenario.ts';
import type { ReportedTest } from './reported-test.ts';

export const REPORT_FORMAT = 'datumlight-report/1';

export interface Report {
  readonly format: typeof REPORT_FORMAT;
  /** Of the program. */
  readonly version: string;
  readonly scenario: {
    readonly title: string;
    readonly sha256: string;
    readonly files?: Readonly<Record<string, { readonly sha256: string }>>;
  } & ReportedScenario;
  readonly draft: boolean;
  readonly ok: boolean;
  readonly findings: readonly ReportedFinding[];
  readonly light: { readonly wavelength_nm: number; readonly airIndex: number | null };
  readonly camera: { readonly diameter_mm: number; readonly orientation: ReportedOrientation };
  /** Beam and glass in words. */
  readonly setup: { readonly beam: string; readonly glass: string };
  readonly substrate: {
    readonly glass: string;
    readonly index: number;
    readonly thickness_mm: number;
    readonly lightCrossesIt: 'nowhere' | 'before the pattern' | 'after the pattern';
  };
  readonly patches: readonly ReportedPatch[];
  readonly references: readonly ReportedReference[];
  readonly part: ReportedPart;
  readonly seatFrame: ReportedSeatFrame | null;
  readonly hologram: {
    readonly harmlessTilt: { readonly fringes: number; readonly limitedBy: string } | null;
  };
  /** What is done at the bench, one after the other, and how to tell that it is done. */
  readonly order: readonly ReportedStep[];
  /** Only where the scenario names a surface under test. */
  readonly test?: ReportedTest;
  /** How the camera is turned in whose picture sheet.html shows things; left out where that is the default. */
  readonly sheet?: { readonly camera: CameraOrientation };
  /** Only where the scenario asks for marks on the glass. */
  readonly marks?: ReportedMarks;
  /** Where the package holds the written pattern. */
  readonly pattern?: PatternReport;
}

export interface ReportedFinding {
  readonly severity: Severity;
  readonly rule: string;
  readonly where: string;
  readonly message: string;
  readonly hint?: string | undefined;
  readonly value: number | null;
  readonly limit: number | null;
  readonly unit: string | null;
  /** The finding, listed before this one, that explains it. */
  readonly follows?: { readonly rule: string; readonly where: string } | undefined;
  readonly place?: { readonly file: string; readonly line: number; readonly column: number } | undefined;
}

export interface ReportedPatch {
  readonly id: string;
  readonly reference: string;
  readonly kind: Reference['kind'];
  readonly focus: Patch['focus'];
  readonly order: number;
  readonly centre: Vec2;
  readonly outline: ReportedOutline;
  readonly target: Vec3;
  /** Infinity is written as null. */
  readonly distance_mm: number;
  readonly lineDirection: Vec3 | null;
  readonly senses: readonly Vec3[];
  /** Infinity is written as null, of both where the phase is the same everywhere. */
  readonly period_um: { readonly min: number; readonly max: number };
  readonly minPeriodAt_mm: Vec2;
  readonly resolution_um: number | null;
  readonly resolutionAlongSenses_um: readonly number[];
  readonly fringesPerUmAlongSenses: readonly number[];
  readonly captureRangeAlongSenses_um: readonly number[];
  readonly readableRangeAlongSenses_um: readonly number[];
  readonly fresnelNumber: number | null;
  readonly fresnelDirection: 'along' | 'across' | 'both' | null;
  readonly returnedShare: number | null;
  readonly lossShares: Readonly<Record<ReportedLoss, number>> | null;
  readonly motion: ReportedMotion | null;
  readonly mark: ReportedMark | null;
  readonly bias: {
    readonly shape: 'roof' | 'tilt' | 'none';
    readonly fringes: number;
    /** As traced. */
    readonly fringesAtNull: number | null;
  };
  readonly fitResidual_waves: { readonly pv: number; readonly rms: number; readonly worst: number };
  readonly fitDegree: number;
}

type ReportedLoss = 'evanescent' | 'missed' | 'outsideAperture' | 'deadZone' | 'besidePatch';

/** Fringes, peak to valley over the patch, for a motion of the hologram or the part, about the origin of `frame`. */
export interface ReportedMotion {
  readonly of: 'hologram' | 'part';
  readonly frame: 'substrate' | 'part';
  readonly fringesPerUm: Readonly<Record<'x' | 'y' | 'z', number>>;
  readonly fringesPerUrad: Readonly<Record<'rx' | 'ry' | 'rz', number>>;
  /** Null for a degree in which no motion of a bench takes the fringes away. */
  readonly captureRange_um: ReportedMoves;
  readonly captureRange_urad: ReportedTurns;
  readonly readableRange_um: ReportedMoves;
  readonly readableRange_urad: ReportedTurns;
}

export type ReportedMoves = Readonly<Record<'x' | 'y' | 'z', number | null>>;
export type ReportedTurns = Readonly<Record<'rx' | 'ry' | 'rz', number | null>>;

/** What a screen shows. */
export interface ReportedMark {
  readonly shape: 'spot' | 'line';
  readonly widths_um: readonly number[];
  readonly length_mm: number | null;
  readonly efficiency: number;
  readonly peakAgainstBeam: number;
  readonly shareOfBeam: number | null;
  readonly power_uW: number | null;
}

export interface ReportedReference {
  readonly id: string;
  readonly at: Vec3;
  readonly sigma_um: Readonly<Record<'x' | 'y' | 'z', number | null>>;
  readonly covariance_um2: ReportedCovariance;
  /** Principal axes of the error ellipsoid, the longest first; null along what is not observed. */
  readonly ellipsoid: readonly { readonly direction: Vec3; readonly sigma_um: number | null }[];
  /** Directions that no reading sees, in words. */
  readonly unobserved: readonly string[];
  readonly budget_um: ReportedBudget<'x' | 'y' | 'z'>;
  /** How an SMR's cube stands, or is taken to stand where the scenario does not say. */
  readonly cube: {
    readonly axis: Vec3;
    readonly roll_deg: number;
    readonly acceptance_deg: number;
    readonly axisGiven: boolean;
    readonly rollGiven: boolean;
  } | null;
  /** What of the free glass can serve it under `process.minFeature`, and the features that it would take there. */
  readonly reach: {
    readonly order: number;
    readonly shareOfFreeGlass: number | null;
    readonly finestFeature_um: number | null;
    readonly coarsestFeature_um: number | null;
  };
}

export type ReportedCovariance = readonly (readonly (number | null)[])[];

/** Standard uncertainties by unknown, in the unit that its key names: combined, by Monte Carlo, and by term, the largest first. */
export type ReportedBudget<Name extends string> = BudgetTable<Name>;

interface BodyUnits {
  readonly translations: 'um';
  readonly rotations: 'urad';
}

export interface ReportedPart {
  readonly frame: 'part';
  readonly units: BodyUnits;
  readonly sigma: Readonly<Record<Degree, number | null>>;
  /** 6 × 6 in the order x, y, z, rx, ry, rz; null where either degree is not observed. */
  readonly covariance: ReportedCovariance;
  readonly unobserved: readonly Degree[];
  readonly freeMotions: readonly string[];
  readonly weakest: { readonly words: string; readonly sigma: number; readonly unit: 'um' | 'urad' } | null;
  /** Against the test wavefront. */
  readonly budget: ReportedBudget<Degree>;
  /** Combined standard uncertainties of the same part against the hologram's own frame. */
  readonly inHologram: Readonly<Record<Degree, number | null>>;
  /** x, y, z, rx, ry, rz. */
  readonly degrees: readonly ReportedDegree[];
}

/** A degree of freedom against its wish: standard uncertainties of the full budget. */
export interface ReportedDegree {
  readonly degree: Degree;
  readonly unit: 'um' | 'urad';
  /** Null where the scenario asks for nothing. */
  readonly wanted: number | null;
  /** Null where the degree is not observed. */
  readonly reached: number | null;
  /** `wanted` less `reached`: negative where the wish is missed. */
  readonly margin: number | null;
  readonly largest: { readonly term: string; readonly sigma: number } | null;
}

/** The hologram's frame as its seats carry it. */
export interface ReportedSeatFrame {
  readonly frame: 'substrate';
  readonly units: BodyUnits;
  readonly seats: readonly { readonly id: string; readonly at_mm: Vec3; readonly sigma_um: number }[];
  readonly sigma: Readonly<Record<Degree, number | null>>;
  readonly covariance: ReportedCovariance;
  readonly freeMotions: readonly string[];
  readonly atReferences: readonly ({ readonly id: string } & ReportedLever)[] | null;
  readonly atPart:
    | (ReportedLever & { readonly rotations_urad: Readonly<Record<'rx' | 'ry' | 'rz', number>> })
    | null;
}

/** How far off the frame is at a place. */
export interface ReportedLever {
  readonly at_mm: Vec3;
  readonly sigma_um: Readonly<Record<'x' | 'y' | 'z', number>>;
  /** The longest half-axis of the error ellipsoid. */
  readonly largest_um: number;
}
