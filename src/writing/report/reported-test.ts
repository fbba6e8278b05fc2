/** The null test as reports carry it: its main pattern, what each motion of the part leaves in the figure, and what misalignment will. nm. */
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { periodRange } from '../../design/period-range.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { figureAllowances } from '../../metrology/null/figure-allowances.ts';
import { type FigureError, figureError } from '../../metrology/null/figure-error.ts';
import { distortionOf, mappedMarks } from '../../metrology/null/mapping.ts';
import { nullSight } from '../../metrology/null/null-readings.ts';
import { DEG_PER_RAD, NM_PER_MM, UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import type { Degree } from '../../scenario/scenario.ts';
import { significant } from '../page/figures.ts';
import { type ReportedMotionMaps, reportedMotionMaps } from './reported-motion-maps.ts';
import { type ReportedNullReadings, reportedNullReadings } from './reported-null-readings.ts';
import { type ReportedOutline, reportedOutline } from './reported-outline.ts';

export interface ReportedTest extends ReportedMotionMaps {
  readonly surface: string;
  /** What of the pattern the light of the aperture crosses. */
  readonly footprint: ReportedOutline;
  readonly period_um: { readonly min: number; readonly max: number };
  /** What the evaluation takes out. */
  readonly removed: readonly string[];
  readonly mapping: ReportedMapping;
  readonly fiducials: readonly ReportedFiducial[];
  /** How well each degree must be set for the figure to be kept, errors independent; null where the scenario asks for no figure. */
  readonly allowances: Readonly<Record<Degree, ReportedAllowance>> | null;
  readonly figure_nm: {
    /** Rms; null where a motion that no reading sees leaves most of it. */
    readonly expected: number | null;
    readonly p95: number | null;
    /** Rms that comes to `expected`, as a root of squares, while the part stands off its own null as far as the readings let it. */
    readonly secondOrder: number | null;
    readonly allowed: number | null;
    /** The degree that adds most; null where nothing is left. */
    readonly mostly: Degree | null;
    /** Of the expected square; negative where a degree makes up for another. */
    readonly shares: Readonly<Record<Degree, number>>;
    /** Rms by term of the budget, the largest first. */
    readonly terms: readonly { readonly term: string; readonly left: number }[];
    /** Motions that no reading sees, in words, with what setting by eye leaves of each. */
    readonly unseen: FigureError['unseen'];
  };
  readonly nullReadings: ReportedNullReadings;
}

/** From the pattern to the surface's own x and y: the best similarity, and what is left. */
interface ReportedMapping {
  /** mm of surface for 1 mm of pattern. */
  readonly scale: number;
  readonly rotation_deg: number;
  readonly mirrored: boolean;
  /** Of the circle about the aperture. */
  readonly distortion_percent: { readonly rms: number; readonly largest: number };
  readonly largestAt_mm: Vec2;
}

/** A mark on the surface, and where it appears. */
interface ReportedFiducial {
  readonly id: string;
  /** The surface's own x and y. */
  readonly at: Vec2;
  readonly pattern_mm: Vec2;
  /** Column and row. */
  readonly camera_px: Vec2;
}

interface ReportedAllowance {
  readonly unit: 'um' | 'urad';
  /** Standard uncertainties. */
  readonly allowed: number;
  /** Null where the degree is not observed. */
  readonly reached: number | null;
  /** Whether setting by eye is enough. */
  readonly byEye: boolean;
}

/** Undefined where the scenario names no surface under test. */
export function reportedTest(design: Design): ReportedTest | undefined {
  const { main } = design;
  const maps = reportedMotionMaps(design);
  const error = figureError(design);
  const sight = nullSight(design);
  if (main === undefined || maps === undefined || error === undefined || sight === undefined)
    return undefined;
  const { min, max } = periodRange(main);
  const { expected, p95, secondOrder, mostly, shares, terms, unseen } = error;
  const { figure } = main.test;
  const nm = (value: number | null): number | null => (value === null ? null : value * NM_PER_MM);
  return {
    surface: main.test.surface,
    footprint: reportedOutline(main.footprint),
    period_um: { min: min * UM_PER_MM, max: max * UM_PER_MM },
    removed: main.test.removed,
    mapping: reportedMapping(main),
    fiducials: mappedMarks(design, main).map(({ id, point: { surface, pattern, camera } }) => ({
      id,
      at: surface,
      pattern_mm: pattern,
      camera_px: camera,
    })),
    ...maps,
    allowances: reportedAllowances(design),
    figure_nm: {
      expected: nm(expected),
      p95: nm(p95),
      secondOrder: nm(secondOrder),
      allowed: figure === undefined ? null : figure * NM_PER_MM,
      mostly,
      shares,
      terms: terms.map(([term, square]) => ({ term, left: Math.sqrt(square) * NM_PER_MM })),
      unseen: unseen.map(({ words, left }) => ({ words, left: left * NM_PER_MM })),
    },
    nullReadings: reportedNullReadings(sight),
  };
}

/** Null where the scenario asks for no figure. */
export function reportedAllowances(design: Design): ReportedTest['allowances'] {
  const found = figureAllowances(design);
  if (found === undefined) return null;
  const rows = found.map(({ degree, allowed, reached, byEye }) => {
    const isTurn = degree.startsWith('r');
    const scale = isTurn ? URAD_PER_RAD : UM_PER_MM;
    const row: ReportedAllowance = {
      unit: isTurn ? 'urad' : 'um',
      allowed: allowed * scale,
      reached: reached === null ? null : reached * scale,
      byEye,
    };
    return [degree, row] as const;
  });
  return Object.fromEntries(rows) as Record<Degree, ReportedAllowance>;
}

function reportedMapping(main: MainPattern): ReportedMapping {
  const { scale, rotation, isMirrored, rms, largest, largestAt, diameter } = distortionOf(main);
  return {
    scale,
    rotation_deg: rotation * DEG_PER_RAD,
    mirrored: isMirrored,
    distortion_percent: { rms: (100 * rms) / diameter, largest: (100 * largest) / diameter },
    largestAt_mm: largestAt,
  };
}

/** As `check` and the sheet say it: two digits of an expectation, three of what is asked. */
export const nmWords = (value: number, digits = 2): string => `${significant(value, digits)} nm`;
