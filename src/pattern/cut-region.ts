/**
 * Regions bounded by loops of segments and true arcs, cut along straight lines; mm.
 *
 * Every piece is first divided where it is farthest from the line, so that along each part the height over the line is
 * monotone: a part then crosses the line once or not at all, as the heights of its ends say. The crossings, sorted along
 * the line, bound the stretches of line inside the region, two by two.
 */
import { boundaryOf, twiceSignedArea } from '../geometry/boundary.ts';
import { type Bounds, pieceBounds } from '../geometry/extent.ts';
import type { Outline } from '../geometry/outline.ts';
import { type Loop, lengthOf, nearestOn, type Piece, pointAlong } from '../geometry/piece.ts';
import { cross2, distance2, dot2, subtract2, type Vec2 } from '../geometry/vector.ts';

/** A straight line through a point along a unit vector; its left is where heights are positive. */
export interface Line {
  readonly at: Vec2;
  readonly along: Vec2;
}

/** A corner this near to the line counts as on its left (mm): rounding of the line's own point and direction. */
const ON_LINE = 1e-10;
/** Crossings nearer together than this along the line (mm) may stand in either order. */
const TOGETHER = 1e-6;
/** A loop that covers less than its length times this (mm) is the rounding of a line along an edge, not a region. */
const LEAST_WIDTH = 1e-9;
/** Parts of a piece shorter than this fraction of it are dropped: the rounding of fractions. */
const LEAST_FRACTION = 1e-14;

interface Part {
  readonly piece: Piece;
  readonly left: boolean;
  /** Index of the part that follows on the same side; a crossing may come between. */
  next: number;
  /** Straight run to that part's start, where a crossing comes between. */
  link: { readonly from: Vec2; readonly to: Vec2 } | undefined;
}
interface Crossing {
  readonly point: Vec2;
  readonly run: number;
  readonly before: number;
  readonly after: number;
}

/** The loops left and right of the line. All loops go around one region, the outer counterclockwise, holes clockwise. */
export function cutByLine(loops: readonly Loop[], line: Line): { left: Loop[]; right: Loop[] } {
  const parts: Part[] = [];
  const crossings: Crossing[] = [];
  for (const loop of loops) addParts(loop, line, parts, crossings);
  sortByTurns(crossings, ({ before }) => parts[before]!.left);
  for (let k = 0; k + 1 < crossings.length; k += 2) {
    join(parts, crossings[k]!, crossings[k + 1]!);
    join(parts, crossings[k + 1]!, crossings[k]!);
  }
  const sides = { left: [] as Loop[], right: [] as Loop[] };
  const seen = new Uint8Array(parts.length);
  for (let start = 0; start < parts.length; start++) {
    if (seen[start]) continue;
    const pieces: Piece[] = [];
    for (let at = start; !seen[at]; at = parts[at]!.next) {
      seen[at] = 1;
      const { piece, link } = parts[at]!;
      if (lengthOf(piece) > 0) pieces.push(piece);
      if (link !== undefined && distance2(link.from, link.to) > 0) pieces.push({ kind: 'segment', ...link });
    }
    const length = pieces.reduce((sum, piece) => sum + lengthOf(piece), 0);
    if (Math.abs(loopArea(pieces)) <= LEAST_WIDTH * length) continue;
    (parts[start]!.left ? sides.left : sides.right).push(pieces);
  }
  return sides;
}

/** Area inside a loop, mm²: positive counterclockwise. */
export function loopArea(loop: Loop): number {
  let area = twiceSignedArea(loop.map((piece) => pointAlong(piece, 0))) / 2;
  for (const piece of loop)
    if (piece.kind === 'arc') area += (piece.radius ** 2 * (piece.sweep - Math.sin(piece.sweep))) / 2;
  return area;
}

/** Whether the point is inside the loop by more than `margin`, mm. */
export function wellInside(loop: Loop, point: Vec2, margin: number): boolean {
  if (loop.some((piece) => distance2(nearestOn(piece, point), point) <= margin)) return false;
  const parts: Part[] = [];
  const crossings: Crossing[] = [];
  addParts(loop, { at: point, along: [1, 0] }, parts, crossings);
  return crossings.filter(({ run }) => run > 0).length % 2 === 1;
}

export function loopBounds(loop: Loop): Bounds {
  const all = loop.map(pieceBounds);
  return {
    minX: Math.min(...all.map((b) => b.minX)),
    minY: Math.min(...all.map((b) => b.minY)),
    maxX: Math.max(...all.map((b) => b.maxX)),
    maxY: Math.max(...all.map((b) => b.maxY)),
  };
}

/** The loops of an outline; a ring is cut through its hole's centre, along a unit vector there, so that what is left has none. */
export function loopsWithoutHole(outline: Outline, along: (centre: Vec2) => Vec2): readonly Loop[] {
  const loops = boundaryOf(outline);
  if (outline.shape !== 'ring' || !(outline.inner > 0)) return loops;
  const { left, right } = cutByLine(loops, { at: outline.centre, along: along(outline.centre) });
  return [...left, ...right];
}

function subPiece(piece: Piece, from: number, to: number): Piece {
  if (piece.kind === 'segment')
    return { kind: 'segment', from: pointAlong(piece, from), to: pointAlong(piece, to) };
  return { ...piece, start: piece.start + from * piece.sweep, sweep: (to - from) * piece.sweep };
}

const heightOver = (line: Line, point: Vec2): number => cross2(line.along, subtract2(point, line.at));

function addParts(loop: Loop, line: Line, parts: Part[], crossings: Crossing[]): void {
  const monotone = loop.flatMap((piece) => heightMonotone(piece, line));
  const heights = monotone.map((piece) => heightOver(line, pointAlong(piece, 0)));
  const first = parts.length;
  monotone.forEach((piece, k) => {
    const [h0, h1] = [heights[k]!, heights[(k + 1) % heights.length]!];
    const left = h0 > -ON_LINE;
    const append = (piece: Piece, left: boolean): number =>
      parts.push({ piece, left, next: parts.length + 1, link: undefined }) - 1;
    if (left === h1 > -ON_LINE) {
      append(piece, left);
      return;
    }
    const fraction = crossingFraction(piece, line, h0, h1);
    const point = pointAlong(piece, fraction);
    const before = append(subPiece(piece, 0, fraction), left);
    const after = append(subPiece(piece, fraction, 1), !left);
    crossings.push({ point, run: dot2(line.along, subtract2(point, line.at)), before, after });
  });
  parts[parts.length - 1]!.next = first;
}

/**
 * Sorts crossings along the line, where the edge goes to the right and to the left by turns, to the right first: outer loops run
 * counterclockwise, holes clockwise. Where crossings fall together, as at a corner on the line, that decides their order. Throws a
 * RangeError where there is no such order.
 */
export function sortByTurns<C extends { readonly run: number }>(
  crossings: C[],
  goesRight: (crossing: C) => boolean,
): void {
  crossings.sort((a, b) => a.run - b.run);
  for (let k = 0; k < crossings.length; k++) {
    const toRight = k % 2 === 0;
    let next = k;
    while (next < crossings.length && goesRight(crossings[next]!) !== toRight) next++;
    if (next === crossings.length || crossings[next]!.run - crossings[k]!.run > TOGETHER)
      throw new RangeError('a line cuts a loop that crosses itself');
    crossings.splice(k, 0, ...crossings.splice(next, 1));
  }
}

/** The part that ends at one crossing goes on along the line to the part that starts at the other. */
function join(parts: Part[], from: Crossing, to: Crossing): void {
  const before = parts[from.before]!;
  before.next = to.after;
  before.link = { from: from.point, to: to.point };
}

function heightMonotone(piece: Piece, { along }: Line): Piece[] {
  if (piece.kind === 'segment') return [piece];
  const size = Math.abs(piece.sweep);
  const cuts = [Math.PI / 2, -Math.PI / 2]
    .map((quarter) => {
      const turned = (Math.atan2(along[1], along[0]) + quarter - piece.start) * Math.sign(piece.sweep);
      return (turned - 2 * Math.PI * Math.floor(turned / (2 * Math.PI))) / size;
    })
    .filter((fraction) => fraction > LEAST_FRACTION && fraction < 1 - LEAST_FRACTION)
    .sort((a, b) => a - b);
  const ends = [0, ...cuts, 1];
  return cuts.length === 0 ? [piece] : ends.slice(1).map((end, k) => subPiece(piece, ends[k]!, end));
}

/** By halving on an arc, whose height is monotone here. */
function crossingFraction(piece: Piece, line: Line, h0: number, h1: number): number {
  if (piece.kind === 'segment') return Math.min(1, Math.max(0, h0 / (h0 - h1)));
  let [low, high] = [0, 1];
  const rising = h1 > h0;
  for (let k = 0; k < 60; k++) {
    const middle = (low + high) / 2;
    if (heightOver(line, pointAlong(piece, middle)) > 0 === rising) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}
