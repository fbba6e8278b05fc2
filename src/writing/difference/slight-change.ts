/**
 * Changes too small to act on: of figures that are computed, less than a reader's digits; of places and phases, less than any
 * process writes or instrument reads. What the scenario states is never slight.
 */
import type { Change } from './difference.ts';

/** Relative, of a computed figure. */
const FIGURE = 1e-4;
/** µm */
const PLACE = 1e-3;
/** Waves, and fringes. */
const PHASE = 1e-4;

export const SLIGHT_WORDS =
  'figures by less than 0.01 %, places by less than 1 nm, phases by less than 0.0001 waves';

const COMPUTED = new Set(['patch', 'reference', 'part']);

export function isSlight({ about, before, after, by, unit }: Change): boolean {
  if (!COMPUTED.has(about) || by === undefined) return false;
  if (unit === 'waves' || unit === 'fringes') return Math.abs(by) < PHASE;
  if (typeof before === 'number' && typeof after === 'number')
    return Math.abs(by) < FIGURE * Math.max(Math.abs(before), Math.abs(after));
  return by < PLACE;
}
