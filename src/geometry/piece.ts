/**
 * The pieces an outline's edge is made of: straight segments and true circular arcs, in mm and radians.
 * A positive sweep turns from +x toward +y (counterclockwise); a full circle is one arc of sweep ±2π.
 */
import { cross2, distance2, subtract2, type Vec2 } from './vector.ts';

export interface Segment {
  readonly kind: 'segment';
  readonly from: Vec2;
  readonly to: Vec2;
}
export interface Arc {
  readonly kind: 'arc';
  readonly centre: Vec2;
  readonly radius: number;
  /** Direction of the arc's first point as seen from its centre. */
  readonly start: number;
  /** Signed; 0 < |sweep| ≤ 2π. */
  readonly sweep: number;
}
export type Piece = Segment | Arc;

/** Pieces end to end, closed: the last ends where the first starts. */
export type Loop = readonly Piece[];

/** Two directions nearer than this are one (rad): rounding of atan2 and of from + sweep, a few units in the last place. */
const SAME_DIRECTION = 4e-15;

export const onCircle = (centre: Vec2, radius: number, direction: number): Vec2 => [
  centre[0] + radius * Math.cos(direction),
  centre[1] + radius * Math.sin(direction),
];

/** Length along the piece, mm. */
export const lengthOf = (piece: Piece): number =>
  piece.kind === 'segment' ? distance2(piece.from, piece.to) : piece.radius * Math.abs(piece.sweep);

/** The point at a fraction of the piece's length: 0 its start, 1 its end. */
export function pointAlong(piece: Piece, fraction: number): Vec2 {
  if (piece.kind === 'arc') return onCircle(piece.centre, piece.radius, piece.start + fraction * piece.sweep);
  const { from, to } = piece;
  if (fraction === 1) return to;
  return [from[0] + fraction * (to[0] - from[0]), from[1] + fraction * (to[1] - from[1])];
}

/** Whether the arc passes through the direction (seen from its centre), its ends included. */
export function sweepsOver(arc: Arc, direction: number): boolean {
  const turned = arc.sweep > 0 ? direction - arc.start : arc.start - direction;
  const within = turned - 2 * Math.PI * Math.floor(turned / (2 * Math.PI));
  return within <= Math.abs(arc.sweep) + SAME_DIRECTION || within >= 2 * Math.PI - SAME_DIRECTION;
}

/** The direction from `from` to `to`, from +x toward +y, in (−π, π]. */
export const directionOf = (from: Vec2, to: Vec2): number => Math.atan2(to[1] - from[1], to[0] - from[0]);

/** The piece's point that is nearest to `point`. For the centre of an arc every point is; its start is returned. */
export function nearestOn(piece: Piece, point: Vec2): Vec2 {
  if (piece.kind === 'segment') return pointAlong(piece, footOn(piece, point));
  const { centre, radius } = piece;
  if (point[0] === centre[0] && point[1] === centre[1]) return pointAlong(piece, 0);
  const direction = directionOf(centre, point);
  if (sweepsOver(piece, direction)) return onCircle(centre, radius, direction);
  const [first, last] = [pointAlong(piece, 0), pointAlong(piece, 1)];
  return distance2(first, point) <= distance2(last, point) ? first : last;
}

/** Fraction (0 to 1) of the segment at the point nearest to `point`. */
function footOn({ from, to }: Segment, point: Vec2): number {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const square = dx * dx + dy * dy;
  if (square === 0) return 0;
  return Math.min(1, Math.max(0, ((point[0] - from[0]) * dx + (point[1] - from[1]) * dy) / square));
}

export interface NearestPair {
  readonly gap: number;
  /** On the first piece, on the second. */
  readonly at: readonly [Vec2, Vec2];
}

/**
 * The least distance between two pieces, and where, in closed form, mm. Where several pairs tie, the first tried is kept.
 * Two curves are nearest either where they cross, or at an end of one of them, or where the line between the two points
 * is square to both: for a segment and an arc the line from the arc's centre square to the segment, for two arcs the
 * line of their centres. Every such pair that lies on both pieces is tried and the least distance taken; a pair tried
 * in vain costs time only, so a crossing lost to rounding is caught by its neighbours to the same rounding.
 */
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
