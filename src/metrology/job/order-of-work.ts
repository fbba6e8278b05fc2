/**
 * The order of work at the bench for a design, as data: the hologram first, then marks and what sets references near, then references by
 * what holds them, seats and tracker, what nothing observes, and at the end clamping, reseating and the null. Only what the design can
 * show is asked for.
 */
import type { Design } from '../../design/design.ts';
import { isSeen, measuredOnPart, trackedJob } from './carriers.ts';
import { clampStep, reseatSteps } from './closing-steps.ts';
import { hologramStep } from './hologram-step.ts';
import { constrainSteps, seatSteps, trackerSteps } from './measured-steps.ts';
import {
  coarseSteps,
  featureSteps,
  fringeSteps,
  lengthSteps,
  markSteps,
  touchSteps,
} from './reference-steps.ts';
import { stepOf } from './step-parts.ts';
import type { WorkStep } from './work-step.ts';

export function orderOfWork(design: Design): readonly WorkStep[] {
  const tracked = trackedJob(design);
  const seen = design.references.filter((reference) => isSeen(design, reference));
  return [
    stepOf('mount', 'eye', { patches: design.patches }),
    hologramStep(design),
    ...markSteps(design),
    ...touchSteps(seen),
    ...coarseSteps(design),
    ...lengthSteps(design),
    ...fringeSteps(design),
    ...featureSteps(design),
    ...touchSteps(measuredOnPart(design, tracked)),
    ...seatSteps(design, tracked),
    ...trackerSteps(design, tracked),
    ...constrainSteps(design, tracked),
    clampStep(design, tracked),
    ...reseatSteps(design),
    stepOf('null', 'main pattern', {}),
  ];
}
