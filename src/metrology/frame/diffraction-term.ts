/**
 * What diffraction may do to a reading that is fitted by rays: the ripples of the patch's edges reach √(2λs) into it, the part 1/√F of its half-width
 * for the Fresnel number F of the round trip (sensing/fresnel.ts), and pull at the fringes by as much as they cover. Fringes, standard.
 *
 * An input of its own to the stated uncertainty, added as JCGM 100:2008 (5.1.2) has it, by the root of the sum of squares. The factors cover the
 * root mean square error of readings of pictures that scalar diffraction made (optics/diffraction-return.ts). Lines: 204 values without
 * noise, F from 5 to 50, √F times the error 0.03 to 0.065 for a design. Balls: 0.2/√F in 72 values without noise; of whole
 * frames with 2 % of noise and references some 1.5 fringes off, 210 values, 0.233, 0.125 and 0.065 fringe at F of 5.1, 7.7 and 10.4:
 * toward smaller numbers the patch's whole picture changes, as 7/F² has it. The tests have frames by other diffraction integrals too.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { fresnelNumberOf } from '../sensing/fresnel.ts';

/** Fringes at a Fresnel number of 1: of the ripples along the edges, as 1/√F, and of the whole picture, as 1/F². */
const AT_ONE = { line: { ripples: 0.055, whole: 0 }, ball: { ripples: 0.2, whole: 7 } } as const;

/** Undefined of rings, which no model of diffraction tells. */
export function diffractionTerm(design: Design, patch: DesignedPatch): number | undefined {
  const { senses } = patch;
  const fresnel = senses.length === 0 ? undefined : fresnelNumberOf(design, patch);
  if (fresnel === undefined) return undefined;
  const { ripples, whole } = senses.length === 1 ? AT_ONE.line : AT_ONE.ball;
  return Math.hypot(ripples / Math.sqrt(fresnel.number), whole / fresnel.number ** 2);
}
