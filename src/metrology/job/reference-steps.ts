/** Steps that set references: on marks, against datums, near, by lengths and by fringes. mm, fringes. */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { dot, length } from '../../geometry/vector.ts';
import { kindOf } from '../../kinds/kinds.ts';
import type { Reference } from '../../scenario/scenario.ts';
import { inOrderOfWork } from '../sensing/order-of-work.ts';
import { EYE_SETTING } from '../sensing/sensitivity.ts';
import { CARRIERS, carrierOf, patchesReadBy } from './carriers.ts';
import { idsOf, inPlace, onMark, referencesOf, screwsOf, stepOf, tiltsOf } from './step-parts.ts';
import type { Criterion, Means, WorkStep } from './work-step.ts';

/** Spots and crosses, by what carries their screens. */
export const markSteps = (design: Design): readonly WorkStep[] =>
  byCarrier(design, patchesReadBy(design, 'mark'), (patches) => ({
    kind: 'marks',
    done: patches.map(onMark),
  }));

/** Of these, those that touch datums, against them. */
export function touchSteps(some: readonly Reference[]): readonly WorkStep[] {
  const references = some.filter(({ touches }) => touches.length > 0);
  if (references.length === 0) return [];
  const datums = [...new Set(references.flatMap(({ touches }) => touches.map(({ datum }) => datum)))];
  return [stepOf('seat', 'part', { references, items: datums })];
}

/** References that fringes will show: by a scale from the pattern's centre, and on their light. */
export function coarseSteps(design: Design): readonly WorkStep[] {
  const patches = patchesReadBy(design, 'senses');
  if (patches.length === 0) return [];
  const references = referencesOf(design, patches);
  const done = references.flatMap(({ id, at }): Criterion[] => [
    { of: id, quantity: 'distance', value: length(at), within: EYE_SETTING.poor, unit: 'mm' },
    inPlace(id, nearEnough(design, id)),
  ]);
  return [stepOf('coarse', 'eye', { references, patches, done })];
}

/** From where the fringes of one of its patches can be counted; where an eye sets it, if that is nearer. */
function nearEnough(design: Design, reference: string): number {
  const ranges = patchesReadBy(design, 'senses')
    .filter((patch) => patch.reference.id === reference)
    .map((patch) => readableFrom(design, patch));
  return Math.min(EYE_SETTING.poor, Math.max(...ranges));
}

/** The least of a patch's readable ranges across the light, mm. */
export const readableFrom = (design: Design, patch: DesignedPatch): number =>
  Math.min(...tiltsOf(design, patch).map(({ readableRange }) => readableRange));

/** Lengths measured otherwise: nominal from the pattern's centre along their direction. */
export function lengthSteps(design: Design): readonly WorkStep[] {
  const { measurements } = design.scenario;
  if (measurements.length === 0) return [];
  const done = measurements.map(({ id, reference, direction, uncertainty }): Criterion => {
    const { at } = design.references.find((each) => each.id === reference)!;
    const value = dot(at, direction);
    return { of: id, quantity: 'length', value, within: uncertainty, unit: 'mm', direction };
  });
  const measured = new Set(measurements.map(({ reference }) => reference));
  const references = design.references.filter(({ id }) => measured.has(id));
  return [stepOf('measure', 'other means', { references, items: idsOf(measurements), done })];
}

/** Balls and retroreflectors, from the fewest fringes for a micrometre to the most. */
export function fringeSteps(design: Design): readonly WorkStep[] {
  const seen = inOrderOfWork(design).filter((patch) => tiltsOf(design, patch).length > 0);
  return byCarrier(design, seen, (patches) => ({
    kind: 'references',
    done: patches.map((patch) => fringesOf(design, patch)),
    command: 'steer',
  }));
}

/** What a patch shows when its reference is in place, to one reading. */
const fringesOf = ({ scenario: { interferometer } }: Design, { id, bias }: DesignedPatch): Criterion => ({
  of: id,
  quantity: 'fringes',
  value: bias?.fringes ?? 0,
  within: interferometer.readable,
  unit: 'fringes',
});

/** The part itself, by light that meets its features at normal incidence. */
export function featureSteps(design: Design): readonly WorkStep[] {
  const patches = patchesReadBy(design, 'modes');
  if (patches.length === 0) return [];
  const by: Means = design.scenario.stage.length > 0 ? 'stage' : 'part';
  const counted = patches.every(({ reference }) => kindOf(reference).words.noCount === undefined);
  return [
    stepOf('features', by, {
      references: referencesOf(design, patches),
      patches,
      items: screwsOf(design, by),
      done: patches.map((patch) => fringesOf(design, patch)),
      ...(counted && { command: 'steer' }),
    }),
  ];
}

/** A step for each carrier that the patches' references have. */
const byCarrier = (
  design: Design,
  all: readonly DesignedPatch[],
  rest: (patches: readonly DesignedPatch[]) => Pick<WorkStep, 'kind' | 'done' | 'command'>,
): readonly WorkStep[] =>
  CARRIERS.flatMap((by) => {
    const patches = all.filter(({ reference }) => carrierOf(design, reference) === by);
    if (patches.length === 0) return [];
    const { kind, ...parts } = rest(patches);
    const references = referencesOf(design, patches);
    return [stepOf(kind, by, { references, patches, items: screwsOf(design, by), ...parts })];
  });
