/**
 * The order in which the patches are worked at: from the fewest fringes for a micrometre of tilt to the most, each a closer setting than
 * the one before; the scenario's order where there is nothing to choose. Before them return rings, since the hologram is set first; at the end
 * what is not read by tilt.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { sensesOf } from './sensitivity.ts';

export function inOrderOfWork(design: Design): readonly DesignedPatch[] {
  const seen = new Map(design.patches.map((patch) => [patch, fringesOf(design, patch)]));
  return design.patches.toSorted((a, b) => {
    const [one, other] = [seen.get(a)!, seen.get(b)!];
    return one === other ? 0 : one - other;
  });
}

/** Ids of the patches in the order of their numbers on the sheet, the drawings and the aperture’s picture, the first of them 1. */
export const patchNumbers = ({ patches }: Design): readonly string[] => patches.map(({ id }) => id);

/** Infinity where there is no tilt; a return ring goes before all else. */
function fringesOf(design: Design, patch: DesignedPatch): number {
  if (isReadBy(patch.reference, 'alignment')) return Number.NEGATIVE_INFINITY;
  const tilt = sensesOf(design, patch).find(({ kind }) => kind === 'tilt');
  return tilt === undefined ? Number.POSITIVE_INFINITY : Number(tilt.fringesPerMm.toPrecision(SAME_DIGITS));
}

/** Sensitivities that agree to so many digits are one. */
const SAME_DIGITS = 3;
