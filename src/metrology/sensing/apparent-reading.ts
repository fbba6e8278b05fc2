/** A change of the wave that a patch sends out (mm of path), as its readings show it, mm: whatever kind of patch it is. */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { apparentMove, type WaveChange } from './apparent-move.ts';
import { apparentMode, normalIncidenceModes } from './normal-incidence-modes.ts';

export function apparentReading(
  design: Design,
  patch: DesignedPatch,
  sense: number,
  change: WaveChange,
): number {
  if (patch.normalIncidence === undefined) return apparentMove(design, patch, sense, change);
  const all = normalIncidenceModes(design, patch);
  const mode = all.modes[sense];
  if (mode === undefined) throw new RangeError(`patch ${patch.id} has no picture number ${sense + 1}`);
  return apparentMode(all, mode, change);
}
