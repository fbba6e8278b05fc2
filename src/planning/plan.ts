/**
 * From what a scenario leaves open to a complete one: patches are placed one by one where they tell most, exchanged until no single
 * move betters the pose, made larger or joined by others until the wishes are met, and then trimmed to as little glass as meets
 * them. What comes out is asked every rule; a place that breaks one is barred and the search goes on.
 *
 * The criterion is the largest σ over its wish, or what misalignment leaves in the figure over what `test.figure` allows, through a norm
 * that every wish has a say in (pose-information.ts); where nothing is wished, that of a common bench. Exchange of single points is V. V. Fedorov's (*Theory of Optimal Experiments*, 1972), with
 * his determinant replaced by this criterion. Deterministic: the seed decides the order in which slots are gone through, ties go
 * to the first. The generator yields after every step, so that the caller may tell of it; it ends by itself, for its work is
 * bounded (work.ts).
 */
import { randomFrom } from '../algebra/random.ts';
import { areaOf } from '../geometry/extent.ts';
import { raised } from '../quantity/power.ts';
import type { OpenPlaces } from '../scenario/open-places.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { type Completed, completed, culpritsOf, unreadable } from './completion.ts';
import { reasonsOf } from './explain.ts';
import { Layout } from './layout.ts';
import {
  bestAction,
  exchangeOne,
  isSpare,
  PROGRESS,
  pairRound,
  place,
  placeByChance,
  shrink,
  shuffled,
  swapRound,
} from './moves.ts';
import { groupsOf, type Problem, problemOf } from './plan-problem.ts';
import type { Placement, Slot } from './slot.ts';
import { MOST_WORK, Work } from './work.ts';

export interface PlanOptions {
  readonly seed: string;
  /** Points of the free area that are tried; 160 where not given. */
  readonly sites?: number;
  /** Units that a search may spend (work.ts): it then ends with the best so far. */
  readonly work?: number;
}

export interface Progress {
  readonly step: 'placing' | 'exchanging' | 'growing' | 'trimming' | 'checking';
  /** The largest σ over its wish, the figure over `test.figure` among them. */
  readonly worst: number;
  readonly patches: number;
  /** mm² of the planned patches. */
  readonly glass: number;
}

export interface Plan extends Omit<Completed, 'sigmas' | 'left' | 'design'> {
  /** The largest σ over its wish, the figure over `test.figure` among them. */
  readonly worst: number;
  readonly glass: number;
  /** Empty where the plan does what is asked; else why not, in words. */
  readonly reasons: readonly string[];
  /** Whether the search ended at its limit of work. */
  readonly stopped: boolean;
}

const SITES = 160;
/** The worst ratio that is aimed at: just under 1, for the rule that judges the wish computes it by another way. */
const MET = 0.995;
const MOST_SWEEPS = 5;
/** Pairs are as many as the square of this half; beyond, there is always room to move singly. */
const MOST_TO_SWAP = 30;
/** Starts by chance beside the first, fewer where there are many slots. */
const MOST_STARTS = 16;
const SLOTS_STARTED = 54;
const MOST_ROUNDS = 8;
/** Kicks after a plan has settled, fewer where there are many slots. */
const MOST_KICKS = 6;
const SLOTS_KICKED = 60;
/** A plan that misses its wishes is worse than any glass, mm². */
const MISSED = 1e9;
/** Of the way from the present aim to the one that would do if the rest of the budget stayed as it is. */
const DAMPED = 0.6;
/** The aim is eased by no more than this at a time: a plan that falls short again costs a round. */
const MOST_EASED = 1.04;
/** A plan this near under its worst wish is trimmed. */
const SETTLED = 0.02;
const MOST_REPAIRS = 40;

/** Without slivers; with them where only they do what is asked. */
export function* plan(scenario: Scenario, open: OpenPlaces, options: PlanOptions): Generator<Progress, Plan> {
  const problem = problemOf(scenario, open);
  const stout = yield* search(problem, options);
  if (stout.reasons.length === 0 || stout.stopped) return stout;
  const drawnOut = problemOf(scenario, open, true);
  if (!haveOtherForms(problem, drawnOut)) return stout;
  const slender = yield* search(drawnOut, options);
  return slender.reasons.length < stout.reasons.length ? slender : stout;
}

function haveOtherForms(one: Problem, other: Problem): boolean {
  const formsOf = (problem: Problem): string =>
    [...problem.slots, ...groupsOf(problem).flatMap(({ slots }) => slots)]
      .map(({ forms }) => forms.sizes.join(' '))
      .join('; ');
  return formsOf(one) !== formsOf(other);
}

function* search(problem: Problem, options: PlanOptions): Generator<Progress, Plan> {
  const work = new Work(options.work ?? MOST_WORK);
  const layout = new Layout(problem.design, problem.references, options.sites ?? SITES, work);
  const random = randomFrom(options.seed);
  const stopped = (): boolean => work.isSpent;
  const groups = groupsOf(problem);
  const homeless: Slot[] = [];
  /** Of these, not all places could be asked. */
  const unasked = new Set<Slot>();
  const ringGlass = problem.rings.reduce((sum, { outline }) => sum + areaOf(outline), 0);
  let aim = MET;
  const say = (step: Progress['step']): Progress => ({
    step,
    worst: layout.score().worst,
    patches: layout.placements.size,
    glass: layout.glass + ringGlass,
  });
  const slots = (): Slot[] => [...layout.placements.keys()];

  // The nearest to being given go first: they have the least choice.
  const first = [
    ...problem.slots.toSorted((a, b) => freedom(a) - freedom(b)),
    ...groups.filter(({ candidate }) => !candidate).flatMap((group) => group.slots.slice(0, group.least)),
  ];
  for (const [k, slot] of first.entries()) {
    // So that one reference that nothing can see does not take the others' share.
    work.within(work.left / 2 / (first.length - k), () => {
      if (place(layout, slot, problem.nominal)) return;
      homeless.push(slot);
      if (work.isSpent) unasked.add(slot);
    });
    yield say('placing');
  }
  yield* sweeps();
  layout.reckonWith(completed(problem, layout, groups));
  yield* otherStarts();
  yield* budgetRounds();
  let result = completed(problem, layout, groups);
  for (let repair = 0; repair < MOST_REPAIRS && !stopped(); repair++) {
    const culprits = culpritsOf(result.findings, layout);
    if (culprits.length === 0) break;
    for (const { placement, rule } of culprits) {
      layout.bar(placement, rule);
      layout.placements.delete(placement.slot);
      if (place(layout, placement.slot, placement.size)) continue;
      homeless.push(placement.slot);
      if (stopped()) unasked.add(placement.slot);
    }
    if (problem.wished && layout.score().worst > aim) yield* growth();
    layout.reckonWith(completed(problem, layout, groups));
    if (problem.wished && layout.score().worst > aim) yield* growth();
    result = completed(problem, layout, groups);
    yield say('checking');
  }
  // What no repair has mended and still sends too little back to be read is not proposed at all.
  const unread = unreadable(result.findings, layout);
  if (unread.length > 0) {
    for (const { slot } of unread) layout.placements.delete(slot);
    homeless.push(...unread.map(({ slot }) => slot));
    result = completed(problem, layout, groups);
  }
  layout.reckonWith(result);
  const { sigmas: _, left: __, design, ...found } = result;
  const errors = result.findings.filter(({ severity }) => severity === 'error');
  const fine = errors.length === 0 && homeless.length === 0 && problem.roomless.length === 0;
  return {
    ...found,
    worst: layout.score().worst,
    glass: layout.glass + ringGlass,
    reasons: fine ? [] : reasonsOf(layout, homeless, unasked, problem.roomless, errors, design),
    stopped: stopped(),
  };

  /**
   * Growth and trimming against the whole budget, whose other terms depend a little on the patches: they are taken over from one
   * round to the next, and the aim with them, until a plan comes out just under its wishes. The best of all rounds is kept.
   */
  function* budgetRounds(): Generator<Progress, void> {
    const mayGrow = problem.wished || groups.some(({ candidate }) => candidate);
    let best: { placements: Map<Slot, Placement>; cost: number } | undefined;
    let kicks = Math.min(MOST_KICKS, Math.floor(SLOTS_KICKED / Math.max(1, layout.placements.size)));
    const restore = (): void => {
      layout.placements.clear();
      for (const [slot, placement] of best?.placements ?? []) layout.placements.set(slot, placement);
    };
    for (let round = 0; round <= MOST_ROUNDS + kicks; round++) {
      layout.reckonWith(completed(problem, layout, groups));
      const { worst } = layout.score();
      // Wishes met first, then glass.
      const cost = worst <= 1 ? layout.glass : MISSED * worst;
      if (best === undefined || cost < best.cost) best = { placements: new Map(layout.placements), cost };
      if (stopped()) break;
      if (round > 0 && worst <= 1 && worst > 1 - SETTLED) {
        if (kicks-- <= 0) break;
        restore();
        yield* kick();
      } else if (round > 0) aim = Math.min(MET, aim * Math.min(MOST_EASED, raised(worst, -DAMPED)));
      const { glass } = layout;
      if (mayGrow) yield* growth();
      if (!problem.wished) break;
      if (layout.score().worst <= 1) yield* trimming();
      if (worst <= 1 && layout.glass === glass && aim === MET) break;
    }
    if (problem.wished) restore();
  }

  /** Throws the patches of one reference to places by chance and exchanges anew: out of the hollow that the search sits in. */
  function* kick(): Generator<Progress, void> {
    const all = slots();
    const { reference } = all[Math.floor(random.uniform() * all.length)]!;
    for (const slot of all.filter((one) => one.reference === reference)) {
      const kept = layout.placements.get(slot)!;
      layout.placements.delete(slot);
      if (!placeByChance(layout, slot, kept.size, random.uniform)) layout.placements.set(slot, kept);
    }
    yield* sweeps();
  }

  /** From places by chance, for exchange alone ends in the nearest hollow; the layout is left with the best of all starts. */
  function* otherStarts(): Generator<Progress, void> {
    const all = slots();
    const starts = Math.min(MOST_STARTS, Math.floor(SLOTS_STARTED / Math.max(1, all.length)));
    for (let start = 0; start < starts && !stopped(); start++) {
      const [best, least] = [new Map(layout.placements), layout.score().smooth];
      layout.placements.clear();
      const placedAll = all.every((slot) =>
        placeByChance(layout, slot, best.get(slot)!.size, random.uniform),
      );
      if (placedAll) yield* sweeps();
      if (!placedAll || layout.score().smooth >= least) {
        layout.placements.clear();
        for (const [slot, placement] of best) layout.placements.set(slot, placement);
      }
    }
  }

  function* sweeps(): Generator<Progress, void> {
    for (let sweep = 0; sweep < MOST_SWEEPS && !stopped(); sweep++) {
      let moved = false;
      for (const slot of shuffled(slots(), random.uniform)) {
        if (exchangeOne(layout, slot)) moved = true;
        yield say('exchanging');
        if (stopped()) return;
      }
      if (!moved && !pairRound(layout, slots())) break;
    }
    if (layout.placements.size <= MOST_TO_SWAP && !stopped()) swapRound(layout, slots());
    for (const slot of slots()) layout.placements.set(slot, layout.nearer(layout.placements.get(slot)!));
  }

  function* growth(): Generator<Progress, void> {
    const dead = new Set<string>();
    for (let step = 1; layout.score().worst > aim && !stopped(); step++) {
      const action = bestAction(layout, groups, problem.wished, dead);
      if (action === undefined) break;
      if (!action.take()) dead.add(action.name);
      yield say('growing');
      if (step % SWEEP_AFTER === 0) yield* sweeps();
    }
  }

  function* trimming(): Generator<Progress, void> {
    yield* sweeps();
    const meets = (): boolean => layout.score().worst <= aim;
    if (!meets()) return;
    for (const slot of slots().toSorted((a, b) => glassOf(layout, b) - glassOf(layout, a))) {
      if (!isSpare(slot, groups, layout)) continue;
      const kept = layout.placements.get(slot)!;
      layout.placements.delete(slot);
      if (!meets()) layout.placements.set(slot, kept);
      yield say('trimming');
    }
    for (let round = 0; round < MOST_SWEEPS && !stopped(); round++) {
      const before = layout.glass;
      for (const slot of slots().toSorted((a, b) => glassOf(layout, b) - glassOf(layout, a))) {
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

const glassOf = (layout: Layout, slot: Slot): number => layout.placements.get(slot)?.area ?? 0;
