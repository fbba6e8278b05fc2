/**
 * The edge of an outline as loops of segments and true arcs, in mm: the outer loop counterclockwise and first, a hole
 * clockwise. The region lies on the left of every piece. An ellipse's arcs are nowhere farther than ELLIPSE_TOLERANCE from it.
 */
import { ellipseLoop } from './ellipse-edge.ts';
import {
  type Outline,
  ofOutline,
  type PolygonOutline,
  type RectangleOutline,
  type SectorOutline,
} from './outline.ts';
import { type Arc, type Loop, onCircle, type Piece, pointAlong } from './piece.ts';
import { cross2, type Vec2 } from './vector.ts';

/** The loops of an outline's edge; pieces of no length (a repeated polygon point) are left out. */
export const boundaryOf = ofOutline(loopsOf);

/** A vertex of a closed polyline, and the bulge of the run from it to the next: tan(sweep/4), 0 for a straight one. */
interface PolylineVertex {
  readonly point: Vec2;
  readonly bulge: number;
}

/** A loop as a closed polyline with bulges. A full circle, which no single bulge can say, becomes two halves. */
export function polylineOf(loop: Loop): readonly PolylineVertex[] {
  return loop.flatMap((piece): PolylineVertex[] => {
    const point = pointAlong(piece, 0);
    if (piece.kind === 'segment') return [{ point, bulge: 0 }];
    if (Math.abs(piece.sweep) < 2 * Math.PI) return [{ point, bulge: Math.tan(piece.sweep / 4) }];
    const bulge = Math.sign(piece.sweep);
    return [
      { point, bulge },
      { point: pointAlong(piece, 0.5), bulge },
    ];
  });
}

/** The four corners of a rectangle, counterclockwise from the one at (−width/2, −height/2) in its own axes. */
function cornersOf({ centre, width, height, rotation }: RectangleOutline): readonly Vec2[] {
  const [c, s] = [Math.cos(rotation), Math.sin(rotation)];
  const at = (u: number, v: number): Vec2 => [centre[0] + u * c - v * s, centre[1] + u * s + v * c];
  const [u, v] = [width / 2, height / 2];
  return [at(-u, -v), at(u, -v), at(u, v), at(-u, v)];
}

/** Twice the signed area: positive counterclockwise. Taken about the first point, so that a far origin costs no digits. */
export function twiceSignedArea(points: readonly Vec2[]): number {
  const origin = points[0];
  if (origin === undefined) return 0;
  let sum = 0;
  for (let k = 1; k + 1 < points.length; k++) {
    const [p, q] = [points[k]!, points[k + 1]!];
    sum += cross2([p[0] - origin[0], p[1] - origin[1]], [q[0] - origin[0], q[1] - origin[1]]);
  }
  return sum;
}

function loopsOf(outline: Outline): readonly Loop[] {
  switch (outline.shape) {
    case 'circle':
      return [[circle(outline.centre, outline.radius, 1)]];
    case 'ring': {
      const outer = [circle(outline.centre, outline.outer, 1)];
      return outline.inner > 0 ? [outer, [circle(outline.centre, outline.inner, -1)]] : [outer];
    }
    case 'rectangle':
      return [closedThrough(cornersOf(outline))];
    case 'ellipse':
      return [ellipseLoop(outline)];
    case 'polygon':
      return [closedThrough(counterclockwise(outline))];
    case 'sector':
      return [sectorLoop(outline)];
  }
}

const circle = (centre: Vec2, radius: number, turn: 1 | -1): Arc => ({
  kind: 'arc',
  centre,
  radius,
  start: 0,
  sweep: turn * 2 * Math.PI,
});

const counterclockwise = ({ points }: PolygonOutline): readonly Vec2[] =>
  twiceSignedArea(points) < 0 ? points.toReversed() : points;

function closedThrough(points: readonly Vec2[]): Loop {
  const loop: Piece[] = [];
  points.forEach((from, k) => {
    const to = points[(k + 1) % points.length]!;
    if (from[0] !== to[0] || from[1] !== to[1]) loop.push({ kind: 'segment', from, to });
  });
  return loop;
}

function sectorLoop({ centre, inner, outer, from, to }: SectorOutline): Loop {
  const sweep = to - from;
  const corner = (radius: number, direction: number): Vec2 =>
    radius > 0 ? onCircle(centre, radius, direction) : centre;
  const rim: Arc = { kind: 'arc', centre, radius: outer, start: from, sweep };
  const inward: Piece = { kind: 'segment', from: pointAlong(rim, 1), to: corner(inner, from + sweep) };
  const outward: Piece = { kind: 'segment', from: corner(inner, from), to: pointAlong(rim, 0) };
  if (!(inner > 0)) return [rim, inward, outward];
  return [rim, inward, { kind: 'arc', centre, radius: inner, start: from + sweep, sweep: -sweep }, outward];
}
