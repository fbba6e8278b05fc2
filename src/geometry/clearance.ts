/**
 * Clearances between outlines taken as regions, and how deep they reach into one another, mm, with arcs as true arcs. Clearances are in
 * closed form throughout: right to 1e-9 mm for
 * outlines within a few metres of the origin (tests/geometry/clearance.test.ts holds it to that).
 */
import { boundaryOf } from './boundary.ts';
import { covers, depthIn, ON_EDGE } from './contains.ts';
import { type Bounds, pieceBounds } from './extent.ts';
import { type Outline, ofOutline } from './outline.ts';
import { lengthOf, type NearestPair, nearestOfPieces, type Piece, pointAlong } from './piece.ts';
import { interiorGrid, spacingFor } from './sampling.ts';
import type { Vec2 } from './vector.ts';

interface Gap {
  /** 0 where the regions overlap or touch (to ON_EDGE). */
  readonly gap: number;
  /** The nearest points, of the first and of the second; twice a common point where they overlap. */
  readonly at: readonly [Vec2, Vec2];
}

/** Runs of edge that cannot beat the best by this (mm) are dropped, and the best then climbed from: a micrometre. */
const WORTH_A_LOOK = 1e-3;
/** Points tried along one piece at most. Some tens are usual; all are used where a long run lies equally far out. */
const MOST_TRIED = 2_000;

/**
 * The distance between two regions. One inside the other overlaps it; one inside the hole of a ring does not.
 */
export function gapBetween(a: Outline, b: Outline): Gap {
  const nearest = nearestOfEdges(a, b);
  if (nearest.gap <= ON_EDGE) return { ...nearest, gap: 0 };
  const common =
    startsOf(a).find((point) => covers(b, point)) ?? startsOf(b).find((point) => covers(a, point));
  return common === undefined ? nearest : { gap: 0, at: [common, common] };
}

/**
 * The least distance from `outline` to the edge of `container` when it lies wholly inside, 0 when it touches the edge
 * from inside. When it leaves the container: minus how far outside the farthest point of its edge stands, by search, as
 * for a message (to 1e-3 mm; to 1e-9 mm where no other run of the edge comes so near to being the farthest). Where it also covers the middle of a ring's or a sector's bore, that point counts too.
 */
export function insideMargin(container: Outline, outline: Outline): number {
  const { gap } = nearestOfEdges(container, outline);
  const crosses = gap <= ON_EDGE;
  const holds = startsOf(outline).every((point) => covers(container, point));
  const spans = startsOf(container).some((point) => covers(outline, point));
  if (!crosses && holds && !spans) return gap;
  const out = overhang(container, outline);
  return out <= ON_EDGE ? 0 : -out;
}

function nearestOfEdges(a: Outline, b: Outline): NearestPair {
  const [ofA, ofB] = [boundedPieces(a), boundedPieces(b)];
  const [first, other] = nearestBounds(ofA, ofB);
  let best = nearestOfPieces(first.piece, other.piece);
  for (const p of ofA)
    for (const q of ofB) {
      if (best.gap === 0) return best;
      if (boundsApart(p.bounds, q.bounds) >= best.gap) continue;
      const pair = nearestOfPieces(p.piece, q.piece);
      if (pair.gap < best.gap) best = pair;
    }
  return best;
}

interface BoundedPiece {
  readonly piece: Piece;
  readonly bounds: Bounds;
}

/** The two to begin with: an edge of many pieces is then passed over at its bounds, but for a few. */
function nearestBounds(ofA: readonly BoundedPiece[], ofB: readonly BoundedPiece[]) {
  let nearest: readonly [BoundedPiece, BoundedPiece] | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const p of ofA)
    for (const q of ofB) {
      const apart = boundsApart(p.bounds, q.bounds);
      if (nearest !== undefined && apart >= least) continue;
      [nearest, least] = [[p, q], apart];
      if (least === 0) return nearest;
    }
  if (nearest === undefined) throw new RangeError('an outline without an edge has no clearance');
  return nearest;
}

const boundedPieces = ofOutline((outline): readonly BoundedPiece[] =>
  boundaryOf(outline).flatMap((loop) => loop.map((piece) => ({ piece, bounds: pieceBounds(piece) }))),
);

function boundsApart(a: Bounds, b: Bounds): number {
  const dx = Math.max(0, a.minX - b.maxX, b.minX - a.maxX);
  const dy = Math.max(0, a.minY - b.maxY, b.minY - a.maxY);
  return Math.sqrt(dx * dx + dy * dy);
}

/** One point of each loop: enough to tell where loops lie that do not cross. */
const startsOf = (outline: Outline): Vec2[] => boundaryOf(outline).map((loop) => pointAlong(loop[0]!, 0));

function overhang(container: Outline, outline: Outline): number {
  const outside = (point: Vec2): number => -depthIn(container, point);
  let most = greatestOnEdge(outline, outside);
  if ((container.shape === 'ring' || container.shape === 'sector') && covers(outline, container.centre))
    most = Math.max(most, outside(container.centre));
  return most;
}

/** As `greatestAlong`, over the whole edge; 0 where nothing is more. */
const greatestOnEdge = (outline: Outline, value: (point: Vec2) => number): number =>
  boundaryOf(outline)
    .flat()
    .reduce((most, piece) => Math.max(most, greatestAlong(piece, value, most)), 0);

/**
 * The greatest value along a piece of a function that changes by no more than the way gone (as a distance does), or
 * `floor` if that is more: halving, dropping every run that cannot beat the best so far, and a climb from the best.
 */
function greatestAlong(piece: Piece, value: (point: Vec2) => number, floor: number): number {
  const whole = lengthOf(piece);
  let [best, at] = [floor, -1];
  const attempt = (fraction: number): number => {
    const here = value(pointAlong(piece, fraction));
    if (here > best) [best, at] = [here, fraction];
    return here;
  };
  let tried = 2;
  let runs: [number, number][] = [[0, 1]];
  attempt(0);
  attempt(1);
  while (runs.length > 0 && tried < MOST_TRIED) {
    const next: [number, number][] = [];
    for (const [from, to] of runs) {
      const middle = (from + to) / 2;
      const here = attempt(middle);
      tried++;
      if (here + ((to - from) / 2) * whole > best + WORTH_A_LOOK) next.push([from, middle], [middle, to]);
    }
    runs = next;
  }
  if (at < 0) return best;
  for (let step = WORTH_A_LOOK / whole; step > Number.EPSILON; step /= 2)
    for (const fraction of [at - step, at + step]) if (fraction >= 0 && fraction <= 1) attempt(fraction);
  return best;
}

/** Points tried inside one outline where neither edge enters the other (one on top of the other, say). */
const TRIED_INSIDE = 24;

/**
 * The farthest that the edge of either outline comes inside the other, 0 where they only touch or stand apart. Where the two
 * share an inside although neither edge enters (equal outlines), the depth of a common point.
 * Found as closely as `greatestAlong` does; for two circles it is r₁ + r₂ less the distance of their centres.
 */
export function overlapDepth(a: Outline, b: Outline): number {
  const deepest = (of: Outline, inside: Outline): number =>
    greatestOnEdge(of, (point) => depthIn(inside, point));
  const byEdge = Math.max(deepest(a, b), deepest(b, a));
  return byEdge > 0 ? byEdge : deepestPoint(a, b);
}

/** The gap between two regions, mm; where they overlap, minus the depth. */
export function signedGap(a: Outline, b: Outline): number {
  const { gap } = gapBetween(a, b);
  return gap > 0 ? gap : 0 - overlapDepth(a, b);
}

function deepestPoint(a: Outline, b: Outline): number {
  const { xs, ys } = interiorGrid(a, spacingFor(a, TRIED_INSIDE));
  let most = 0;
  for (let i = 0; i < xs.length; i++)
    most = Math.max(most, Math.min(depthIn(a, [xs[i], ys[i]]), depthIn(b, [xs[i], ys[i]])));
  return most;
}
