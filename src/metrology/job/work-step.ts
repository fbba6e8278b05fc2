/**
 * One step of the order of work at the bench, as data: what is set, what settles or holds it, how to tell that it is done, and which
 * command takes over. mm, radians, fringes inside.
 */
import type { Vec3 } from '../../geometry/vector.ts';

/** In the order in which they come; steps of one kind follow each other. */
export const STEP_KINDS = [
  'mount', // the hologram into its mount, and the camera's picture compared with the drawing
  'hologram', // aligned to the beam
  'marks', // spots and crosses on their screens
  'coarse', // references near enough for fringes
  'seat', // references against the datums that they touch
  'measure', // lengths measured otherwise, that the fringes are worked with
  'references', // fringes of balls and retroreflectors
  'features', // fringes of the part's own features
  'seats', // seats on the glass, measured, and the part in their frame
  'tracker', // the part by a laser tracker
  'constrain', // what nothing of the design observes
  'clamp', // everything read once more
  'reseat', // references out of their nests and back
  'null', // the null of the part
] as const;
type StepKind = (typeof STEP_KINDS)[number];

/** What settles the hologram, holds a reference, or measures. */
export const MEANS = [
  ...['return ring', 'reflection', 'seats', 'placing'],
  ...['part', 'stage', 'mounts', 'part or mounts'],
  ...['tracker', 'measuring machine', 'eye', 'other means', 'main pattern'],
] as const;
export type Means = (typeof MEANS)[number];

export interface WorkStep {
  readonly kind: StepKind;
  readonly by: Means;
  /** Ids in the order in which they are worked at. Empty where the step has none. */
  readonly references: readonly string[];
  readonly patches: readonly string[];
  /** Seats, measurements, screws, datums, or motions in words, by `kind` and `by`. */
  readonly items: readonly string[];
  readonly done: readonly Criterion[];
  /** What to run with what was read. */
  readonly command?: 'steer' | 'transfer';
}

/** The step is done when the quantity is `value` to within `within`. */
export interface Criterion {
  /** A patch, a reference, a seat, a measurement, a degree of freedom, or `beam`. */
  readonly of: string;
  /**
   * `fringes`: seen; `offset`: from the design place; `distance`: from the pattern's centre; `length`: along `direction` from the
   * pattern's centre; `change`: from the reading before.
   */
  readonly quantity: 'fringes' | 'offset' | 'distance' | 'length' | 'change';
  readonly value: number;
  readonly within: number;
  readonly unit: 'fringes' | 'mm' | 'rad';
  /** Of a length: toward which it is counted, substrate frame. */
  readonly direction?: Vec3;
}
