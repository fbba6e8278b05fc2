/**
 * Errors besides the readings', each a quantity of its own that may shift several readings at once: what they have in common
 * is then not averaged away. A source shifts reading k by effects[k] times a deviate of standard uncertainty `u`.
 */
import type { Design } from '../design/design.ts';
import type { Practice } from './practice.ts';
import type { Reading } from './readings.ts';

/** The terms of a budget, as its table names them. */
export type Term =
  | 'reading'
  | 'measured length'
  | 'apex centring'
  | 'ball form'
  | 'ball radius'
  | 'nest'
  | 'pattern placement'
  | 'hologram alignment'
  | 'laser wavelength'
  | 'air index'
  | 'glass expansion'
  | 'setting by eye';

export interface ErrorSource {
  readonly term: Term;
  /** What it is an error of, in the scenario's names. */
  readonly name: string;
  /** Standard uncertainty, in the source's own unit. */
  readonly u: number;
  readonly distribution: 'normal' | 'rectangular';
  /** mm of each reading for one unit of the source, in the order of the readings. */
  readonly effects: Float64Array;
}

/** Works out the sources of one term. */
export type ErrorModel = (
  design: Design,
  readings: readonly Reading[],
  practice: Practice,
) => readonly ErrorSource[];

/** Whether a source shifts anything at all. */
export const isFelt = ({ u, effects }: ErrorSource): boolean =>
  u > 0 && effects.some((effect) => effect !== 0);
