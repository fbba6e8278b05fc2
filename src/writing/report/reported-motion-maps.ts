/** What motions leave in the measured figure, as the report carries it: by degree of the part and of the hologram. nm for 1 µm or 1 µrad. */
import type { Design } from '../../design/design.ts';
import { type MotionMap, motionMaps } from '../../metrology/null/motion-maps.ts';
import { NM_PER_MM, UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import type { Degree } from '../../scenario/scenario.ts';

export interface ReportedMotionMaps {
  readonly perMotion: Readonly<Record<Degree, ReportedLeft>>;
  readonly perHologramMotion: Readonly<Record<Degree, ReportedLeft>>;
}

export interface ReportedLeft {
  readonly unit: 'um' | 'urad';
  /** Rms of surface height for one unit of motion, before and after `removed`. */
  readonly raw_nm: number;
  readonly left_nm: number;
  /** Zernike terms by ISO 24157 on the aperture, j = 0 … 14. */
  readonly terms_nm: readonly number[];
}

/** Undefined where the scenario names no surface under test. */
export function reportedMotionMaps(design: Design): ReportedMotionMaps | undefined {
  const maps = motionMaps(design);
  if (maps === undefined) return undefined;
  return { perMotion: byDegree(maps.maps), perHologramMotion: byDegree(maps.hologram) };
}

const byDegree = (maps: readonly MotionMap[]): Readonly<Record<Degree, ReportedLeft>> =>
  Object.fromEntries(maps.map((map) => [map.degree, reportedLeft(map)])) as Record<Degree, ReportedLeft>;

function reportedLeft({ degree, raw, left, terms }: MotionMap): ReportedLeft {
  const scale = nmFor(isTurn(degree) ? 'urad' : 'um');
  return {
    unit: isTurn(degree) ? 'urad' : 'um',
    raw_nm: raw * scale,
    left_nm: left * scale,
    terms_nm: Array.from(terms, (term) => term * scale),
  };
}

const isTurn = (degree: Degree): boolean => degree.startsWith('r');

/** From mm for 1 mm or 1 rad. */
const nmFor = (unit: ReportedLeft['unit']): number =>
  NM_PER_MM / (unit === 'urad' ? URAD_PER_RAD : UM_PER_MM);
