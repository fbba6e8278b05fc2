/** Single steps of a plan: putting a slot somewhere, the step of growth that is worth most, making a patch smaller. */
import type { Layout } from './layout.ts';
import { SIZE_GRAIN } from './patch-form.ts';
import type { Group } from './plan-problem.ts';
import { placementOf, type Slot } from './slot.ts';
import { COMPARED } from './work.ts';

/** A step that betters the criterion by less than this part of it is no progress. */
export const PROGRESS = 1e-4;
/** What another patch costs beside its glass, mm²: a strip to align and to read. */
const COST_OF_PATCH = 40;
/** What a candidate reference costs beside its patches, mm²: a ball more on the part is worth a good deal of glass. */
const COST_OF_REFERENCE = 1000;

/** Puts a slot where it tells most, at the least of its sizes from `size` that has a place at all. */
export function place(layout: Layout, slot: Slot, size: number): boolean {
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

/** Anywhere at all, for a start that is not yet drawn to a hollow; where it tells most if chance finds no place. */
export function placeByChance(layout: Layout, slot: Slot, size: number, uniform: () => number): boolean {
  const found = layout.anywhere(slot, size, uniform) ?? layout.best(slot, size);
  if (found !== undefined) layout.placements.set(slot, found);
  return found !== undefined;
}

/** Moves one slot to where it tells most, if that betters the criterion. */
export function exchangeOne(layout: Layout, slot: Slot): boolean {
  const now = layout.placements.get(slot);
  if (now === undefined) return false;
  const found = layout.best(slot, now.size);
  if (found === undefined || layout.scoreWith(found).smooth >= layout.score().smooth * (1 - PROGRESS))
    return false;
  layout.placements.set(slot, found);
  return true;
}

/** Lets two patches change places where that betters the criterion: what no single move can do on a crowded glass. */
export function swapRound(layout: Layout, slots: readonly Slot[]): boolean {
  let swapped = false;
  slots.forEach((one, k) => {
    for (const other of slots.slice(k + 1)) {
      if (layout.work.isSpent) return;
      if (swapTwo(layout, one, other)) swapped = true;
    }
  });
  return swapped;
}

/** Moves two line patches of one reference together, to places opposite each other, where that betters the criterion. */
export function pairRound(layout: Layout, slots: readonly Slot[]): boolean {
  let moved = false;
  slots.forEach((one, k) => {
    layout.work.spend((slots.length - k) * COMPARED);
    for (const other of slots.slice(k + 1)) {
      if (layout.work.isSpent) return;
      if (moveBoth(layout, one, other)) moved = true;
    }
  });
  return moved;
}

function moveBoth(layout: Layout, one: Slot, other: Slot): boolean {
  const [first, second] = [layout.placements.get(one), layout.placements.get(other)];
  if (first === undefined || second === undefined || one.reference !== other.reference) return false;
  if (
    ![one, other].every(
      ({ focus, centre, angle }) => focus === 'line' && centre === undefined && angle === undefined,
    )
  )
    return false;
  const before = layout.score().smooth;
  layout.placements.delete(one);
  layout.placements.delete(other);
  const pair = layout.bestPair(one, other, [first.size, second.size]);
  layout.placements.set(one, pair?.[0] ?? first);
  layout.placements.set(other, pair?.[1] ?? second);
  if (pair !== undefined && layout.score().smooth < before * (1 - PROGRESS)) return true;
  layout.placements.set(one, first);
  layout.placements.set(other, second);
  return false;
}

function swapTwo(layout: Layout, one: Slot, other: Slot): boolean {
  const [first, second] = [layout.placements.get(one), layout.placements.get(other)];
  if (first === undefined || second === undefined || one.reference === other.reference) return false;
  if (one.centre !== undefined || other.centre !== undefined) return false;
  const before = layout.score().smooth;
  layout.placements.delete(one);
  layout.placements.delete(other);
  const there = layout.bestAt(one, first.size, second.centre);
  if (there !== undefined) layout.placements.set(one, there);
  const back = there && layout.bestAt(other, second.size, first.centre);
  if (back !== undefined) {
    layout.placements.set(other, back);
    if (layout.score().smooth < before * (1 - PROGRESS)) return true;
  }
  layout.placements.set(one, first);
  layout.placements.set(other, second);
  return false;
}

/** The items in an order that the generator decides. */
export function shuffled<T>(items: readonly T[], uniform: () => number): T[] {
  const order = [...items];
  for (let k = order.length - 1; k > 0; k--) {
    const other = Math.floor(uniform() * (k + 1));
    [order[k], order[other]] = [order[other]!, order[k]!];
  }
  return order;
}

interface Action {
  readonly name: string;
  readonly worth: number;
  /** False where it came to nothing. */
  readonly take: () => boolean;
}

/** The step that betters the criterion most for the glass that it takes. */
export function bestAction(
  layout: Layout,
  groups: readonly Group[],
  wished: boolean,
  dead: ReadonlySet<string>,
): Action | undefined {
  const now = layout.score();
  let best: Action | undefined;
  const offer = (name: string, smooth: number, cost: number, take: () => boolean): void => {
    const gain = Math.log(now.smooth / smooth);
    if (!(gain > PROGRESS) || dead.has(name)) return;
    if (best === undefined || gain / cost > best.worth) best = { name, worth: gain / cost, take };
  };
  for (const placement of wished ? layout.placements.values() : []) {
    const { slot, centre, angle, size, area } = placement;
    const next = nextSize(slot, size);
    if (next === undefined) continue;
    const wider = placementOf(layout.design, slot, centre, angle, next);
    offer(`${slot.id} ${next}`, layout.scoreWith(wider).smooth, wider.area - area, () => {
      const taken = layout.isFree(wider) ? wider : layout.best(slot, next);
      if (taken === undefined || layout.scoreWith(taken).smooth >= now.smooth) return false;
      layout.placements.set(slot, taken);
      return true;
    });
  }
  if (wished && layout.placements.size > 1) offerAll(layout, now.smooth, offer);
  for (const { reference, slots, candidate, least } of groups) {
    const free = slots.filter((slot) => !layout.placements.has(slot));
    const fresh = free.length === slots.length;
    const joining = fresh ? free.slice(0, Math.max(1, least)) : free.slice(0, 1);
    const slot = joining[0];
    if (slot === undefined || (!wished && !(candidate && fresh && layout.score().worst > UNSEEN))) continue;
    const sample = layout.sample(slot, slot.forms.sizes[0]!);
    if (sample === undefined) continue;
    offer(
      `${reference.id} +${free.length}`,
      sample.smooth,
      sample.area * joining.length + COST_OF_PATCH + (fresh ? COST_OF_REFERENCE : 0),
      () => {
        const before = new Map(layout.placements);
        const placed = joining.filter((one) => place(layout, one, one.forms.sizes[0]!));
        if (placed.length === joining.length && layout.score().smooth < now.smooth) return true;
        layout.placements.clear();
        for (const [key, value] of before) layout.placements.set(key, value);
        return false;
      },
    );
  }
  return best;
}

type Offer = (name: string, smooth: number, cost: number, take: () => boolean) => void;

/** All patches a step wider at once: where several limit a degree alike, none is worth growing alone. */
function offerAll(layout: Layout, now: number, offer: Offer): void {
  const before = new Map(layout.placements);
  const glass = layout.glass;
  const restore = (): void => {
    layout.placements.clear();
    for (const [slot, placement] of before) layout.placements.set(slot, placement);
  };
  let name = 'all';
  for (const [slot, { centre, angle, size }] of before) {
    const next = nextSize(slot, size);
    name += ` ${size}`;
    if (next !== undefined)
      layout.placements.set(slot, placementOf(layout.design, slot, centre, angle, next));
  }
  const { smooth } = layout.score();
  const cost = layout.glass - glass;
  restore();
  if (!(cost > 0)) return;
  offer(name, smooth, cost, () => {
    for (const [slot, { centre, angle, size }] of before) {
      const next = nextSize(slot, size);
      if (next === undefined) continue;
      const wider = placementOf(layout.design, slot, centre, angle, next);
      const taken = layout.isFree(wider) ? wider : layout.best(slot, next);
      if (taken !== undefined) layout.placements.set(slot, taken);
    }
    if (layout.score().smooth < now) return true;
    restore();
    return false;
  });
}

const nextSize = (slot: Slot, size: number): number | undefined =>
  slot.outline === undefined ? slot.forms.sizes.find((one) => one > size + 1e-9) : undefined;

/** Without wishes, a ratio to the common ones that only an unseen degree has. */
const UNSEEN = 50;

export const isSpare = (slot: Slot, groups: readonly Group[], layout: Layout): boolean => {
  const group = groups.find(({ slots }) => slots.includes(slot));
  if (group === undefined) return false;
  const placed = group.slots.filter((one) => layout.placements.has(one)).length;
  return placed > (group.candidate ? 0 : group.least);
};

/** The least size that still meets the wishes, where the patch stands: by the ladder, then to the grain. */
export function shrink(layout: Layout, slot: Slot, meets: () => boolean): void {
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
