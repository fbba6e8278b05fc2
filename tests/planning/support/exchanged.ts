/** The moves of `plan` at one size and without its rounds of growing and trimming, to compare with every layout there is. */
import { randomFrom } from '../../../src/algebra/random.ts';
import type { Layout } from '../../../src/planning/layout.ts';
import { exchangeOne, pairRound, placeByChance, shuffled, swapRound } from '../../../src/planning/moves.ts';
import type { Placement, Slot } from '../../../src/planning/slot.ts';

/**
 * Places all slots at one size and exchanges them one by one until no single move betters the criterion; from several starts,
 * each in the order that its seed gives. The layout is left with the best.
 */
export function exchanged(
  layout: Layout,
  slots: readonly Slot[],
  size: number,
  seeds: readonly string[],
): void {
  let best: Map<Slot, Placement> | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const seed of seeds) {
    const { uniform } = randomFrom(seed);
    layout.placements.clear();
    for (const slot of shuffled(slots, uniform)) placeByChance(layout, slot, size, uniform);
    while (exchangeRound(layout, slots, uniform) || swapRound(layout, slots) || pairRound(layout, slots));
    const { smooth } = layout.score();
    if (smooth < least) [best, least] = [new Map(layout.placements), smooth];
  }
  layout.placements.clear();
  for (const [slot, placement] of best ?? []) layout.placements.set(slot, placement);
}

/** Whether any slot was moved. */
function exchangeRound(layout: Layout, slots: readonly Slot[], uniform: () => number): boolean {
  let moved = false;
  for (const slot of shuffled(slots, uniform)) if (exchangeOne(layout, slot)) moved = true;
  return moved;
}
