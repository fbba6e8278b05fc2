/**
 * From what a scenario leaves open to a complete one: patches are placed one by one where they tell most, exchanged until no single
 * move betters the pose, made larger or joined by others until the wishes are met, and then trimmed to as little glass as meets
 * them. What comes out is asked every rule; a place that breaks one is barred and the search goes on.
 *
 * The criterion is the largest σ over its wish, through a norm that every degree has a say in (pose-information.ts); where nothing
 * is wished, that of a common bench. Exchange of single points is V. V. Fedorov's (*Theory of Optimal Experiments*, 1972), with
 * his determinant replaced by this criterion. Deterministic: the seed decides the order in which slots are gone through, ties go
 * to the first. The generator yields after every step, so that the caller may tell of it, or stop it with what is there so far.
 */
import { randomFrom } from '../algebra/random.ts';
import { designScenario } from '../design/design-scenario.ts';
import type { Finding } from '../finding/finding.ts';
import { combinedSigmaOf } from '../metrology/pose.ts';
import { estimatePose } from '../metrology/pose-estimate.ts';
import { applyRules } from '../rules/all-rules.ts';
import type { OpenPlaces } from '../scenario/open-places.ts';
import { DEGREES, type Patch, type Reference, type Scenario } from '../scenario/scenario.ts';
import { reasonsOf } from './explain.ts';
import { Layout } from './layout.ts';
import { SIZE_GRAIN } from './patch-form.ts';
import { type Group, groupsOf, type Problem, problemOf } from './plan-problem.ts';
import { type Placement, patchOf, placementOf, type Slot } from './slot.ts';

export interface PlanOptions {
  readonly seed: string;
  /** Points of the free area that are tried; 160 where not given. */
  readonly sites?: number;
  /** Asked between steps: true ends the search with the best so far. */
  readonly stopped?: () => boolean;
}

export interface Progress {
  readonly step: 'placing' | 'exchanging' | 'growing' | 'trimming' | 'checking';
  /** The largest σ over its wish. */
  readonly worst: number;
  readonly patches: number;
  /** mm² of the planned patches. */
  readonly glass: number;
}

export interface Plan {
  /** Complete. */
  readonly scenario: Scenario;
  /** In the order of the scenario's patches: those that were open, then those that were added. */
  readonly planned: readonly { readonly patch: Patch; readonly index: number | undefined }[];
  readonly unused: readonly Reference[];
  readonly worst: number;
  readonly glass: number;
  /** Of every rule, and why wishes are missed where they are. */
  readonly findings: readonly Finding[];
  /** Undefined where the plan does what is asked; else why not, in words. */
  readonly reasons: readonly string[];
  readonly stopped: boolean;
}

const SITES = 160;
/** The worst ratio that is aimed at: just under 1, for the rule that judges the wish computes it by another way. */
const MET = 0.995;
const MOST_SWEEPS = 5;
const MOST_ROUNDS = 5;
const AIM_LOWER = 0.003;
/** A plan this near under its worst wish is trimmed. */
const SETTLED = 0.02;
/** A step that betters the worst ratio by less than this is no progress. */
const PROGRESS = 1e-4;
/** What another patch costs beside its glass, mm²: a strip to align and to read. */
const COST_OF_PATCH = 40;
const MOST_REPAIRS = 40;

export function* plan(scenario: Scenario, open: OpenPlaces, options: PlanOptions): Generator<Progress, Plan> {
  const problem = problemOf(scenario, open);
  const layout = new Layout(problem.design, problem.references, options.sites ?? SITES);
  const random = randomFrom(options.seed);
  const stopped = options.stopped ?? (() => false);
  const groups = groupsOf(problem);
  const homeless: Slot[] = [];
  let aim = MET;
  const say = (step: Progress['step']): Progress => ({
    step,
    worst: layout.standing().worst,
    patches: layout.placements.size,
    glass: layout.glass,
  });
  const slots = (): Slot[] => [...layout.placements.keys()];

  // The nearest to being given go first: they have the least choice.
  const first = [
    ...problem.slots.toSorted((a, b) => freedom(a) - freedom(b)),
    ...groups.filter(({ candidate }) => !candidate).flatMap((group) => group.slots.slice(0, group.least)),
  ];
  for (const slot of first) {
    if (!place(layout, slot, problem.nominal)) homeless.push(slot);
    yield say('placing');
  }
  yield* sweeps();
  let result = completed(problem, layout, groups);
  // The rest of the budget depends a little on the patches: a few rounds settle it.
  for (let round = 0; round < MOST_ROUNDS; round++) {
    layout.reckonWith(result.sigmas);
    const { worst } = layout.standing();
    if (stopped() || (round > 0 && worst <= 1 && worst > 1 - SETTLED)) break;
    // What the last round aimed at came out worse by the whole budget: aim lower by as much.
    if (round > 0 && worst > 1) aim *= 1 / worst - AIM_LOWER;
    if (problem.wished || groups.some(({ candidate }) => candidate)) yield* growth();
    if (problem.wished && layout.standing().worst <= 1) yield* trimming();
    result = completed(problem, layout, groups);
    if (!problem.wished) break;
  }
  for (let repair = 0; repair < MOST_REPAIRS && !stopped(); repair++) {
    const culprits = culpritsOf(result.findings, layout);
    if (culprits.length === 0) break;
    for (const { placement, rule } of culprits) {
      layout.bar(placement, rule);
      layout.placements.delete(placement.slot);
      if (!place(layout, placement.slot, placement.size)) homeless.push(placement.slot);
    }
    if (problem.wished && layout.standing().worst > aim) yield* growth();
    layout.reckonWith(completed(problem, layout, groups).sigmas);
    if (problem.wished && layout.standing().worst > aim) yield* growth();
    result = completed(problem, layout, groups);
    yield say('checking');
  }
  layout.reckonWith(result.sigmas);
  const { sigmas: _, ...found } = result;
  const errors = result.findings.filter(({ severity }) => severity === 'error');
  const fine = errors.length === 0 && homeless.length === 0;
  return {
    ...found,
    worst: layout.standing().worst,
    glass: layout.glass,
    reasons: fine ? [] : reasonsOf(layout, homeless, errors),
    stopped: stopped(),
  };

  function* sweeps(): Generator<Progress, void> {
    for (let sweep = 0; sweep < MOST_SWEEPS && !stopped(); sweep++) {
      let moved = false;
      for (const slot of shuffled(slots(), random.uniform)) {
        const now = layout.placements.get(slot)!;
        const found = layout.best(slot, now.size);
        const before = layout.standing().smooth;
        if (found !== undefined && layout.standingWith(found).smooth < before * (1 - PROGRESS)) {
          layout.placements.set(slot, found);
          moved = true;
        }
        yield say('exchanging');
        if (stopped()) return;
      }
      if (!moved) break;
    }
    for (const slot of slots()) layout.placements.set(slot, layout.nearer(layout.placements.get(slot)!));
  }

  function* growth(): Generator<Progress, void> {
    const dead = new Set<string>();
    for (let step = 1; layout.standing().worst > aim && !stopped(); step++) {
      const action = bestAction(layout, groups, problem.wished, dead);
      if (action === undefined) break;
      if (!action.take()) dead.add(action.name);
      yield say('growing');
      if (step % SWEEP_AFTER === 0) yield* sweeps();
    }
  }

  function* trimming(): Generator<Progress, void> {
    yield* sweeps();
    const meets = (): boolean => layout.standing().worst <= aim;
    if (!meets()) return;
    for (const slot of slots().toSorted((a, b) => areaOf(layout, b) - areaOf(layout, a))) {
      if (!isSpare(slot, groups, layout)) continue;
      const kept = layout.placements.get(slot)!;
      layout.placements.delete(slot);
      if (!meets()) layout.placements.set(slot, kept);
      yield say('trimming');
    }
    for (let round = 0; round < MOST_SWEEPS && !stopped(); round++) {
      const before = layout.glass;
      for (const slot of slots().toSorted((a, b) => areaOf(layout, b) - areaOf(layout, a))) {
        shrink(layout, slot, meets);
        yield say('trimming');
        if (stopped()) return;
      }
      if (layout.glass > before * (1 - PROGRESS)) break;
    }
  }
}

/** Growth steps between two rounds of exchange. */
const SWEEP_AFTER = 12;

const freedom = (slot: Slot): number =>
  (slot.centre === undefined ? 2 : 0) +
  (slot.angle === undefined ? 1 : 0) +
  (slot.outline === undefined ? 1 : 0);

const areaOf = (layout: Layout, slot: Slot): number => layout.placements.get(slot)?.area ?? 0;

/** Puts a slot where it tells most, at the least of its sizes from `size` that has a place at all. */
function place(layout: Layout, slot: Slot, size: number): boolean {
  const { sizes } = slot.forms;
  const given = slot.outline !== undefined ? [0] : undefined;
  const rising = given ?? [
    ...sizes.filter((one) => one >= size),
    ...sizes.filter((one) => one < size).reverse(),
  ];
  for (const one of rising) {
    const found = layout.best(slot, one);
    if (found === undefined) continue;
    layout.placements.set(slot, found);
    return true;
  }
  return false;
}

interface Action {
  readonly name: string;
  readonly worth: number;
  /** False where it came to nothing. */
  readonly take: () => boolean;
}

/** The step that betters the criterion most for the glass that it takes. */
function bestAction(
  layout: Layout,
  groups: readonly Group[],
  wished: boolean,
  dead: ReadonlySet<string>,
): Action | undefined {
  const now = layout.standing();
  let best: Action | undefined;
  const offer = (name: string, smooth: number, cost: number, take: () => boolean): void => {
    const gain = Math.log(now.smooth / smooth);
    if (!(gain > PROGRESS) || dead.has(name)) return;
    if (best === undefined || gain / cost > best.worth) best = { name, worth: gain / cost, take };
  };
  for (const placement of wished ? layout.placements.values() : []) {
    const { slot, centre, angle, size, area } = placement;
    const next = slot.outline === undefined ? slot.forms.sizes.find((one) => one > size + 1e-9) : undefined;
    if (next === undefined) continue;
    const wider = placementOf(layout.design, slot, centre, angle, next);
    offer(`${slot.id} ${next}`, layout.standingWith(wider).smooth, wider.area - area, () => {
      const taken = layout.isFree(wider) ? wider : layout.best(slot, next);
      if (taken === undefined || layout.standingWith(taken).smooth >= now.smooth) return false;
      layout.placements.set(slot, taken);
      return true;
    });
  }
  for (const { reference, slots, candidate, least } of groups) {
    const free = slots.filter((slot) => !layout.placements.has(slot));
    const fresh = free.length === slots.length;
    const joining = fresh ? free.slice(0, Math.max(1, least)) : free.slice(0, 1);
    const slot = joining[0];
    if (slot === undefined || (!wished && !(candidate && fresh && layout.standing().worst > UNSEEN)))
      continue;
    const sample = layout.sample(slot, slot.forms.sizes[0]!);
    if (sample === undefined) continue;
    offer(
      `${reference.id} +${free.length}`,
      sample.smooth,
      sample.area * joining.length + COST_OF_PATCH,
      () => {
        const before = new Map(layout.placements);
        const placed = joining.filter((one) => place(layout, one, one.forms.sizes[0]!));
        if (placed.length === joining.length && layout.standing().smooth < now.smooth) return true;
        layout.placements.clear();
        for (const [key, value] of before) layout.placements.set(key, value);
        return false;
      },
    );
  }
  return best;
}

/** Without wishes, a ratio to the common ones that only an unseen degree has. */
const UNSEEN = 50;

const isSpare = (slot: Slot, groups: readonly Group[], layout: Layout): boolean => {
  const group = groups.find(({ slots }) => slots.includes(slot));
  if (group === undefined) return false;
  const placed = group.slots.filter((one) => layout.placements.has(one)).length;
  return placed > (group.candidate ? 0 : group.least);
};

/** The least size that still meets the wishes, where the patch stands: by the ladder, then to the grain. */
function shrink(layout: Layout, slot: Slot, meets: () => boolean): void {
  if (slot.outline !== undefined) return;
  const start = layout.placements.get(slot)!;
  const attempt = (size: number): boolean => {
    const kept = layout.placements.get(slot)!;
    const smaller = placementOf(layout.design, slot, start.centre, start.angle, size);
    layout.placements.set(slot, smaller);
    if (meets() && layout.isFree(smaller)) return true;
    layout.placements.set(slot, kept);
    return false;
  };
  const least = slot.forms.sizes[0]!;
  let [low, high] = [Math.round(least / SIZE_GRAIN), Math.round(start.size / SIZE_GRAIN)];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (attempt(middle / Math.round(1 / SIZE_GRAIN))) high = middle;
    else low = middle + 1;
  }
}

function shuffled<T>(items: readonly T[], uniform: () => number): T[] {
  const order = [...items];
  for (let k = order.length - 1; k > 0; k--) {
    const other = Math.floor(uniform() * (k + 1));
    [order[k], order[other]] = [order[other]!, order[k]!];
  }
  return order;
}

/** The scenario with the layout's patches in it, and what every rule says of it. */
function completed({ scenario, references }: Problem, layout: Layout, groups: readonly Group[]): Completed {
  const unused = groups
    .filter(({ candidate, slots }) => candidate && !slots.some((slot) => layout.placements.has(slot)))
    .map(({ reference }) => reference);
  const patches: Patch[] = [...scenario.patches];
  const planned: { patch: Patch; index: number | undefined }[] = [];
  const ordered = [...layout.placements.values()].sort(
    (a, b) =>
      (a.slot.index ?? Infinity) - (b.slot.index ?? Infinity) ||
      orderIn(groups, a.slot) - orderIn(groups, b.slot),
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
  const made = designScenario(complete);
  if ('findings' in made) throw new Error(made.findings.map(({ message }) => message).join('; '));
  const pose = estimatePose(made.design);
  const sigmas = DEGREES.map((degree, k) => {
    const sigma = combinedSigmaOf(pose, k);
    return sigma === null ? null : sigma * (degree.startsWith('r') ? RAD_PER_URAD : MM_PER_UM);
  });
  return { scenario: complete, planned, unused, findings: applyRules(made.design), sigmas };
}

interface Completed extends Pick<Plan, 'scenario' | 'planned' | 'unused' | 'findings'> {
  /** Combined, of the six degrees, mm and rad; null where not observed. */
  readonly sigmas: readonly (number | null)[];
}

const RAD_PER_URAD = 1e-6;
const MM_PER_UM = 1e-3;

const orderIn = (groups: readonly Group[], slot: Slot): number =>
  groups.flatMap(({ slots }) => slots).indexOf(slot);

/** Rules of the whole scene that a patch is to be moved for; those of the pose are what growth is for. */
function culpritsOf(findings: readonly Finding[], layout: Layout): { placement: Placement; rule: string }[] {
  const byId = new Map([...layout.placements.values()].map((placement) => [placement.slot.id, placement]));
  const taken = new Set<Slot>();
  return findings.flatMap(({ severity, rule, where }) => {
    if (severity !== 'error' || rule === 'misses-wanted' || rule === 'not-observed') return [];
    // Of two that clash, the one that has somewhere else to go.
    const placement = where
      .split(', ')
      .flatMap((id) => byId.get(id) ?? [])
      .find(({ slot }) => slot.centre === undefined && !taken.has(slot));
    if (placement === undefined) return [];
    taken.add(placement.slot);
    return [{ placement, rule }];
  });
}
