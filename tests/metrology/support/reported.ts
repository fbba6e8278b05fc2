/** The estimates in µm and µrad, as reports carry them: what the tests' figures are in. */
import type { Design, DesignedPatch } from '../../../src/design/design.ts';
import { referencePositions as positionsInMm } from '../../../src/metrology/estimate/reference-position.ts';
import { normalIncidenceFringes as ofPart } from '../../../src/metrology/rings/normal-incidence-fringes.ts';
import {
  type MotionFringes,
  returnRingFringes as ofHologram,
} from '../../../src/metrology/rings/return-ring.ts';
import type { ReportedReference } from '../../../src/writing/report/report-form.ts';
import { reportedMotion } from '../../../src/writing/report/reported-motion.ts';
import {
  reportedPart,
  reportedPosition,
  reportedSeatFrame,
} from '../../../src/writing/report/reported-uncertainty.ts';

export const partPose = reportedPart;
export const seatFrame = (design: Design) => reportedSeatFrame(design) ?? undefined;
export const referencePositions = (design: Design): readonly Omit<ReportedReference, 'cube' | 'reach'>[] =>
  positionsInMm(design).map(reportedPosition);

const perMicro = (fringes: MotionFringes | undefined) => fringes && reportedMotion(fringes);
export const normalIncidenceFringes = (design: Design, patch: DesignedPatch) =>
  perMicro(ofPart(design, patch));
export const returnRingFringes = (design: Design, patch: DesignedPatch) =>
  perMicro(ofHologram(design, patch));
