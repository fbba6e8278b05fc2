/**
 * What an edge shift leaves of the lines and spaces of a patch: one that closes a line or a space, or that bends an edge into itself, is
 * refused; one that takes a line or a space under the process's least feature is warned of. Both edges of a line move. mm.
 */
import { type Design, patternsOf } from '../design/design.ts';
import type { Pattern } from '../design/pattern.ts';
import type { Finding } from '../finding/finding.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { NM_PER_MM, UM_PER_MM } from '../quantity/conversion.ts';
import { trimmed } from '../quantity/format.ts';
import { type Narrowest, narrowestOf } from './least-widths.ts';

const um = (mm: number): string => `${trimmed(mm * UM_PER_MM, 4)} µm`;
const placeWords = ([x, y]: Vec2): string => `x ${trimmed(x, 4)} mm, y ${trimmed(y, 4)} mm`;

/** Throws a RangeError that names patch, place and width where nothing is left, or where an edge cannot be followed to `bound`. */
export function expectRoomForShift(patch: Pattern, dutyCycle: number, shift: number, bound: number): void {
  if (shift === 0 || !Number.isFinite(shift)) return;
  const { narrowest, turns } = narrowed(patch, dutyCycle, shift);
  const { kind, width, at } = narrowest;
  if (2 * Math.abs(shift) >= width)
    throw new RangeError(
      `an edge shift of ${um(shift)} closes the narrowest ${kind} of patch ${patch.id}, ${um(width)} wide at ${placeWords(at)}; ` +
        'expected less than half of that',
    );
  for (const bend of turns.bends) {
    const turnsOver = bend.closesOutward === shift > 0 && Math.abs(shift) >= bend.radius;
    // Where a moved edge ends on a cut its place is right to second order in the shift.
    if (!turnsOver && shift * shift <= 2 * bound * bend.away) continue;
    throw new RangeError(
      `an edge shift of ${um(shift)} cannot be followed to ${trimmed(bound * NM_PER_MM, 1)} nm by a line of patch ${patch.id} that ` +
        `bends with a radius of ${um(bend.radius)} at ${placeWords(bend.at)}; expected a smaller shift, or another bias of the patch`,
    );
  }
}

/** A warning for each patch with a line or a space that the shift makes narrower than `process.minFeature`. */
export function shiftedFeatures(design: Design, shift: number): readonly Finding[] {
  const { minFeature, dutyCycle } = design.scenario.process;
  if (shift === 0 || !Number.isFinite(shift)) return [];
  return patternsOf(design).flatMap(({ pattern, name, path }): Finding[] => {
    const { kind, width, at } = narrowed(pattern, dutyCycle, shift).narrowest;
    const left = width - 2 * Math.abs(shift);
    if (left >= minFeature * (1 - ROUNDING) || left <= 0) return [];
    return [
      {
        severity: 'warning',
        rule: 'shifted-feature',
        where: pattern.id,
        message:
          `${name} has a ${kind} of ${um(width)} at ${placeWords(at)}, of which an edge shift of ${um(shift)} leaves ` +
          `${um(left)}; the minimum is ${um(minFeature)}`,
        hint: 'use a smaller shift, a coarser pattern or a finer process; check `process.minFeature`',
        value: left * UM_PER_MM,
        limit: minFeature * UM_PER_MM,
        unit: 'um',
        path,
        patches: [pattern.id],
      },
    ];
  });
}

/** A width that is the least feature but for rounding is wide enough. */
const ROUNDING = 1e-9;

/** What the shift narrows: lines where it goes inward, spaces where outward. */
const narrowed = (patch: Pattern, dutyCycle: number, shift: number): Narrowest =>
  narrowestOf(patch, dutyCycle, shift < 0 ? 'line' : 'space');
