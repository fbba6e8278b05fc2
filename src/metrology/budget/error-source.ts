/**
 * Errors besides the readings', each a quantity of its own that may shift several readings at once: what they have in common
 * is then not averaged away. A source shifts what it touches by its effects times a deviate of standard uncertainty `u`. Most touch one
 * patch or one reference, so effects are held sparsely.
 */
import type { Design } from '../../design/design.ts';
import type { NullShare } from './null-share.ts';
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
  | 'wavelength as given'
  | 'air index'
  | 'site pressure'
  | 'glass thickness'
  | 'glass index'
  | 'wedge'
  | 'transmitted wavefront'
  | 'interferometer reference'
  | 'glass expansion'
  | 'own figure'
  | 'setting by eye';

export interface ErrorSource {
  readonly term: Term;
  /** What it is an error of, in the scenario's names. */
  readonly name: string;
  /** Standard uncertainty, in the source's own unit. */
  readonly u: number;
  readonly distribution: 'normal' | 'rectangular';
  /** Where the test wavefront moves too, what the readings show beyond the share that it goes along with. */
  readonly effects: Effects;
  /** All that the readings show, which counts against the hologram itself; undefined where it is the same. */
  readonly inHologram?: Effects;
  /** What it does to the null of the surface under test; undefined where it does nothing, or no surface is named. */
  readonly ofNull?: NullShare;
}

/** What a source does to the readings that it touches; the others it leaves alone. */
export interface Effects {
  /** Numbers of the readings touched, rising. */
  readonly at: readonly number[];
  /** mm of each of those readings for one unit of the source; none is 0. */
  readonly by: readonly number[];
}

/** From the effect on each of the given readings (their numbers, rising), mm for one unit. */
export function effectsOn(readings: Iterable<number>, effect: (reading: number) => number): Effects {
  const at: number[] = [];
  const by: number[] = [];
  for (const reading of readings) {
    const shift = effect(reading);
    if (shift === 0) continue;
    at.push(reading);
    by.push(shift);
  }
  return { at, by };
}

/** The sources as they count for a part that is placed against the hologram itself instead of against the test wavefront. */
export const againstHologram = (sources: readonly ErrorSource[]): readonly ErrorSource[] =>
  sources.map((source) =>
    source.inHologram === undefined ? source : { ...source, effects: source.inHologram },
  );

/** Works out the sources of one term. */
export type ErrorModel = (
  design: Design,
  readings: readonly Reading[],
  practice: Practice,
) => readonly ErrorSource[];

/** Whether a source shifts anything at all. */
export const isFelt = ({ u, effects }: ErrorSource): boolean => u > 0 && effects.at.length > 0;
