/** A layout as a complete scenario, what every rule says of it, and which of its patches are to be moved for that. mm, radians. */
import type { Design } from '../design/design.ts';
import { designScenario } from '../design/design-scenario.ts';
import type { Finding } from '../finding/finding.ts';
import { combinedSigmaOf } from '../metrology/estimate/pose.ts';
import { poseOf } from '../metrology/estimate/pose-estimate.ts';
import { type FigureError, figureError } from '../metrology/null/figure-error.ts';
import { applyRules, RULES } from '../rules/all-rules.ts';
import { noReturn } from '../rules/no-return.ts';
import { DEGREES, type Patch, type Reference, type Scenario } from '../scenario/scenario.ts';
import type { Layout } from './layout.ts';
import type { WholeBudget } from './layout-pose.ts';
import type { Group, Problem } from './plan-problem.ts';
import { type Placement, patchOf, type Slot } from './slot.ts';
import { COMPLETED, COMPLETED_REFERENCE } from './work.ts';

/** The scenario with the layout's patches in it, and what every rule says of it. */
export function completed(
  { scenario, references, rings }: Problem,
  layout: Layout,
  groups: readonly Group[],
): Completed {
  const unused = groups
    .filter(({ candidate, slots }) => candidate && !slots.some((slot) => layout.placements.has(slot)))
    .map(({ reference }) => reference);
  const patches: Patch[] = [...scenario.patches];
  const planned: { patch: Patch; index: number | undefined }[] = rings.map((patch) => ({
    patch,
    index: undefined,
  }));
  const order = new Map(groups.flatMap(({ slots }) => slots).map((slot, k) => [slot, k]));
  const ordered = [...layout.placements.values()].sort(
    (a, b) =>
      (a.slot.index ?? Infinity) - (b.slot.index ?? Infinity) || order.get(a.slot)! - order.get(b.slot)!,
  );
  for (const placement of ordered) {
    const { index } = placement.slot;
    const patch = patchOf(placement);
    planned.push({ patch, index });
    if (index === undefined) patches.push(patch);
    else patches[index] = patch;
  }
  const complete: Scenario = {
    ...scenario,
    references: references.filter((reference) => !unused.includes(reference)),
    patches,
  };
  layout.work.spend(patches.length * (COMPLETED + COMPLETED_REFERENCE * references.length));
  const made = designScenario(complete);
  if ('findings' in made) throw new Error(made.findings.map(({ message }) => message).join('; '));
  const pose = poseOf(made.design);
  const sigmas = DEGREES.map((_, k) => combinedSigmaOf(pose, k));
  return {
    scenario: complete,
    design: made.design,
    planned,
    unused,
    findings: applyRules(made.design),
    sigmas,
    ...figureOf(made.design),
  };
}

function figureOf(design: Design): Pick<Completed, 'left' | 'figure'> {
  const allowed = design.scenario.test?.figure;
  const error = allowed === undefined ? undefined : figureError(design);
  if (allowed === undefined || error === undefined) return { left: null, figure: null };
  return { left: error.byEye / allowed, figure: { expected: error.expected, allowed } };
}

export interface Completed extends WholeBudget {
  readonly scenario: Scenario;
  readonly design: Design;
  /** In the order of the scenario's patches: those that were open, then those that were added. */
  readonly planned: readonly { readonly patch: Patch; readonly index: number | undefined }[];
  readonly unused: readonly Reference[];
  /** What misalignment is expected to leave in the figure (null: not bounded) and what may, mm; null where nothing is asked of it. */
  readonly figure: { readonly expected: FigureError['expected']; readonly allowed: number } | null;
  /** Of every rule. */
  readonly findings: readonly Finding[];
}

const isMendedByGrowth = (code: string): boolean =>
  RULES.some((rule) => rule.code === code && rule.planning.by === 'growth');

/** Rules of the whole scene that a patch is to be moved for; those of the pose are what growth is for. */
export function culpritsOf(
  findings: readonly Finding[],
  layout: Layout,
): { placement: Placement; rule: string }[] {
  const byId = new Map([...layout.placements.values()].map((placement) => [placement.slot.id, placement]));
  const taken = new Set<Slot>();
  return findings.flatMap(({ severity, rule, patches = [] }) => {
    if (severity !== 'error' || isMendedByGrowth(rule)) return [];
    // Of two that clash, the one that has somewhere else to go.
    const placement = patches
      .flatMap((id) => byId.get(id) ?? [])
      .find(({ slot }) => slot.centre === undefined && !taken.has(slot));
    if (placement === undefined) return [];
    taken.add(placement.slot);
    return [{ placement, rule }];
  });
}

/** Planned patches that send too little light back to be read. */
export const unreadable = (findings: readonly Finding[], layout: Layout): readonly Placement[] =>
  [...layout.placements.values()].filter(({ slot }) =>
    findings.some(({ rule, patches }) => rule === noReturn.code && patches?.includes(slot.id)),
  );
