/** The order of work that a log is held against: the steps of the design's own order, by the words that a log has for them. */
import type { Design } from '../../design/design.ts';
import type { OrderedStep } from '../../metrology/alignment/deviations.ts';
import { orderOfWork } from '../../metrology/job/order-of-work.ts';
import type { WorkStep } from '../../metrology/job/work-step.ts';

/** As the sheet has them, whatever holds the references or aligns the hologram. */
const TITLES: Readonly<Record<WorkStep['kind'], string>> = {
  mount: 'Hologram into its mount',
  hologram: 'Hologram to the beam',
  marks: 'Coarse, by marks',
  coarse: 'Coarse, by a scale and a card',
  seat: 'Contact',
  measure: 'Lengths measured otherwise',
  references: 'References, by fringes',
  features: 'The part itself, at normal incidence',
  seats: 'Seats on the glass',
  tracker: 'The part, by laser tracker',
  constrain: 'What no reading shows',
  clamp: 'Clamping',
  reseat: 'Reseating',
  null: 'The null, last',
};

export const workOrder = (design: Design): readonly OrderedStep[] =>
  orderOfWork(design).map(({ kind }) => ({ kind, title: TITLES[kind] }));
