/**
 * Rule unaligned-hologram: something reads the hologram's place against the beam, a return ring or a plate's own reflection in a collimated
 * beam, or the scenario says how well it is known. Otherwise the budget counts with common practice, a scale or an indicator, which may be
 * far more than all readings together. Asked of designs that wish for an accuracy.
 */
import { isAligned } from '../metrology/budget/hologram-alignment.ts';
import { COMMON_PRACTICE } from '../metrology/budget/practice.ts';
import { UM_PER_MM, URAD_PER_RAD } from '../quantity/conversion.ts';
import { asksAccuracy } from '../scenario/scenario.ts';
import { rule } from './rule.ts';

export const unalignedHologram = rule(
  {
    code: 'unaligned-hologram',
    severity: 'warning',
    scope: 'design',
    meaning:
      'Nothing reads the hologram’s place against the beam, and the scenario does not say how well it is known.',
    limit: 'a return ring, a collimated beam, or `interferometer.placed`',
    remedy: 'Add a return ring, or state `interferometer.placed`.',
    planning: { by: 'growth' },
  },
  (design) => {
    const { interferometer } = design.scenario;
    const isStated = Object.keys(interferometer.placed ?? {}).length > 0;
    if (isAligned(design) || isStated || !asksAccuracy(design.scenario)) return [];
    const { z, rx } = COMMON_PRACTICE.placed;
    return [
      {
        where: 'interferometer.placed',
        message:
          'nothing reads the hologram’s place against the beam: a flat plate’s reflection has no null in a spherical beam, and there is no return ring; ' +
          `the budget takes ${z * UM_PER_MM} µm along each axis and ${rx * URAD_PER_RAD} µrad of tilt, by common practice`,
        hint: 'add a return ring, which settles it, or state `interferometer.placed`',
        path: ['interferometer', 'placed'],
      },
    ];
  },
);
