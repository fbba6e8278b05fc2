/**
 * Room for marks on the glass: places where an upright box keeps its distance from all that stands there, nearest to where it is wished.
 * mm, substrate frame. Distances are exact; places are whole hundredths of a millimetre.
 */
import { gapBetween, insideMargin } from '../../geometry/clearance.ts';
import { depthIn } from '../../geometry/contains.ts';
import { type Bounds, boundsOf } from '../../geometry/extent.ts';
import type { Outline, RectangleOutline } from '../../geometry/outline.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { type Design, patternsOf } from '../design.ts';

interface Taken {
  readonly outline: Outline;
  /** What a mark keeps from it. */
  readonly gap: number;
}

interface Size {
  readonly width: number;
  readonly height: number;
}

/** Steps of the search over the glass's greater side, and the least of them. */
const STEPS = 150;
const LEAST_STEP = 0.25;
/** Places are rounded to this. */
const GRID = 0.01;
/** Rounding of a distance. */
const ROUNDING = 1e-9;

export const boxAt = (centre: Vec2, { width, height }: Size): RectangleOutline => ({
  shape: 'rectangle',
  centre,
  width,
  height,
  rotation: 0,
});

export class Room {
  readonly #glass: Outline;
  readonly #margin: number;
  readonly #taken: Taken[];
  readonly #bounds: Bounds;
  readonly #step: number;
  readonly #far: number;

  constructor(glass: Outline, margin: number, taken: readonly Taken[]) {
    this.#glass = glass;
    this.#margin = margin;
    this.#taken = [...taken];
    this.#bounds = boundsOf(glass);
    const { minX, maxX, minY, maxY } = this.#bounds;
    this.#step = Math.max(LEAST_STEP, Math.max(maxX - minX, maxY - minY) / STEPS);
    this.#far = Math.hypot(maxX - minX, maxY - minY);
  }

  take(outline: Outline, gap: number): void {
    this.#taken.push({ outline, gap });
  }

  /** Whether the box keeps the edge's margin and every gap. */
  isFree(box: RectangleOutline): boolean {
    const bounds = boundsOfBox(box);
    if (!holds(this.#bounds, bounds)) return false;
    for (const corner of cornersOf(bounds))
      if (depthIn(this.#glass, corner) < this.#margin - ROUNDING) return false;
    const at = this.#taken.findIndex(
      ({ outline, gap }) =>
        boundsApart(boundsOf(outline), bounds) < gap - ROUNDING &&
        gapBetween(outline, box).gap < gap - ROUNDING,
    );
    if (at >= 0) {
      // What was in the way here is likely in the way of the next place too.
      this.#taken.unshift(...this.#taken.splice(at, 1));
      return false;
    }
    return insideMargin(this.#glass, box) >= this.#margin - ROUNDING;
  }

  /**
   * The free place nearest to `wished`, within `reach` of it, that is accepted; undefined without one. `isWorthALook` is asked of every
   * place, `accepts` of those that are free.
   */
  nearest(
    size: Size,
    wished: Vec2,
    accepts: (box: RectangleOutline) => boolean = () => true,
    reach = this.#far,
    isWorthALook: (box: RectangleOutline) => boolean = () => true,
  ): Vec2 | undefined {
    for (let ring = 0; ring * this.#step <= reach; ring++) {
      const count = Math.max(1, Math.ceil(2 * Math.PI * ring));
      for (let k = 0; k < count; k++) {
        const angle = (2 * Math.PI * k) / count;
        const away = ring * this.#step;
        const at: Vec2 = [
          onGrid(wished[0] + away * Math.cos(angle)),
          onGrid(wished[1] + away * Math.sin(angle)),
        ];
        const box = boxAt(at, size);
        if (isWorthALook(box) && this.isFree(box) && accepts(box)) return at;
      }
    }
    return undefined;
  }
}

export const onGrid = (value: number): number => Math.round(value / GRID) / Math.round(1 / GRID) + 0;

/** Of an upright box: asked for at every place tried. */
const boundsOfBox = ({ centre: [x, y], width, height }: RectangleOutline): Bounds => ({
  minX: x - width / 2,
  maxX: x + width / 2,
  minY: y - height / 2,
  maxY: y + height / 2,
});

function cornersOf({ minX, maxX, minY, maxY }: Bounds): readonly Vec2[] {
  return [
    [minX, minY],
    [maxX, minY],
    [maxX, maxY],
    [minX, maxY],
  ];
}

const holds = (outer: Bounds, inner: Bounds): boolean =>
  inner.minX >= outer.minX &&
  inner.maxX <= outer.maxX &&
  inner.minY >= outer.minY &&
  inner.maxY <= outer.maxY;

function boundsApart(a: Bounds, b: Bounds): number {
  const dx = Math.max(0, a.minX - b.maxX, b.minX - a.maxX);
  const dy = Math.max(0, a.minY - b.maxY, b.minY - a.maxY);
  return Math.hypot(dx, dy);
}

/** A mark placed by the program keeps at least this from all else, so that it is read apart. Common practice, no source. */
export const MARK_GAP = 0.3;

/** What a design leaves free of patterns, keep-outs and seats, on either face: under a bonded seat a mark cannot be read through the glass. */
export function roomOf(design: Design): Room {
  const { substrate, keepOuts, seats } = design.scenario;
  const { outline, edgeMargin, clearance } = substrate;
  const taken: readonly Outline[] = [
    ...patternsOf(design).map(({ pattern }) => pattern.outline),
    ...keepOuts.map((keepOut) => keepOut.outline),
    ...seats.map(({ at, footprint }): Outline => ({ shape: 'circle', centre: at, radius: footprint / 2 })),
  ];
  return new Room(
    outline,
    edgeMargin,
    taken.map((other) => ({ outline: other, gap: Math.max(clearance, MARK_GAP) })),
  );
}
