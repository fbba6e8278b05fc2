/**
 * The pieces an outline's edge is made of: straight segments and true circular arcs, in mm and radians.
 * A positive sweep turns from +x toward +y (counterclockwise); a full circle is one arc of sweep ±2π.
 */
import { distance2, type Vec2 } from './vector.ts';

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
export function footOn({ from, to }: Segment, point: Vec2): number {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const square = dx * dx + dy * dy;
  if (square === 0) return 0;
  return Math.min(1, Math.max(0, ((point[0] - from[0]) * dx + (point[1] - from[1]) * dy) / square));
}
