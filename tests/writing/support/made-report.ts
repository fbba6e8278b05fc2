/** From the words of a scene to its report.json, by the program, as a reader of the file has it. */
import { coefficientsJson, patchTables } from '../../../src/writing/coefficients/coefficients.ts';
import { jsonText } from '../../../src/writing/json.ts';
import { reportOf } from '../../../src/writing/report/report.ts';
import type { Scene } from '../../independent/scene.ts';
import { designOfScene } from './made-phase-files.ts';

const HEAD = { version: '0.0.0', scenarioHash: '0123456789abcdef'.repeat(4), draft: false };

export function reportOfScene(scene: Scene): { readonly report: Report; readonly coefficients: string } {
  const design = designOfScene(scene);
  const tables = patchTables(design);
  return {
    report: JSON.parse(jsonText(reportOf(design, [], HEAD, tables))),
    coefficients: coefficientsJson(design, tables, { draft: false }),
  };
}

type Triple = readonly [number, number, number];
type ByAxis = Readonly<Record<'x' | 'y' | 'z', number | null>>;
type ByDegree = Readonly<Record<Degree, number | null>>;
export const DEGREES = ['x', 'y', 'z', 'rx', 'ry', 'rz'] as const;
export type Degree = (typeof DEGREES)[number];

interface Budget<By> {
  readonly combined: By;
  readonly simulated: Readonly<
    Record<string, { readonly sigma: number; readonly samplingError: number } | null>
  >;
  readonly trials: number;
  readonly terms: readonly { readonly term: string; readonly by: By }[];
}

/** The keys of report.json that these tests read, in one place. */
export interface Report {
  readonly light: { readonly wavelength_nm: number; readonly airIndex: number | null };
  readonly substrate: {
    readonly glass: string;
    readonly index: number;
    readonly thickness_mm: number;
    readonly lightCrossesIt: string;
  };
  readonly scenario: { readonly [key: string]: unknown };
  readonly patches: readonly ReportedPatch[];
  readonly references: readonly {
    readonly id: string;
    readonly at: Triple;
    readonly sigma_um: ByAxis;
    readonly covariance_um2: readonly (readonly (number | null)[])[];
    readonly ellipsoid: readonly { readonly direction: Triple; readonly sigma_um: number | null }[];
    readonly unobserved: readonly string[];
    readonly budget_um: Budget<ByAxis>;
    readonly cube: {
      readonly axis: Triple;
      readonly roll_deg: number;
      readonly acceptance_deg: number;
      readonly axisGiven: boolean;
      readonly rollGiven: boolean;
    } | null;
    readonly reach: {
      readonly order: number;
      readonly shareOfFreeGlass: number;
      readonly finestFeature_um: number;
      readonly coarsestFeature_um: number;
    };
  }[];
  readonly part: {
    readonly sigma: ByDegree;
    readonly covariance: readonly (readonly (number | null)[])[];
    readonly unobserved: readonly Degree[];
    readonly weakest: { readonly words: string; readonly sigma: number; readonly unit: string };
    readonly budget: Budget<ByDegree>;
  };
  readonly seatFrame: {
    readonly seats: readonly { readonly id: string; readonly at_mm: Triple; readonly sigma_um: number }[];
    readonly sigma: ByDegree;
    readonly atReferences: readonly {
      readonly id: string;
      readonly sigma_um: ByAxis;
      readonly largest_um: number;
    }[];
    readonly atPart: { readonly sigma_um: ByAxis };
  };
  readonly hologram: { readonly harmlessTilt: { readonly fringes: number; readonly limitedBy: string } };
}

export interface ReportedPatch {
  readonly id: string;
  readonly reference: string;
  readonly kind: string;
  readonly focus: string;
  readonly order: number;
  readonly centre: readonly [number, number];
  readonly target: Triple;
  readonly distance_mm: number;
  readonly lineDirection: Triple | null;
  readonly senses: readonly Triple[];
  readonly period_um: { readonly min: number; readonly max: number };
  readonly minPeriodAt_mm: readonly [number, number];
  readonly resolution_um: number | null;
  readonly resolutionAlongSenses_um: readonly number[];
  readonly fringesPerUmAlongSenses: readonly number[];
  readonly captureRangeAlongSenses_um: readonly number[];
  readonly readableRangeAlongSenses_um: readonly number[];
  readonly fresnelNumber: number | null;
  readonly returnedShare: number | null;
  readonly lossShares: Readonly<Record<string, number>> | null;
  readonly motion: {
    readonly of: string;
    readonly frame: string;
    readonly fringesPerUm: Readonly<Record<'x' | 'y' | 'z', number>>;
    readonly fringesPerUrad: Readonly<Record<'rx' | 'ry' | 'rz', number>>;
  } | null;
  readonly mark: {
    readonly shape: string;
    readonly widths_um: readonly number[];
    readonly length_mm: number | null;
    readonly efficiency: number;
    readonly peakAgainstBeam: number;
    readonly shareOfBeam: number;
    readonly power_uW: number;
  } | null;
  readonly bias: { readonly shape: string; readonly fringes: number; readonly fringesAtNull: number | null };
  readonly fitResidual_waves: { readonly pv: number; readonly rms: number; readonly worst: number };
  readonly fitDegree: number;
}
