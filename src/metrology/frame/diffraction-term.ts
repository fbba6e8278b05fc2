/**
 * What diffraction may do to a reading that is fitted by rays: the ripples of the patch's edges reach √(2λs) into it, the part 1/√F of its half-width
 * for the Fresnel number F of the round trip (sensing/fresnel.ts), and pull at the fringes by as much as they cover. Fringes, standard.
 *
 * An input of its own to the stated uncertainty, added as JCGM 100:2008 (5.1.2) has it, by the root of the sum of squares. The factors are the root
 * mean square of √F times the error of readings of noise-free pictures that scalar diffraction made (optics/diffraction-return.ts): 204
 * of line foci, F from 5 to 50, with 0.03 to 0.065 for a design; 72 of balls, F from 2 to 10, with 0.15 to 0.22. The larger ones are taken for
 * balls, of which the tilts err less than the power. The tests have frames by other diffraction integrals too.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { fresnelNumberOf } from '../sensing/fresnel.ts';

/** Fringes at a Fresnel number of 1. */
const AT_ONE = { line: 0.055, ball: 0.2 } as const;

/** Undefined of rings, which no model of diffraction tells. */
export function diffractionTerm(design: Design, patch: DesignedPatch): number | undefined {
  const { senses } = patch;
  const fresnel = senses.length === 0 ? undefined : fresnelNumberOf(design, patch);
  if (fresnel === undefined) return undefined;
  return (senses.length === 1 ? AT_ONE.line : AT_ONE.ball) / Math.sqrt(fresnel.number);
}
