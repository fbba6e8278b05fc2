/**
 * What the planner knows of its sites: how steep a pattern toward each reference is at each, which site stands opposite, and where
 * a slot will not be put again. mm, waves/mm.
 */
import type { Design } from '../design/design.ts';
import { boundsOf } from '../geometry/extent.ts';
import type { Vec2 } from '../geometry/vector.ts';
import {
  rounded,
  type Site,
  type SiteGrid,
  sitesOf,
  steepestWritten,
  steepnessToward,
} from '../metrology/reach/sites.ts';
import type { Reference } from '../scenario/scenario.ts';
import type { Slot } from './slot.ts';

export class SiteTable {
  readonly grid: SiteGrid;
  readonly #design: Design;
  readonly #steepness = new Map<string, Float64Array>();
  readonly #barred = new Set<string>();
  #opposites: readonly (number | undefined)[] | undefined;

  constructor(design: Design, grid: SiteGrid | number) {
    this.#design = design;
    this.grid = typeof grid === 'number' ? sitesOf(design, grid) : grid;
  }

  get sites(): readonly Site[] {
    return this.grid.sites;
  }

  bar(slot: Slot, at: Vec2): void {
    this.#barred.add(placeKey(slot, at));
  }

  isBarred(slot: Slot, at: Vec2): boolean {
    return this.#barred.has(placeKey(slot, at));
  }

  /** Whether the process can write the slot's pattern at site `k`. */
  canWrite(slot: Slot, k: number): boolean {
    return this.#steepnessOf(slot.reference)[k]! <= steepestWritten(this.#design) * Math.abs(slot.order);
  }

  /** The site on the other side of the grid's middle. */
  oppositeOf(k: number): number | undefined {
    if (this.#opposites === undefined) {
      const index = new Map(this.sites.map(({ at }, n) => [`${at[0]} ${at[1]}`, n]));
      const { minX, maxX, minY, maxY } = boundsOf(this.#design.scenario.substrate.outline);
      this.#opposites = this.sites.map(({ at: [x, y] }) =>
        index.get(`${rounded(minX + maxX - x)} ${rounded(minY + maxY - y)}`),
      );
    }
    const opposite = this.#opposites[k];
    return opposite === k ? undefined : opposite;
  }

  #steepnessOf(reference: Reference): Float64Array {
    const known = this.#steepness.get(reference.id);
    if (known !== undefined) return known;
    const xs = Float64Array.from(this.sites, ({ at }) => at[0]);
    const ys = Float64Array.from(this.sites, ({ at }) => at[1]);
    const found = steepnessToward(this.#design, reference, xs, ys);
    this.#steepness.set(reference.id, found);
    return found;
  }
}

const placeKey = (slot: Slot, [x, y]: Vec2): string => `${slot.id} ${x} ${y}`;
