/**
 * How the hologram is aligned to the beam, by what shows it best: a return ring, the plate's own reflection of collimated light, seats that
 * are measured, or a scale and an indicator. mm, radians, fringes.
 */
import type { Design } from '../../design/design.ts';
import { nullsOnReflection } from '../budget/hologram-alignment.ts';
import { COMMON_PRACTICE } from '../budget/practice.ts';
import { harmlessTilt } from '../rings/return-ring.ts';
import { patchesReadBy, seatsFixFrame } from './carriers.ts';
import { idsOf, inPlace, stepOf } from './step-parts.ts';
import type { Criterion, WorkStep } from './work-step.ts';

export function hologramStep(design: Design): WorkStep {
  const { interferometer, seats } = design.scenario;
  const rings = patchesReadBy(design, 'alignment');
  if (rings.length > 0) {
    const biased = rings.flatMap(({ id, bias }): Criterion[] =>
      bias === undefined
        ? []
        : [
            {
              of: id,
              quantity: 'fringes',
              value: bias.fringes,
              within: interferometer.readable,
              unit: 'fringes',
            },
          ],
    );
    return stepOf('hologram', 'return ring', {
      patches: rings,
      done: biased.length > 0 ? biased : [fewFringes(design)],
    });
  }
  if (nullsOnReflection(design)) return stepOf('hologram', 'reflection', { done: [fewFringes(design)] });
  const done = placed(design);
  return seatsFixFrame(design)
    ? stepOf('hologram', 'seats', { items: idsOf(seats), done })
    : stepOf('hologram', 'placing', { done });
}

/** Fringes of tilt over the whole beam that any mount can be set to: common practice, no source beyond the trade. */
const FEW_FRINGES = 2;

/** Over the whole beam, and no more than move a reference by its reading. */
const fewFringes = (design: Design): Criterion => ({
  of: 'beam',
  quantity: 'fringes',
  value: 0,
  within: Math.min(FEW_FRINGES, harmlessTilt(design)?.fringes ?? FEW_FRINGES),
  unit: 'fringes',
});

/** What the scenario's budget counts on; common practice where it does not say. In collimated light the place does not count. */
function placed({ scenario: { interferometer } }: Design): readonly Criterion[] {
  const by = { ...COMMON_PRACTICE.placed, ...interferometer.placed };
  const turns = (['rx', 'ry'] as const).map((degree) => inPlace(degree, by[degree], 'rad'));
  if (interferometer.beam.kind === 'collimated') return turns;
  return [...(['x', 'y', 'z'] as const).map((degree) => inPlace(degree, by[degree])), ...turns];
}
