/** `record.json`: an alignment as it was read and what follows from it. schemas/record.schema.json says each key in words. */
import type { Deviation, OrderedStep } from '../../metrology/alignment/deviations.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import type { RoundName } from '../../scenario/round-name.ts';
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
  /** Of the patches, by id, as on the sheet. A record of an earlier version has none of the keys that may be left out. */
  readonly numbers?: Readonly<Record<string, number>>;
  /** Null where the alignment was steered in none. */
  readonly session?: RecordedSession | null;
  readonly changes: readonly RecordedChange[];
  /** The round whose place counts: the last one. */
  readonly final: RoundName;
  readonly figure: RecordedFigure | null;
  /** No reading contradicts another. */
  readonly ok: boolean;
}

export interface RecordedSession {
  readonly file: string;
  /** Of the file, line ends as LF. */
  readonly sha256: string;
  readonly rounds: readonly RecordedSessionRound[];
}

/** As the session's file keeps it, but for the place, which is worked out from the readings. */
export interface RecordedSessionRound {
  /** From 1. */
  readonly round: number;
  readonly moment: RoundName;
  readonly camera: CameraOrientation;
  readonly readings: readonly Readonly<Record<string, unknown>>[];
  readonly confirmed: boolean;
  readonly settled: readonly string[];
  readonly setAside: readonly SetAside[];
  readonly codes: readonly string[];
  readonly asked: RecordedMoves | null;
  readonly displacement: Six | null;
  readonly combined: Six | null;
}

export interface RecordedMove {
  readonly move_um: Xyz;
  readonly move_urad: { readonly rx: number; readonly ry: number; readonly rz: number };
}

interface RecordedMoves {
  readonly fraction: number;
  /** Asked for first, before all else is read again. */
  readonly hologram?: RecordedMove;
  readonly part: RecordedMove | null;
  readonly references: Readonly<Record<string, { readonly move_um: Xyz }>>;
  readonly screws?: Readonly<Record<string, number>>;
}

/** A patch or a measurement whose reading is not trusted. */
export interface SetAside {
  readonly reading: string;
  /** Null where its reason is not known. */
  readonly why: string | null;
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
  /** Which round of the session it is; null where it is of none. */
  readonly session?: number | null;
  readonly setAside?: readonly SetAside[];
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
