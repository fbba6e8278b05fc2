/** A change of the wave that a patch sends out (mm of path), as its readings show it, mm: whatever kind of patch it is. */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { apparentMove, type WaveChange } from './apparent-move.ts';
import { apparentMode, normalIncidenceModes } from './normal-incidence-modes.ts';
import { type RingCounts, ringCounts, ringPoints } from './ring-count.ts';

/** As the counts of a ring, fringes: of a motion that the light would meet at normal incidence, ΔE = −d̂·δ, there and back. */
export function apparentCounts(design: Design, { outline }: DesignedPatch, change: WaveChange): RingCounts {
  const points = ringPoints(outline);
  const { wavelength } = design.light;
  const waves = Float64Array.from(points.xs, (x, i) => (-2 * change(x, points.ys[i]!)) / wavelength);
  return ringCounts(outline, points, waves);
}

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
