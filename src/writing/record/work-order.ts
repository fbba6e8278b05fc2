/** The order of work that a log is held against: the steps of the sheet, by the words that a log has for them. */
import type { OrderedStep } from '../../metrology/alignment/deviations.ts';

export const WORK_ORDER: readonly OrderedStep[] = [
  { kind: 'hologram', title: 'Hologram to interferometer' },
  { kind: 'coarse', title: 'Coarse, by eye' },
  { kind: 'references', title: 'References, patch by patch' },
  { kind: 'part', title: 'Part' },
  { kind: 'verification', title: 'Verification' },
];
