/**
 * Steps that check what was set: after clamping, and after reseating. A reading that is repeated changes by √2 of its standard uncertainty
 * r; more than twice that is a change: 2√2 r (JCGM 100, 5.1.2 and 6.2). mm, fringes.
 */
import type { Design } from '../../design/design.ts';
import { COVERAGE } from '../budget/coverage.ts';
import { COMMON_PRACTICE } from '../budget/practice.ts';
import { RECTANGULAR } from '../budget/reference-errors.ts';
import { inOrderOfWork } from '../sensing/order-of-work.ts';
import { carrierOf, measuredOnPart, patchesReadBy, type TrackedJob } from './carriers.ts';
import { idsOf, onMark, referencesOf, stepOf, tiltsOf } from './step-parts.ts';
import type { Criterion, WorkStep } from './work-step.ts';

const CHANGE = COVERAGE * Math.SQRT2;

const changesBy = (of: string, u: number, unit: Criterion['unit']): Criterion => {
  return { of, quantity: 'change', value: 0, within: CHANGE * u, unit };
};

const readByTilt = (design: Design) =>
  inOrderOfWork(design).filter((patch) => tiltsOf(design, patch).length > 0);

/** All that can be read once more: fringes, marks that the part may carry, lengths, and what was measured on the part. */
export function clampStep(design: Design, tracked: TrackedJob | undefined): WorkStep {
  const { interferometer, measurements } = design.scenario;
  const fringes = [
    ...patchesReadBy(design, 'alignment'),
    ...readByTilt(design),
    ...patchesReadBy(design, 'modes'),
  ];
  const marks = patchesReadBy(design, 'mark').filter(
    ({ reference }) => carrierOf(design, reference) !== 'mounts',
  );
  return stepOf('clamp', 'eye', {
    references: measuredOnPart(design, tracked),
    patches: [...fringes, ...marks],
    items: idsOf(measurements),
    done: [
      ...fringes.map(({ id }) => changesBy(id, interferometer.readable, 'fringes')),
      ...marks.map(onMark),
      ...measurements.map(({ id, uncertainty }) => changesBy(id, uncertainty, 'mm')),
    ],
  });
}

/** References that are seen by fringes, taken out and put back: how far they return to their nests shows in the reading. */
export function reseatSteps(design: Design): readonly WorkStep[] {
  const patches = readByTilt(design);
  if (patches.length === 0) return [];
  const { readable } = design.scenario.interferometer;
  const done = patches.map((patch) => {
    const nest = (patch.reference.nest ?? COMMON_PRACTICE.nest) * RECTANGULAR;
    const most = Math.max(...tiltsOf(design, patch).map(({ fringesPerMm }) => fringesPerMm));
    return changesBy(patch.id, Math.hypot(readable, nest * most), 'fringes');
  });
  return [stepOf('reseat', 'eye', { references: referencesOf(design, patches), patches, done })];
}
