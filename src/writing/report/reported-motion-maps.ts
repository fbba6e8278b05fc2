/** What motions leave in the measured figure, as the report carries it: by degree of the part and of the hologram. nm for 1 µm or 1 µrad. */
import type { Design } from '../../design/design.ts';
import { alikeMaps, hiddenMotions } from '../../metrology/null/hidden-motions.ts';
import { type MotionMap, motionMaps } from '../../metrology/null/motion-maps.ts';
import { NM_PER_MM, UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import type { Degree } from '../../scenario/scenario.ts';

export interface ReportedMotionMaps {
  readonly perMotion: Readonly<Record<Degree, ReportedLeft>>;
  readonly perHologramMotion: Readonly<Record<Degree, ReportedLeft>>;
  /** Motions of the part that the measured figure hardly shows. */
  readonly hidden: readonly ReportedHidden[];
  /** Single degrees that leave maps of one look, the closest pair first. */
  readonly alike: readonly ReportedAlike[];
}

interface ReportedHidden {
  /** `to turn about the part's z axis`. */
  readonly words: string;
  readonly unit: ReportedLeft['unit'];
  /** For one unit of the move or turn. */
  readonly left_nm: number;
}

interface ReportedAlike {
  /** Such as `part x` and `hologram ry`. */
  readonly one: string;
  readonly other: string;
  /** Negative where one is the other turned over. */
  readonly correlation: number;
}

interface ReportedLeft {
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
  const hidden = hiddenMotions(design);
  if (maps === undefined || hidden === undefined) return undefined;
  return {
    perMotion: byDegree(maps.maps),
    perHologramMotion: byDegree(maps.hologram),
    hidden: hidden.map(({ words, isTurn: turns, left }) => {
      const unit = turns ? 'urad' : 'um';
      return { words, unit, left_nm: left * nmFor(unit) };
    }),
    alike: alikeMaps(maps).map(({ one, other, correlation }) => {
      return { one: `${one.of} ${one.degree}`, other: `${other.of} ${other.degree}`, correlation };
    }),
  };
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
