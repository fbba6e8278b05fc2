/**
 * What to do with the hologram, from its return rings: the move as turns, the same as a shift, and what the rings cannot tell apart. µm and
 * µrad; moves to make, in the substrate frame, turned about its origin.
 */
import type { Vec3 } from '../../geometry/vector.ts';
import type { HologramSteering } from '../../metrology/steering/steering-hologram.ts';
import { UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import { significant } from '../page/figures.ts';
import { moveRow, undoing } from './bench-figures.ts';

/** The move for a displacement found, or with `sign` +1 the displacement itself. */
export function hologramMove({ turned, shifted }: HologramSteering) {
  return (unknowns: Float64Array, sign: 1 | -1) => {
    const [turn, shift] = [turned(unknowns), shifted?.(unknowns)];
    const row = (found: typeof turn) => moveRow(sign > 0 ? found : undoing(found));
    return { ...row(turn), insteadByShift_um: shift === undefined ? null : row(shift).move_um };
  };
}

export const hologramSigma = ({ sigma: { shift, turn } }: HologramSteering) => ({
  x: micro(shift[0], UM_PER_MM),
  y: micro(shift[1], UM_PER_MM),
  z: micro(shift[2], UM_PER_MM),
  rx: micro(turn[0], URAD_PER_RAD),
  ry: micro(turn[1], URAD_PER_RAD),
  rz: micro(turn[2], URAD_PER_RAD),
});

const micro = (value: number | undefined, scale: number): number | null =>
  value === undefined ? null : value * scale;

/** In words, what shows alike and what does not show. */
export function notTold({ shiftPerTurn }: HologramSteering): readonly string[] {
  if (shiftPerTurn === undefined) return ['x', 'y', 'z', 'rz'];
  const alike = (turn: string, shift: Vec3): string => {
    const along = Math.abs(shift[0]) > Math.abs(shift[1]) ? 0 : 1;
    const um = shift[along] * (UM_PER_MM / URAD_PER_RAD);
    return `${turn} from ${'xy'[along]} (1 µrad shows as ${significant(um, 3)} µm)`;
  };
  return [alike('rx', shiftPerTurn[0]), alike('ry', shiftPerTurn[1]), 'rz'];
}
