/**
 * A layout being planned: which slots stand where, what that tells of the part, and the best place for a slot beside the others.
 * Places are screened by their room and by the steepness of the pattern; the one that is chosen is asked every rule of a single
 * patch, exactly (patch-check.ts), and the next best is taken where it breaks one. mm, radians.
 */
import { type Design, patternsOf } from '../design/design.ts';
import { areaOf } from '../geometry/extent.ts';
import { placeFromParent } from '../geometry/frame.ts';
import type { Outline } from '../geometry/outline.ts';
import { standApart } from '../geometry/stand-apart.ts';
import { length, type Vec2 } from '../geometry/vector.ts';
import { roomAt, rounded, type Site, type SiteGrid } from '../metrology/reach/sites.ts';
import type { Reference } from '../scenario/scenario.ts';
import { InformationTable } from './information-table.ts';
import { LayoutPose, type WholeBudget } from './layout-pose.ts';
import { leastFirst } from './least-first.ts';
import { PatchCheck } from './patch-check.ts';
import { figureWishOf, noInformation, type PoseScore, type Wishes, wishesOf } from './pose-information.ts';
import { SiteTable } from './site-table.ts';
import { ANGLES, anglesOf, formOf, leastRoom, type Placement, placementOf, type Slot } from './slot.ts';
import { COMPARED, MOST_WORK, SCORED, Work } from './work.ts';

export class Layout {
  /** With the patches that stand already. */
  readonly design: Design;
  readonly grid: SiteGrid;
  readonly wishes: Wishes;
  readonly check: PatchCheck;
  readonly work: Work;
  readonly placements = new Map<Slot, Placement>();
  readonly #fixed: readonly Outline[];
  readonly #pose: LayoutPose;
  readonly #table: SiteTable;
  readonly #informations: InformationTable;

  /**
   * `design` holds the patches that are given whole; `references` all that may carry patches. Once `work` is spent no place is found
   * any more, and what is placed stays.
   */
  constructor(
    design: Design,
    references: readonly Reference[],
    grid: SiteGrid | number,
    work = new Work(MOST_WORK),
  ) {
    this.design = design;
    this.work = work;
    this.#table = new SiteTable(design, grid);
    this.grid = this.#table.grid;
    this.#informations = new InformationTable(design);
    this.check = new PatchCheck(design, references, work);
    const { frame } = design.scenario.part;
    const size = Math.max(1, ...references.map(({ at }) => length(placeFromParent(frame, at))));
    this.wishes = wishesOf(design.scenario.wanted, size, figureWishOf(design, size));
    this.#fixed = patternsOf(design).map(({ pattern }) => pattern.outline);
    this.#pose = new LayoutPose(design, references, this.placements, this.wishes, work);
  }

  score(): PoseScore {
    return this.#pose.score();
  }

  scoreWith({ slot, information }: Placement): PoseScore {
    return this.#pose.scorer(slot)(information);
  }

  /** Takes over what the whole budget makes of the pose. */
  reckonWith(budget: WholeBudget): void {
    this.#pose.reckonWith(budget);
  }

  get glass(): number {
    let sum = 0;
    for (const { area } of this.placements.values()) sum += area;
    return sum;
  }

  /** The slot of this placement will not be put there again. */
  bar({ slot, centre }: Placement, rule: string): void {
    this.#table.bar(slot, centre);
    this.check.strike(slot.reference.id, rule);
  }

  /** The best place of a slot at one size, beside all others as they stand; undefined where it has none. */
  best(slot: Slot, size: number): Placement | undefined {
    if (slot.centre !== undefined) return this.bestAt(slot, size, slot.centre);
    return this.#bestOf(slot, size, this.grid.sites, anglesOf(slot));
  }

  /** The best line direction of a slot at one centre; undefined where it cannot stand there. */
  bestAt(slot: Slot, size: number, centre: Vec2): Placement | undefined {
    return this.#bestOf(slot, size, [{ at: centre, room: roomAt(this.design, centre) }], anglesOf(slot));
  }

  /**
   * The best places of two line patches on one reference that stand opposite each other about the middle of the glass, their
   * lines alike: what senses the way along the light, and what moving one at a time does not find. Both slots must be unplaced.
   */
  bestPair(
    one: Slot,
    other: Slot,
    sizes: readonly [number, number],
  ): readonly [Placement, Placement] | undefined {
    const score = this.#pose.scorer(one);
    const { sites } = this.grid;
    const usable = (slot: Slot, k: number, size: number): boolean =>
      this.#table.canWrite(slot, k) &&
      sites[k]!.room >= leastRoom(slot, size) &&
      !this.#table.isBarred(slot, sites[k]!.at);
    const pairs: { k: number; opposite: number; a: number; smooth: number }[] = [];
    const together = noInformation();
    sites.forEach((site, k) => {
      const opposite = this.#table.oppositeOf(k);
      if (opposite === undefined || !usable(one, k, sizes[0]) || !usable(other, opposite, sizes[1])) return;
      const first = this.#informations.at(one, site.at, ANGLES, sizes[0]);
      const second = this.#informations.at(other, sites[opposite]!.at, ANGLES, sizes[1]);
      this.work.spend(ANGLES.length * SCORED);
      for (let a = 0; a < ANGLES.length; a++) {
        for (let n = 0; n < 6; n++) together[n] = first[a]![n]! + second[a]![n]!;
        pairs.push({ k, opposite, a, smooth: score(together).smooth });
      }
    });
    pairs.sort((p, q) => p.smooth - q.smooth);
    for (const { k, opposite, a } of pairs.slice(0, PAIRS_TRIED)) {
      const first = placementOf(this.design, one, sites[k]!.at, ANGLES[a]!, sizes[0]);
      const second = placementOf(this.design, other, sites[opposite]!.at, ANGLES[a]!, sizes[1]);
      if (this.isFree(first) && this.isFree(second)) return [first, second];
    }
    return undefined;
  }

  /** A place by chance, for another start; undefined where a few tries find none. */
  anywhere(slot: Slot, size: number, uniform: () => number): Placement | undefined {
    if (slot.centre !== undefined) return this.bestAt(slot, size, slot.centre);
    const angles = anglesOf(slot);
    for (let k = 0; k < TRIES; k++) {
      const site = this.grid.sites[Math.floor(uniform() * this.grid.sites.length)];
      if (site === undefined || site.room < leastRoom(slot, size)) continue;
      const angle = angles[Math.floor(uniform() * angles.length)]!;
      const placement = placementOf(this.design, slot, site.at, angle, size);
      if (!this.#table.isBarred(slot, site.at) && this.isFree(placement)) return placement;
    }
    return undefined;
  }

  /** What a slot at this size could better at most, by a few of the sites, taken or not; undefined where it has none. */
  sample(slot: Slot, size: number): { readonly smooth: number; readonly area: number } | undefined {
    const score = this.#pose.scorer(slot);
    const usable = this.grid.sites.filter((_, k) => this.#table.canWrite(slot, k));
    const every = Math.max(1, Math.floor(usable.length / SAMPLED));
    const angles = anglesOf(slot);
    let smooth = Number.POSITIVE_INFINITY;
    this.work.spend((usable.length / every) * angles.length * SCORED + this.grid.sites.length * COMPARED);
    for (let k = 0; k < usable.length; k += every)
      for (const information of this.#informations.at(slot, usable[k]!.at, angles, size))
        smooth = Math.min(smooth, score(information).smooth);
    return smooth < Infinity ? { smooth, area: areaOf(formOf(slot, [0, 0], 0, size)) } : undefined;
  }

  /** The best of the places around one, half the grid's pitch apart and less: local refinement. */
  nearer(placement: Placement): Placement {
    const { slot, size, angle } = placement;
    if (slot.centre !== undefined) return placement;
    let best = placement;
    for (let step = this.grid.pitch / 2; step >= LAST_STEP && !this.work.isSpent; step /= 2) {
      const around = NEIGHBOURS.map(([dx, dy]): Site => {
        const at: Vec2 = [rounded(best.centre[0] + dx * step), rounded(best.centre[1] + dy * step)];
        return { at, room: roomAt(this.design, at) };
      });
      const found = this.#bestOf(slot, size, around, [angle]);
      if (found === undefined) continue;
      if (this.scoreWith(found).smooth < this.scoreWith(best).smooth * (1 - WORTH_MOVING)) best = found;
    }
    return best;
  }

  /** Whether the place is clear of all other patches and breaks no rule of one patch. */
  isFree(placement: Placement): boolean {
    return this.#clears(placement.slot, placement.outline) && this.check.passes(placement);
  }

  #bestOf(
    slot: Slot,
    size: number,
    sites: readonly Site[],
    angles: readonly number[],
  ): Placement | undefined {
    if (this.work.isSpent) return undefined;
    const score = this.#pose.scorer(slot);
    const onGrid = sites === this.grid.sites;
    const scores = new Float64Array(sites.length * angles.length).fill(Infinity);
    let places = 0;
    sites.forEach((site, k) => {
      if (this.#table.isBarred(slot, site.at) || (onGrid && !this.#table.canWrite(slot, k))) return;
      places++;
      if (site.room < leastRoom(slot, size) || this.#isTaken(slot, site, size)) return;
      this.work.spend(angles.length * SCORED);
      const informations = this.#informations.at(slot, site.at, angles, size);
      for (let a = 0; a < angles.length; a++) scores[k * angles.length + a] = score(informations[a]!).smooth;
    });
    if (places === 0 && sites.length > 0) this.check.strike(slot.reference.id, 'feature-too-small');
    for (const best of leastFirst(scores)) {
      if (this.work.isSpent) return undefined;
      const { at } = sites[Math.floor(best / angles.length)]!;
      const angle = angles[best % angles.length]!;
      if (!this.#clears(slot, formOf(slot, at, angle, size))) continue;
      const placement = placementOf(this.design, slot, at, angle, size);
      if (this.check.passes(placement)) return placement;
    }
    return undefined;
  }

  #clears(slot: Slot, outline: Outline): boolean {
    const { clearance } = this.design.scenario.substrate;
    this.work.spend((this.placements.size + this.#fixed.length) * COMPARED);
    for (const other of this.placements.values())
      if (other.slot !== slot && !standApart(outline, other.outline, clearance)) return false;
    return this.#fixed.every((other) => standApart(outline, other, clearance));
  }

  /** Whether no form of the slot about the point could be clear: what stands there already is too near to its middle. */
  #isTaken(slot: Slot, { at: [x, y] }: Site, size: number): boolean {
    if (slot.outline !== undefined) return false;
    this.work.spend(this.placements.size * COMPARED);
    const near = leastRoom(slot, size) + this.design.scenario.substrate.clearance;
    for (const { slot: owner, centre, core } of this.placements.values()) {
      if (owner === slot || core === undefined) continue;
      const [dx, dy, reach] = [x - centre[0], y - centre[1], core + near];
      if (dx * dx + dy * dy < reach * reach) return true;
    }
    return false;
  }
}

const TRIES = 12;
/** Pairs that are asked the rules, the best first. */
const PAIRS_TRIED = 40;
/** Sites of a sample. */
const SAMPLED = 12;
/** A move that gains less than this of the criterion is not worth its unrounded place. */
const WORTH_MOVING = 1e-4;
/** Of local refinement, mm. */
const LAST_STEP = 0.5;

/** The eight points of a square about its middle. */
const NEIGHBOURS: readonly Vec2[] = [-1, 0, 1].flatMap((dx) =>
  [-1, 0, 1].flatMap((dy): Vec2[] => (dx === 0 && dy === 0 ? [] : [[dx, dy]])),
);
