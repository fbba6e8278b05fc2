/**
 * A layout being planned: which slots stand where, what that tells of the part, and which places a slot may take beside the
 * others. Places are screened by their room and by the steepness of the pattern; the one that is chosen is asked every rule of a
 * single patch, exactly, and struck off where it breaks one. mm, radians.
 */
import type { Design } from '../design/design.ts';
import { designPatch } from '../design/design-patch.ts';
import { gapBetween } from '../geometry/clearance.ts';
import { placeFromParent, rotateBack } from '../geometry/frame.ts';
import type { Outline } from '../geometry/outline.ts';
import { distance2, length, type Vec2 } from '../geometry/vector.ts';
import { readingsOf } from '../metrology/readings.ts';
import { biasCancels } from '../rules/bias-cancels.ts';
import { blocked } from '../rules/blocked.ts';
import { diffractionBlur } from '../rules/diffraction-blur.ts';
import { featureTooSmall } from '../rules/feature-too-small.ts';
import { fewPixels } from '../rules/few-pixels.ts';
import { keepOut } from '../rules/keep-out.ts';
import { offSubstrate } from '../rules/off-substrate.ts';
import type { Rule } from '../rules/rule.ts';
import { seatClash } from '../rules/seat-clash.ts';
import { unlit } from '../rules/unlit.ts';
import type { Reference } from '../scenario/scenario.ts';
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
import { roomAt, type Site, type SiteGrid, sitesOf, steepestWritten, steepnessToward } from './sites.ts';
import { anglesOf, type Placement, patchOf, placementOf, type Slot } from './slot.ts';

/** Rules that one patch breaks or keeps whatever else there is. */
const OF_ONE_PATCH: readonly Rule[] = [
  offSubstrate,
  keepOut,
  seatClash,
  unlit,
  featureTooSmall,
  biasCancels,
  blocked,
  fewPixels,
  diffractionBlur,
];

export class Layout {
  /** With the patches that stand already. */
  readonly design: Design;
  readonly grid: SiteGrid;
  readonly wishes: Wishes;
  readonly placements = new Map<Slot, Placement>();
  /** How often each rule struck a place off, by reference and rule. */
  readonly struckOff = new Map<string, Map<string, number>>();
  readonly #fixed: readonly Outline[];
  readonly #readings = new Map<string, Symmetric3>();
  readonly #carried = new Map<string, Carried>();
  readonly #verdicts = new Map<string, string | undefined>();
  readonly #steepness = new Map<string, Float64Array>();
  readonly #barred = new Set<string>();
  readonly #references: readonly Reference[];

  /** `design` holds the patches that are given whole; `references` all that may carry patches. */
  constructor(design: Design, references: readonly Reference[], sites: number) {
    this.design = design;
    this.grid = sitesOf(design, sites);
    this.#references = references;
    const { frame } = design.scenario.part;
    const size = Math.max(1, ...references.map(({ at }) => length(placeFromParent(frame, at))));
    this.wishes = wishesOf(design.scenario.wanted, size);
    this.#fixed = design.patches.map(({ outline }) => outline);
    for (const reference of references) {
      this.#carried.set(reference.id, carriedBy(design, reference));
      this.#readings.set(reference.id, noInformation());
    }
    for (const { reference, direction, u } of readingsOf(design))
      addReading(this.#readings.get(reference.id)!, rotateBack(frame.rotation, direction), 1 / (u * u));
  }

  standing(): Standing6 {
    return standingOf(this.#poseWithout(undefined), this.wishes);
  }

  /** Takes over what the whole budget makes of the pose, σ of the six degrees in mm and rad (null: not observed). */
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

  /** No placement of this slot at this place will be taken again. */
  bar({ slot, centre }: Placement, rule: string): void {
    this.#barred.add(placeKey(slot, centre));
    this.#countStruck(slot.reference.id, rule);
  }

  /** The best place of a slot at one size, beside all others as they stand; undefined where it has none. */
  best(slot: Slot, size: number): Placement | undefined {
    const sites: readonly Site[] =
      slot.centre === undefined
        ? this.grid.sites
        : [{ at: slot.centre, room: roomAt(this.design, slot.centre) }];
    return this.#bestOf(slot, size, sites, anglesOf(slot));
  }

  /** What a slot at this size could better at most, by a few of the sites, taken or not; undefined where it has none. */
  sample(slot: Slot, size: number): { readonly smooth: number; readonly area: number } | undefined {
    const base = this.#poseWithout(slot.reference.id);
    const own = this.#informationOf(slot.reference.id, slot);
    const steepness = this.#steepnessOf(slot.reference);
    const limit = steepestWritten(this.design) * Math.abs(slot.order);
    const usable = this.grid.sites.filter((_, k) => steepness[k]! <= limit);
    const every = Math.max(1, Math.floor(usable.length / SAMPLED));
    let best: { smooth: number; area: number } | undefined;
    for (let k = 0; k < usable.length; k += every)
      for (const angle of anglesOf(slot)) {
        const placement = placementOf(this.design, slot, usable[k]!.at, angle, size);
        const { smooth } = this.#standingOf(base, own, placement);
        if (best === undefined || smooth < best.smooth) best = { smooth, area: placement.area };
      }
    return best;
  }

  /** The best of the places around one, a quarter of the grid apart and less: local refinement. */
  nearer(placement: Placement): Placement {
    const { slot, size, angle } = placement;
    if (slot.centre !== undefined) return placement;
    let best = placement;
    for (let step = this.grid.pitch / 2; step >= 0.5; step /= 2) {
      const around = NEIGHBOURS.map(([dx, dy]): Site => {
        const at: Vec2 = [grain(best.centre[0] + dx * step), grain(best.centre[1] + dy * step)];
        return { at, room: roomAt(this.design, at) };
      });
      const found = this.#bestOf(slot, size, around, [angle]);
      if (found === undefined) continue;
      const [now, then] = [this.standingWith(best), this.standingWith(found)];
      if (then.smooth < now.smooth * (1 - WORTH_MOVING)) best = found;
    }
    return best;
  }

  standingWith(placement: Placement): Standing6 {
    const { slot } = placement;
    const base = this.#poseWithout(slot.reference.id);
    const own = this.#informationOf(slot.reference.id, slot);
    return this.#standingOf(base, own, placement);
  }

  /** Whether the place is free of all other patches and breaks no rule of one patch. */
  isFree(placement: Placement): boolean {
    return this.#clears(placement, placement.slot) && this.#passes(placement);
  }

  #bestOf(
    slot: Slot,
    size: number,
    sites: readonly Site[],
    angles: readonly number[],
  ): Placement | undefined {
    const base = this.#poseWithout(slot.reference.id);
    const own = this.#informationOf(slot.reference.id, slot);
    const steepness = sites === this.grid.sites ? this.#steepnessOf(slot.reference) : undefined;
    const ranked: { placement: Placement; smooth: number }[] = [];
    let placesLeft = false;
    sites.forEach((site, k) => {
      if (this.#barred.has(placeKey(slot, site.at))) return;
      if (steepness !== undefined && steepness[k]! / Math.abs(slot.order) > steepestWritten(this.design)) {
        return;
      }
      placesLeft = true;
      for (const angle of angles) {
        const placement = placementOf(this.design, slot, site.at, angle, size);
        if (site.room < narrowest(placement)) break;
        ranked.push({ placement, smooth: this.#standingOf(base, own, placement).smooth });
      }
    });
    if (!placesLeft) this.#countStruck(slot.reference.id, 'feature-too-small');
    // Best first; equal ones in the order of the grid.
    ranked.sort((a, b) => a.smooth - b.smooth);
    return ranked.find(({ placement }) => this.#clears(placement, slot) && this.#passes(placement))
      ?.placement;
  }

  #standingOf(base: Float64Array, own: Symmetric3, placement: Placement): Standing6 {
    const pose = base.slice();
    const sum = own.map((entry, k) => entry + placement.information[k]!);
    addToPose(pose, sum, this.#carried.get(placement.slot.reference.id)!);
    return standingOf(pose, this.wishes);
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
    const sum = this.#readings.get(reference)!.slice();
    for (const { slot, information } of this.placements.values()) {
      if (slot === without || slot.reference.id !== reference) continue;
      for (let k = 0; k < 6; k++) sum[k]! += information[k]!;
    }
    return sum;
  }

  #clears({ outline, centre, reach }: Placement, slot: Slot): boolean {
    const { clearance } = this.design.scenario.substrate;
    for (const other of this.placements.values()) {
      if (other.slot === slot) continue;
      const apart = distance2(centre, other.centre);
      if (apart >= reach + other.reach + clearance) continue;
      if (gapBetween(outline, other.outline).gap < clearance) return false;
    }
    return this.#fixed.every((other) => gapBetween(outline, other).gap >= clearance);
  }

  #passes(placement: Placement): boolean {
    const { slot, centre, angle, size } = placement;
    const key = `${placeKey(slot, centre)} ${angle.toFixed(6)} ${size}`;
    if (!this.#verdicts.has(key)) {
      const broken = this.#brokenRule(placement);
      this.#verdicts.set(key, broken);
      if (broken !== undefined) this.#countStruck(slot.reference.id, broken);
    }
    return this.#verdicts.get(key) === undefined;
  }

  #brokenRule(placement: Placement): string | undefined {
    const { design } = this;
    const patch = patchOf(placement);
    const designed = designPatch(
      patch,
      placement.slot.reference,
      design.beam,
      design.glass,
      design.light.wavelength,
    );
    const alone: Design = { ...design, references: this.#references, patches: [designed] };
    for (const rule of OF_ONE_PATCH) {
      const [finding] = rule(alone).filter(({ where }) => where.split(', ').includes(patch.id));
      if (finding !== undefined) return finding.rule;
    }
    return undefined;
  }

  #steepnessOf(reference: Reference): Float64Array {
    const known = this.#steepness.get(reference.id);
    if (known !== undefined) return known;
    const found = steepnessToward(
      this.design,
      reference,
      this.grid.sites.map(({ at }) => at),
    );
    this.#steepness.set(reference.id, found);
    return found;
  }

  #countStruck(reference: string, rule: string): void {
    const counts = this.struckOff.get(reference) ?? new Map<string, number>();
    this.struckOff.set(reference, counts.set(rule, (counts.get(rule) ?? 0) + 1));
  }
}

/** Sites of a sample. */
const SAMPLED = 12;
/** A move that gains less than this of the worst ratio is not worth its unrounded place. */
const WORTH_MOVING = 1e-4;

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

const grain = (value: number): number => Math.round(value * 10) / 10 + 0;
const placeKey = (slot: Slot, [x, y]: Vec2): string => `${slot.id} ${x} ${y}`;

/** Half the narrowest side: a place with less room than this holds no such patch. */
const narrowest = ({ outline, reach }: Placement): number =>
  outline.shape === 'rectangle'
    ? Math.min(outline.width, outline.height) / 2
    : outline.shape === 'circle'
      ? reach
      : 0;
