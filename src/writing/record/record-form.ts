/** `record.json`: an alignment as it was read and what follows from it. schemas/record.schema.json says each key in words. */
import type { Deviation, OrderedStep } from '../../metrology/alignment/deviations.ts';
import type { RoundName } from '../../scenario/alignment-log.ts';
import type { ReportedFinding } from '../report/report-form.ts';

export const RECORD_FORMAT = 'datumlight-record/1';

type Xyz = { readonly x: number; readonly y: number; readonly z: number };
/** µm of a translation, µrad of a rotation; null where unobserved. */
export type Six = Readonly<Record<'x' | 'y' | 'z' | 'rx' | 'ry' | 'rz', number | null>>;
type Hashes = Readonly<Record<string, { readonly sha256: string }>>;

export interface AlignmentRecord {
  readonly format: typeof RECORD_FORMAT;
  /** Of the record's own content without this key. */
  readonly sha256: string;
  readonly version: string;
  readonly scenario: { readonly title: string; readonly sha256: string; readonly files: Hashes };
  readonly package: {
    readonly sha256: string;
    readonly version: string;
    readonly draft: boolean;
    readonly files: Hashes;
  };
  readonly serial: string;
  readonly date: string;
  readonly part: string | null;
  readonly operator: string | null;
  readonly witness: string | null;
  readonly air: RecordedAir;
  readonly remarks: readonly string[];
  readonly order: readonly OrderedStep[];
  readonly steps: readonly {
    readonly step: string;
    readonly at: string | null;
    readonly by: string | null;
    readonly note: string | null;
  }[];
  readonly deviations: readonly Deviation[];
  readonly rounds: readonly RecordedRound[];
  readonly changes: readonly RecordedChange[];
  /** The round whose place counts: the last one. */
  readonly final: RoundName;
  readonly figure: RecordedFigure | null;
  /** No reading contradicts another. */
  readonly ok: boolean;
}

export interface RecordedAir {
  readonly temperature_C: number | null;
  readonly pressure_Pa: number | null;
  /** Null where the scenario states no air, or nothing was measured. */
  readonly effect: {
    readonly designed: { readonly temperature_C: number; readonly pressure_Pa: number };
    readonly wavelength_ppm: number;
    /** Of the last round's displacement, what is none. */
    readonly apparent: Six;
  } | null;
}

export interface RecordedRound {
  readonly round: RoundName;
  readonly file: string | null;
  readonly given: Readonly<Record<string, unknown>>;
  readonly findings: readonly ReportedFinding[];
  /** Null where no reading is of the part. */
  readonly place: RecordedPlace | null;
  readonly references: readonly RecordedReference[];
  readonly unread: readonly string[];
}

export interface RecordedPlace {
  readonly displacement: Six;
  readonly origin_mm: readonly number[];
  readonly sigma: Six;
  readonly combined: Six;
  readonly expanded: Six;
  readonly coverageFactor: number;
  readonly covariance: readonly (readonly (number | null)[])[];
  readonly freeMotions: readonly string[];
  readonly consistency: {
    readonly chiSquared: number;
    readonly degreesOfFreedom: number;
    readonly probability: number;
    readonly contradictory: boolean;
  };
}

export interface RecordedReference {
  readonly id: string;
  /** Null where unknown signs leave several. */
  readonly displacement_um: Xyz | null;
  readonly combined_um: Readonly<Record<'x' | 'y' | 'z', number | null>>;
}

export interface RecordedChange {
  readonly from: RoundName;
  readonly to: RoundName;
  readonly by: 'clamping' | 'reseating';
  readonly change: Six;
  readonly sigma: Six;
  readonly probability: number;
  readonly significant: boolean;
  /** With what reseating draws anew of the budget; null of clamping. */
  readonly budget: { readonly sigma: Six; readonly probability: number; readonly exceeded: boolean } | null;
}

export interface RecordedFigure {
  readonly place_nm: number;
  readonly placeSecondOrder_nm: number;
  readonly uncertainty_nm: number | null;
  readonly uncertaintySecondOrder_nm: number | null;
  readonly settingByEye_nm: number;
  readonly together_nm: number | null;
}
