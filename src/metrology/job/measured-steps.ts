/** Steps of a measuring machine and of a tracker, and what neither they nor fringes tell. mm, radians. */
import type { Design } from '../../design/design.ts';
import { wishedDegrees } from '../../scenario/scenario.ts';
import { freedomOf } from '../estimate/pose-estimate.ts';
import { seatFrame } from '../estimate/seat-frame.ts';
import { fixesMotion, measuredOnPart, referenceOf, type TrackedJob } from './carriers.ts';
import { idsOf, inPlace, stepOf } from './step-parts.ts';
import type { WorkStep } from './work-step.ts';

/** Seats, and in their frame what is on the part unless a tracker takes that: no closer than the frame reaches. */
export function seatSteps(design: Design, tracked: TrackedJob | undefined): readonly WorkStep[] {
  const { seats } = design.scenario;
  if (seats.length === 0) return [];
  const reach = new Map(seatFrame(design)?.atReferences?.map(({ id, largest }) => [id, largest]));
  const references = tracked === undefined ? measuredOnPart(design, tracked) : [];
  const by = seats.every(({ kind }) => kind === 'nest') ? 'tracker' : 'measuring machine';
  return [
    stepOf('seats', by, {
      references,
      items: idsOf(seats),
      done: [
        ...seats.map(({ id, uncertainty }) => inPlace(id, uncertainty)),
        ...references.map(({ id }) => inPlace(id, reach.get(id)!)),
      ],
    }),
  ];
}

/** First the points that tie it to the hologram, then those on the part. */
export function trackerSteps(design: Design, tracked: TrackedJob | undefined): readonly WorkStep[] {
  if (tracked === undefined) return [];
  const { wanted } = design.scenario;
  const items = [...tracked.hologram, ...tracked.part];
  return [
    stepOf('tracker', 'tracker', {
      references: items.map((point) => ({ id: referenceOf(point) })),
      items,
      done: wishedDegrees(wanted).map((degree) =>
        inPlace(degree, wanted[degree]!, degree.startsWith('r') ? 'rad' : 'mm'),
      ),
      command: 'transfer',
    }),
  ];
}

/** Motions of the part that neither fringes nor a tracker nor a measuring machine tells, in words. */
export function constrainSteps(design: Design, tracked: TrackedJob | undefined): readonly WorkStep[] {
  if (fixesMotion(measuredOnPart(design, tracked))) return [];
  const items = freedomOf(design).free.motions.map(({ words }) => words);
  return items.length === 0 ? [] : [stepOf('constrain', 'other means', { items })];
}
