/** What the steps are put together from. mm, radians, fringes. */
import type { Design, DesignedPatch } from '../../design/design.ts';
import type { Reference } from '../../scenario/scenario.ts';
import { EYE_SETTING, type Sense, sensesOf } from '../sensing/sensitivity.ts';
import type { Criterion, Means, WorkStep } from './work-step.ts';

interface StepParts {
  readonly references?: readonly Pick<Reference, 'id'>[];
  readonly patches?: readonly Pick<DesignedPatch, 'id'>[];
  readonly items?: readonly string[];
  readonly done?: readonly Criterion[];
  readonly command?: WorkStep['command'];
}

export const stepOf = (
  kind: WorkStep['kind'],
  by: Means,
  { references = [], patches = [], items = [], done = [], command }: StepParts,
): WorkStep => ({
  kind,
  by,
  references: idsOf(references),
  patches: idsOf(patches),
  items,
  done,
  ...(command && { command }),
});

export const idsOf = (some: readonly { readonly id: string }[]): readonly string[] =>
  some.map(({ id }) => id);

/** Those that the patches serve, in the scenario's order. */
export function referencesOf(
  { references }: Design,
  patches: readonly DesignedPatch[],
): readonly Reference[] {
  const served = new Set(patches.map(({ reference }) => reference.id));
  return references.filter(({ id }) => served.has(id));
}

export const tiltsOf = (design: Design, patch: DesignedPatch): readonly Sense[] =>
  sensesOf(design, patch).filter(({ kind }) => kind === 'tilt');

/** Screws, where a stage carries what is set. */
export const screwsOf = ({ scenario }: Design, by: Means): readonly string[] =>
  by === 'stage' ? idsOf(scenario.stage) : [];

/** At its design place, mm or radians. */
export const inPlace = (of: string, within: number, unit: 'mm' | 'rad' = 'mm'): Criterion => {
  return { of, quantity: 'offset', value: 0, within, unit };
};

/** A spot or a line on its mark, as an eye sets it. */
export const onMark = ({ id }: DesignedPatch): Criterion => inPlace(id, EYE_SETTING.good);
