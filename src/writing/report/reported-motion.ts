/** Fringes for a motion of the hologram or of the part, as reports carry them: per µm and per µrad. */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { type DegreeRanges, motionRanges } from '../../metrology/rings/motion-range.ts';
import { normalIncidenceFringes } from '../../metrology/rings/normal-incidence-fringes.ts';
import { type MotionFringes, returnRingFringes } from '../../metrology/rings/return-ring.ts';
import { UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import type { ReportedMotion, ReportedMoves, ReportedTurns } from './report-form.ts';

/** Of a return ring for the hologram's motions, of a datum feature for the part's; null for any other patch. */
export function motionOf(design: Design, patch: DesignedPatch): ReportedMotion | null {
  const [ofHologram, ofPart] = [returnRingFringes(design, patch), normalIncidenceFringes(design, patch)];
  const ranges = motionRanges(design, patch);
  if (ranges === undefined) return null;
  const { capture, readable } = ranges;
  const ranged = {
    captureRange_um: movesOf(capture),
    captureRange_urad: turnsOf(capture),
    readableRange_um: movesOf(readable),
    readableRange_urad: turnsOf(readable),
  };
  if (ofHologram !== undefined)
    return { of: 'hologram', frame: 'substrate', ...reportedMotion(ofHologram), ...ranged };
  return ofPart === undefined ? null : { of: 'part', frame: 'part', ...reportedMotion(ofPart), ...ranged };
}

const times = (unit: number, amount: number | undefined): number | null =>
  amount === undefined ? null : amount * unit;
const movesOf = ({ x, y, z }: DegreeRanges): ReportedMoves => {
  return { x: times(UM_PER_MM, x), y: times(UM_PER_MM, y), z: times(UM_PER_MM, z) };
};
const turnsOf = ({ rx, ry, rz }: DegreeRanges): ReportedTurns => {
  return { rx: times(URAD_PER_RAD, rx), ry: times(URAD_PER_RAD, ry), rz: times(URAD_PER_RAD, rz) };
};

export const reportedMotion = ({
  fringesPerMm: { x, y, z },
  fringesPerRad: { rx, ry, rz },
}: MotionFringes): Pick<ReportedMotion, 'fringesPerUm' | 'fringesPerUrad'> => ({
  fringesPerUm: { x: x / UM_PER_MM, y: y / UM_PER_MM, z: z / UM_PER_MM },
  fringesPerUrad: { rx: rx / URAD_PER_RAD, ry: ry / URAD_PER_RAD, rz: rz / URAD_PER_RAD },
});
