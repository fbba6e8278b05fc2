/** Fringes for a motion of the hologram or of the part, as reports carry them: per µm and per µrad. */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { normalIncidenceFringes } from '../../metrology/rings/normal-incidence-fringes.ts';
import { type MotionFringes, returnRingFringes } from '../../metrology/rings/return-ring.ts';
import { UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import type { ReportedMotion } from './report-form.ts';

/** Of a return ring for the hologram's motions, of a datum feature for the part's; null for any other patch. */
export function motionOf(design: Design, patch: DesignedPatch): ReportedMotion | null {
  const [ofHologram, ofPart] = [returnRingFringes(design, patch), normalIncidenceFringes(design, patch)];
  if (ofHologram !== undefined) return { of: 'hologram', frame: 'substrate', ...reportedMotion(ofHologram) };
  return ofPart === undefined ? null : { of: 'part', frame: 'part', ...reportedMotion(ofPart) };
}

export const reportedMotion = ({
  fringesPerMm: { x, y, z },
  fringesPerRad: { rx, ry, rz },
}: MotionFringes): Pick<ReportedMotion, 'fringesPerUm' | 'fringesPerUrad'> => ({
  fringesPerUm: { x: x / UM_PER_MM, y: y / UM_PER_MM, z: z / UM_PER_MM },
  fringesPerUrad: { rx: rx / URAD_PER_RAD, ry: ry / URAD_PER_RAD, rz: rz / URAD_PER_RAD },
});
