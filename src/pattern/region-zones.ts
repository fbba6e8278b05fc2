/** All written zones of one region: in ascending order, the families of a band one after the other. */
import { Bands, clearLevel, type ForbiddenValues, type Pair } from './bands.ts';
import type { Offsets } from './bundle-ends.ts';
import { FringeBundle } from './fringe-bundle.ts';
import { FringeEdge, FringeEdgeMaker } from './fringe-edge.ts';
import type { Region } from './regions.ts';
import { ZoneOutline } from './zone-outline.ts';
import { appendEdge, zonesAtLimits } from './zones-at-limits.ts';

export interface ZoneRule {
  /** Zone k is written where k ≤ Φ < k + dutyCycle. */
  readonly dutyCycle: number;
  /** Only zones whose k is a multiple of this. */
  readonly every: number;
  readonly offsets: Offsets;
  /** Most that a written edge may stray from its fringe, mm. */
  readonly tolerance: number;
  readonly forbidden: ForbiddenValues;
}

export interface WrittenZone {
  readonly order: number;
  /** x, y by turns, mm; counterclockwise, the closing side implied. Valid until the next zone is asked for. */
  readonly xy: Float64Array;
  /** Vertices. */
  readonly count: number;
}

/** Zones taken up in one bundle at the most: bounds the memory. */
const MOST_TOGETHER = 4096;
/** The first bundle of a family; the next grow by up to twice, as far as the last one's errors let expect. */
const FIRST_TOGETHER = 16;
const GROWTH = 2;
/** After a bundle has failed, this part of it is tried, or less down to the second; and so much of the size that failed is not passed for a while. */
const SHRINK = 0.6;
const LEAST_SHRINK = 0.2;
const WARY = 0.85;
const CONFIDENCE = 1.05;
/** So few zones are traced one by one. */
const FEW = 2;
/** Zones whose ends are solved together. */
const ENDS_TOGETHER = 64;

/** Orders by turns of `together` written ones. */
export const windowOf = (order: number, every: number, together: number): number =>
  Math.floor(order / every / together);

/** The zones of one region; `report` is told the worst deviation (mm) as it goes. */
export class RegionZones {
  readonly #region: Region;
  readonly #rule: ZoneRule;
  readonly #bands: Bands;
  readonly #maker: FringeEdgeMaker;
  readonly #bundle: FringeBundle;
  readonly #outline = new ZoneOutline();
  readonly #edges = [new FringeEdge(), new FringeEdge()] as const;
  readonly #levels = new Float64Array(2 * ENDS_TOGETHER);
  readonly #ends = new Float64Array(4 * ENDS_TOGETHER);

  constructor(region: Region, rule: ZoneRule) {
    this.#region = region;
    this.#rule = rule;
    this.#bands = new Bands(region);
    this.#maker = new FringeEdgeMaker(region, rule.tolerance);
    this.#bundle = new FringeBundle(region, rule.tolerance, rule.offsets);
  }

  /** Largest deviation measured so far, mm. */
  get worst(): number {
    return Math.max(this.#maker.worst, this.#bundle.worst);
  }

  /** With `together`, all zones of so many orders, of every family, before those of the next so many; see `windowOf`. */
  *all(together = Number.POSITIVE_INFINITY): Generator<WrittenZone> {
    const { limits } = this.#region;
    const { every, dutyCycle } = this.#rule;
    const most = limits[limits.length - 1]!;
    let order = Math.ceil((Math.floor(limits[0]! - dutyCycle) - 1) / every) * every;
    while (order <= most + 1) {
      const band = this.#bands.bandOf(this.#lowerOf(order));
      if (band === limits.length) return;
      let count = 1;
      if (band !== this.#bands.bandOf(this.#upperOf(order))) yield* this.#atLimits(order);
      else if (band > 0) {
        const left = (windowOf(order, every, together) + 1) * together - order / every;
        count = Math.min(this.#countInBand(order, band), left);
        for (const pair of this.#bands.pairsIn(band)) yield* this.#together(pair, order, count);
      }
      order += count * every;
    }
  }

  #lowerOf(order: number): number {
    return clearLevel(order, this.#rule.forbidden);
  }

  #upperOf(order: number): number {
    return clearLevel(order + this.#rule.dutyCycle, this.#rule.forbidden);
  }

  /** How many zones from `order` on lie wholly within its band, by halving: upper levels rise with the order. */
  #countInBand(order: number, band: number): number {
    const { every } = this.#rule;
    let count = 1;
    let beyond = Math.ceil((this.#region.limits[band]! - order) / every) + 2;
    while (beyond - count > 1) {
      const middle = (beyond + count) >> 1;
      if (this.#bands.bandOf(this.#upperOf(order + (middle - 1) * every)) === band) count = middle;
      else beyond = middle;
    }
    return count;
  }

  *#atLimits(order: number): Generator<WrittenZone> {
    const levels = { from: this.#lowerOf(order), to: this.#upperOf(order) };
    const { offsets, tolerance } = this.#rule;
    const outline = this.#outline;
    for (const _ of zonesAtLimits(
      this.#region,
      this.#bands,
      this.#maker,
      levels,
      offsets,
      tolerance,
      outline,
    ))
      if (outline.twiceArea() > 0) yield this.#written(order);
  }

  /** Zones k, k + every, …, `count` of them, of one family within one band. */
  *#together(pair: Pair, from: number, count: number): Generator<WrittenZone> {
    const { every } = this.#rule;
    const orderOf = (zone: number): number => from + zone * every;
    let size = FIRST_TOGETHER;
    let failed = Number.POSITIVE_INFINITY;
    for (let done = 0; done < count; ) {
      const zones = Math.max(1, Math.min(Math.floor(size), count - done));
      if (zones <= FEW) {
        for (let z = 0; z < zones; z++) yield* this.#single(pair, orderOf(done + z));
        size = FEW * GROWTH;
      } else if (
        this.#bundle.fit(pair, this.#lowerOf(orderOf(done)), this.#upperOf(orderOf(done + zones - 1)))
      ) {
        yield* this.#bundled(pair, orderOf(done), zones);
        failed *= CONFIDENCE;
        size = Math.min(zones * Math.min(GROWTH, this.#bundle.room), WARY * failed, MOST_TOGETHER);
      } else {
        failed = zones;
        size = Math.min(SHRINK, Math.max(LEAST_SHRINK, this.#bundle.room)) * zones;
        continue;
      }
      done += zones;
    }
  }

  *#bundled(pair: Pair, from: number, count: number): Generator<WrittenZone> {
    const levels = this.#levels;
    const ends = this.#ends;
    const outline = this.#outline;
    const { every, offsets } = this.#rule;
    const mayVanish = offsets.lower > offsets.upper;
    for (let done = 0; done < count; done += ENDS_TOGETHER) {
      const zones = Math.min(ENDS_TOGETHER, count - done);
      for (let z = 0; z < zones; z++) {
        levels[2 * z] = this.#upperOf(from + (done + z) * every);
        levels[2 * z + 1] = this.#lowerOf(from + (done + z) * every);
      }
      this.#bundle.ends.solve(levels, zones, ends);
      for (let z = 0; z < zones; z++) {
        if (this.#bundle.isAtRunEnd(ends, z)) {
          yield* this.#single(pair, from + (done + z) * every);
          continue;
        }
        outline.clear();
        this.#bundle.append(levels[2 * z]!, levels[2 * z + 1]!, ends, z, outline);
        if (!mayVanish || outline.twiceArea() > 0) yield this.#written(from + (done + z) * every);
      }
    }
  }

  /** One zone between two fringes of a family, each traced by itself. */
  *#single(pair: Pair, order: number): Generator<WrittenZone> {
    const [low, high] = this.#edges;
    const { offsets, tolerance } = this.#rule;
    const outline = this.#outline;
    this.#maker.make(this.#lowerOf(order), pair, offsets.lower, low);
    this.#maker.make(this.#upperOf(order), pair, offsets.upper, high);
    outline.clear();
    outline.addVertices(high.vertices, high.count, 1);
    appendEdge(this.#region, high.downPlaced, low.downPlaced, 0, tolerance, outline);
    outline.addVertices(low.vertices, low.count, -1);
    appendEdge(this.#region, low.upPlaced, high.upPlaced, 0, tolerance, outline);
    if (outline.twiceArea() > 0) yield this.#written(order);
  }

  #written(order: number): WrittenZone {
    return { order, xy: this.#outline.xy, count: this.#outline.used >> 1 };
  }
}
