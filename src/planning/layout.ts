/**
 * A layout being planned: which slots stand where, what that tells of the part, and the best place for a slot beside the others.
 * Places are screened by their room and by the steepness of the pattern; the one that is chosen is asked every rule of a single
 * patch, exactly (patch-check.ts), and the next best is taken where it breaks one. mm, radians.
 */
import type { Design } from '../design/design.ts';
import { gapBetween } from '../geometry/clearance.ts';
import { areaOf, boundsOf } from '../geometry/extent.ts';
import { placeFromParent, rotateBack } from '../geometry/frame.ts';
import type { Outline } from '../geometry/outline.ts';
import { distance2, length, type Vec2 } from '../geometry/vector.ts';
import { readingsOf } from '../metrology/readings.ts';
import type { Reference } from '../scenario/scenario.ts';
import { PatchCheck } from './patch-check.ts';
import {
  addReading,
  addToPose,
  type Carried,
  carriedBy,
  noInformation,
  type Standing6,
  type Symmetric3,
  standingOf,
  variancesOf,
  type Wishes,
  wishesOf,
} from './pose-information.ts';
import {
  roomAt,
  rounded,
  type Site,
  type SiteGrid,
  sitesOf,
  steepestWritten,
  steepnessToward,
} from './sites.ts';
import { ANGLES, anglesOf, formOf, informationOf, type Placement, placementOf, type Slot } from './slot.ts';

export class Layout {
  /** With the patches that stand already. */
  readonly design: Design;
  readonly grid: SiteGrid;
  readonly wishes: Wishes;
  readonly check: PatchCheck;
  readonly placements = new Map<Slot, Placement>();
  readonly #fixed: readonly Outline[];
  readonly #references: readonly Reference[];
  /** What the given patches and measurements tell, by reference. */
  readonly #given = new Map<string, Symmetric3>();
  readonly #carried = new Map<string, Carried>();
  readonly #steepness = new Map<string, Float64Array>();
  readonly #barred = new Set<string>();
  #opposites: readonly (number | undefined)[] | undefined;
  readonly #kept = new Map<string, Map<string, readonly Symmetric3[]>>();

  /** `design` holds the patches that are given whole; `references` all that may carry patches. */
  constructor(design: Design, references: readonly Reference[], grid: SiteGrid | number) {
    this.design = design;
    this.grid = typeof grid === 'number' ? sitesOf(design, grid) : grid;
    this.check = new PatchCheck(design, references);
    this.#references = references;
    const { frame } = design.scenario.part;
    const size = Math.max(1, ...references.map(({ at }) => length(placeFromParent(frame, at))));
    this.wishes = wishesOf(design.scenario.wanted, size);
    this.#fixed = design.patches.map(({ outline }) => outline);
    for (const reference of references) {
      this.#carried.set(reference.id, carriedBy(design, reference));
      this.#given.set(reference.id, noInformation());
    }
    for (const { reference, direction, u } of readingsOf(design))
      addReading(this.#given.get(reference.id)!, rotateBack(frame.rotation, direction), 1 / (u * u));
  }

  standing(): Standing6 {
    return standingOf(this.#poseWithout(undefined), this.wishes);
  }

  standingWith({ slot, information }: Placement): Standing6 {
    return this.#scorer(slot)(information);
  }

  /** Takes over what the whole budget makes of the pose: σ of the six degrees in mm and rad (null: not observed). */
  reckonWith(sigmas: readonly (number | null)[]): void {
    const own = variancesOf(this.#poseWithout(undefined), this.wishes);
    sigmas.forEach((sigma, degree) => {
      if (sigma !== null) this.wishes.besides[degree] = Math.max(0, sigma * sigma - own[degree]!);
    });
  }

  get glass(): number {
    let sum = 0;
    for (const { area } of this.placements.values()) sum += area;
    return sum;
  }

  /** The slot of this placement will not be put there again. */
  bar({ slot, centre }: Placement, rule: string): void {
    this.#barred.add(placeKey(slot, centre));
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
    const score = this.#scorer(one);
    const { sites } = this.grid;
    const steepness = this.#steepnessOf(one.reference);
    const limit = steepestWritten(this.design) * Math.min(Math.abs(one.order), Math.abs(other.order));
    const usable = (slot: Slot, k: number, size: number): boolean =>
      steepness[k]! <= limit &&
      sites[k]!.room >= leastRoom(slot, size) &&
      !this.#barred.has(placeKey(slot, sites[k]!.at));
    const pairs: { k: number; opposite: number; a: number; smooth: number }[] = [];
    const together = noInformation();
    sites.forEach((site, k) => {
      const opposite = this.#oppositeOf(k);
      if (opposite === undefined || !usable(one, k, sizes[0]) || !usable(other, opposite, sizes[1])) return;
      const first = this.#informationsAt(one, site.at, ANGLES, sizes[0]);
      const second = this.#informationsAt(other, sites[opposite]!.at, ANGLES, sizes[1]);
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

  /** The site on the other side of the grid's middle. */
  #oppositeOf(k: number): number | undefined {
    if (this.#opposites === undefined) {
      const index = new Map(this.grid.sites.map(({ at }, n) => [`${at[0]} ${at[1]}`, n]));
      const { minX, maxX, minY, maxY } = boundsOf(this.design.scenario.substrate.outline);
      this.#opposites = this.grid.sites.map(({ at: [x, y] }) =>
        index.get(`${rounded(minX + maxX - x)} ${rounded(minY + maxY - y)}`),
      );
    }
    const opposite = this.#opposites[k];
    return opposite === k ? undefined : opposite;
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
      if (!this.#barred.has(placeKey(slot, site.at)) && this.isFree(placement)) return placement;
    }
    return undefined;
  }

  /** What a slot at this size could better at most, by a few of the sites, taken or not; undefined where it has none. */
  sample(slot: Slot, size: number): { readonly smooth: number; readonly area: number } | undefined {
    const score = this.#scorer(slot);
    const steepness = this.#steepnessOf(slot.reference);
    const limit = steepestWritten(this.design) * Math.abs(slot.order);
    const usable = this.grid.sites.filter((_, k) => steepness[k]! <= limit);
    const every = Math.max(1, Math.floor(usable.length / SAMPLED));
    const angles = anglesOf(slot);
    let smooth = Number.POSITIVE_INFINITY;
    for (let k = 0; k < usable.length; k += every)
      for (const information of this.#informationsAt(slot, usable[k]!.at, angles, size))
        smooth = Math.min(smooth, score(information).smooth);
    return smooth < Infinity ? { smooth, area: areaOf(formOf(slot, [0, 0], 0, size)) } : undefined;
  }

  /** The best of the places around one, half the grid's pitch apart and less: local refinement. */
  nearer(placement: Placement): Placement {
    const { slot, size, angle } = placement;
    if (slot.centre !== undefined) return placement;
    let best = placement;
    for (let step = this.grid.pitch / 2; step >= LAST_STEP; step /= 2) {
      const around = NEIGHBOURS.map(([dx, dy]): Site => {
        const at: Vec2 = [rounded(best.centre[0] + dx * step), rounded(best.centre[1] + dy * step)];
        return { at, room: roomAt(this.design, at) };
      });
      const found = this.#bestOf(slot, size, around, [angle]);
      if (found === undefined) continue;
      if (this.standingWith(found).smooth < this.standingWith(best).smooth * (1 - WORTH_MOVING)) best = found;
    }
    return best;
  }

  /** Whether the place is clear of all other patches and breaks no rule of one patch. */
  isFree(placement: Placement): boolean {
    return this.#clears(placement) && this.check.passes(placement);
  }

  #bestOf(
    slot: Slot,
    size: number,
    sites: readonly Site[],
    angles: readonly number[],
  ): Placement | undefined {
    const score = this.#scorer(slot);
    const steepness = sites === this.grid.sites ? this.#steepnessOf(slot.reference) : undefined;
    const limit = steepestWritten(this.design) * Math.abs(slot.order);
    const scores = new Float64Array(sites.length * angles.length).fill(Infinity);
    let places = 0;
    sites.forEach((site, k) => {
      if (this.#barred.has(placeKey(slot, site.at)) || (steepness !== undefined && steepness[k]! > limit))
        return;
      places++;
      if (site.room < leastRoom(slot, size)) return;
      const informations = this.#informationsAt(slot, site.at, angles, size);
      for (let a = 0; a < angles.length; a++) scores[k * angles.length + a] = score(informations[a]!).smooth;
    });
    if (places === 0) this.check.strike(slot.reference.id, 'feature-too-small');
    // Best first; of equal ones the first in the order of the grid.
    for (;;) {
      let best = -1;
      for (let n = 0; n < scores.length; n++)
        if (scores[n]! < Infinity && (best < 0 || scores[n]! < scores[best]!)) best = n;
      if (best < 0) return undefined;
      scores[best] = Infinity;
      const { at } = sites[Math.floor(best / angles.length)]!;
      const placement = placementOf(this.design, slot, at, angles[best % angles.length]!, size);
      if (this.isFree(placement)) return placement;
    }
  }

  /** By angle; kept from one round of exchange to the next, for all slots of one reference that are alike. */
  #informationsAt(slot: Slot, at: Vec2, angles: readonly number[], size: number): readonly Symmetric3[] {
    const group = `${slot.reference.id} ${slot.index ?? slot.focus} ${size} ${angles.length}`;
    const kept = this.#kept.get(group) ?? new Map<string, readonly Symmetric3[]>();
    this.#kept.set(group, kept);
    const key = `${at[0]} ${at[1]}`;
    const known = kept.get(key);
    if (known !== undefined) return known;
    const found = angles.map((angle) =>
      informationOf(this.design, slot, at, angle, formOf(slot, at, angle, size)),
    );
    // A single angle is that of a patch in its place: cheap, and seldom asked twice.
    if (angles.length > 1) kept.set(key, found);
    return found;
  }

  /** How the pose stands with a slot's information added to that of all other slots. */
  #scorer(slot: Slot): (information: Symmetric3) => Standing6 {
    const base = this.#poseWithout(slot.reference.id);
    const own = this.#informationOf(slot.reference.id, slot);
    const carried = this.#carried.get(slot.reference.id)!;
    return (information) => {
      POSE.set(base);
      for (let k = 0; k < 6; k++) SUM[k] = own[k]! + information[k]!;
      addToPose(POSE, SUM, carried);
      return standingOf(POSE, this.wishes);
    };
  }

  #poseWithout(reference: string | undefined): Float64Array {
    const pose = new Float64Array(36);
    for (const { id } of this.#references) {
      if (id === reference) continue;
      addToPose(pose, this.#informationOf(id, undefined), this.#carried.get(id)!);
    }
    return pose;
  }

  #informationOf(reference: string, without: Slot | undefined): Symmetric3 {
    const sum = this.#given.get(reference)!.slice();
    for (const { slot, information } of this.placements.values()) {
      if (slot === without || slot.reference.id !== reference) continue;
      for (let k = 0; k < 6; k++) sum[k]! += information[k]!;
    }
    return sum;
  }

  #clears({ slot, outline, centre, reach }: Placement): boolean {
    const { clearance } = this.design.scenario.substrate;
    for (const other of this.placements.values()) {
      if (other.slot === slot) continue;
      if (distance2(centre, other.centre) >= reach + other.reach + clearance) continue;
      if (gapBetween(outline, other.outline).gap < clearance) return false;
    }
    return this.#fixed.every((other) => gapBetween(outline, other).gap >= clearance);
  }

  #steepnessOf(reference: Reference): Float64Array {
    const known = this.#steepness.get(reference.id);
    if (known !== undefined) return known;
    const points = this.grid.sites.map(({ at }) => at);
    const found = steepnessToward(this.design, reference, points);
    this.#steepness.set(reference.id, found);
    return found;
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

const NEIGHBOURS: readonly Vec2[] = [
  [1, 0],
  [1, 1],
  [0, 1],
  [-1, 1],
  [-1, 0],
  [-1, -1],
  [0, -1],
  [1, -1],
];

const placeKey = (slot: Slot, [x, y]: Vec2): string => `${slot.id} ${x} ${y}`;

/** Half the narrowest side: a place with less room than this holds no such patch. */
const leastRoom = ({ outline, focus, forms }: Slot, size: number): number => {
  if (outline !== undefined) return 0;
  return (focus === 'line' ? Math.min(size, forms.lengthOf(size)) : size) / 2;
};

/** Worked in by every score, one after the other. */
const POSE = new Float64Array(36);
const SUM = new Float64Array(6);
