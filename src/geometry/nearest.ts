/**
 * The nearest points of two pieces of edge, in closed form, mm.
 * Two curves are nearest either where they cross, or at an end of one of them, or where the line between the two points
 * is square to both: for a segment and an arc the line from the arc's centre square to the segment, for two arcs the
 * line of their centres. Every such pair that lies on both pieces is tried and the least distance taken; a pair tried
 * in vain costs time only, so a crossing lost to rounding is caught by its neighbours to the same rounding.
 */
import {
  type Arc,
  directionOf,
  footOn,
  nearestOn,
  onCircle,
  type Piece,
  pointAlong,
  type Segment,
  sweepsOver,
} from './piece.ts';
import { cross2, distance2, subtract2, type Vec2 } from './vector.ts';

export interface NearestPair {
  readonly gap: number;
  /** On the first piece, on the second. */
  readonly at: readonly [Vec2, Vec2];
}

/** The least distance between two pieces, and where. Where several pairs tie, the first tried is kept. */
export function nearestOfPieces(a: Piece, b: Piece): NearestPair {
  let best: NearestPair = { gap: Number.POSITIVE_INFINITY, at: [pointAlong(a, 0), pointAlong(b, 0)] };
  const attempt = (onA: Vec2, onB: Vec2): void => {
    const gap = distance2(onA, onB);
    if (gap < best.gap) best = { gap, at: [onA, onB] };
  };
  const [crossing] = crossingsOf(a, b);
  if (crossing !== undefined) return { gap: 0, at: [crossing, crossing] };
  for (const fraction of [0, 1]) {
    const [endA, endB] = [pointAlong(a, fraction), pointAlong(b, fraction)];
    attempt(endA, nearestOn(b, endA));
    attempt(nearestOn(a, endB), endB);
  }
  if (a.kind === 'segment' && b.kind === 'arc') {
    const foot = pointAlong(a, footOn(a, b.centre));
    attempt(foot, nearestOn(b, foot));
  } else if (a.kind === 'arc' && b.kind === 'segment') {
    const foot = pointAlong(b, footOn(b, a.centre));
    attempt(nearestOn(a, foot), foot);
  } else if (a.kind === 'arc' && b.kind === 'arc') {
    for (const onA of onLineOfCentres(a, b)) for (const onB of onLineOfCentres(b, a)) attempt(onA, onB);
  }
  return best;
}

/** Where two pieces cross or touch. Pieces that run along each other have no single crossing and give none. */
function crossingsOf(a: Piece, b: Piece): readonly Vec2[] {
  if (a.kind === 'segment') return b.kind === 'segment' ? segmentsCross(a, b) : segmentCrossesArc(a, b);
  return b.kind === 'segment' ? segmentCrossesArc(b, a) : arcsCross(a, b);
}

function onLineOfCentres(arc: Arc, other: Arc): readonly Vec2[] {
  const toward = directionOf(arc.centre, other.centre);
  return [toward, toward + Math.PI]
    .filter((direction) => sweepsOver(arc, direction))
    .map((direction) => onCircle(arc.centre, arc.radius, direction));
}

function segmentsCross(a: Segment, b: Segment): readonly Vec2[] {
  const [along, across] = [subtract2(a.to, a.from), subtract2(b.to, b.from)];
  const turn = cross2(along, across);
  if (turn === 0) return [];
  const offset = subtract2(b.from, a.from);
  const [s, t] = [cross2(offset, across) / turn, cross2(offset, along) / turn];
  return s >= 0 && s <= 1 && t >= 0 && t <= 1 ? [pointAlong(a, s)] : [];
}

function segmentCrossesArc(segment: Segment, arc: Arc): readonly Vec2[] {
  const along = subtract2(segment.to, segment.from);
  const size = Math.hypot(along[0], along[1]);
  if (size === 0) return [];
  const [ux, uy] = [along[0] / size, along[1] / size];
  const [ox, oy] = subtract2(arc.centre, segment.from);
  const middle = ox * ux + oy * uy;
  const aside = oy * ux - ox * uy;
  const square = (arc.radius - aside) * (arc.radius + aside);
  if (square < 0) return [];
  const half = Math.sqrt(square);
  return [middle - half, middle + half]
    .filter((run) => run >= 0 && run <= size)
    .map((run): Vec2 => [segment.from[0] + run * ux, segment.from[1] + run * uy])
    .filter((point) => sweepsOver(arc, directionOf(arc.centre, point)));
}

function arcsCross(a: Arc, b: Arc): readonly Vec2[] {
  const apart = distance2(a.centre, b.centre);
  if (apart === 0) return [];
  // The common chord stands `middle` from a's centre along the line of centres (law of cosines).
  const middle = (apart + ((a.radius - b.radius) * (a.radius + b.radius)) / apart) / 2;
  const square = (a.radius - middle) * (a.radius + middle);
  if (square < 0) return [];
  const half = Math.sqrt(square);
  const [ux, uy] = [(b.centre[0] - a.centre[0]) / apart, (b.centre[1] - a.centre[1]) / apart];
  return [-half, half]
    .map((v): Vec2 => [a.centre[0] + middle * ux - v * uy, a.centre[1] + middle * uy + v * ux])
    .filter(
      (point) => sweepsOver(a, directionOf(a.centre, point)) && sweepsOver(b, directionOf(b.centre, point)),
    );
}
