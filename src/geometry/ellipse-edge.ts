/**
 * The edge of an ellipse as true arcs that run smoothly into each other, counterclockwise from the end of the first axis, in mm and radians:
 * so that clearances, cuts and drawings need no curve but the arc. Nowhere farther than ELLIPSE_TOLERANCE from the ellipse.
 *
 * Between two points of the ellipse with its tangents stand two arcs with a common tangent where they meet (a biarc; K. M. Bolton,
 * *Computer-Aided Design* 7, 89 (1975)), its two control lengths equal. A biarc's error falls with the cube of its length, so a run that
 * misses the tolerance is halved in the parameter t of (a cos t, b sin t).
 */
import type { EllipseOutline } from './outline.ts';
import { type Arc, directionOf, type Loop, sweepsOver } from './piece.ts';
import { add2, cross2, distance2, dot2, subtract2, type Vec2 } from './vector.ts';

/** A nanometre, the unit of a pattern file's database: a tenth or less of any writer's placement. */
export const ELLIPSE_TOLERANCE = 1e-6;
/** Parameters between a run's ends at which its error is looked at: a biarc errs most near a quarter and three quarters. */
const LOOKS = 8;
/** Halvings of a quarter of the ellipse; the longest and flattest that a scenario may have takes 12. */
const MOST_HALVINGS = 20;

export function ellipseLoop({ centre, width, height, rotation }: EllipseOutline): Loop {
  const half: Vec2 = [width / 2, height / 2];
  const turned = turnedBy(rotation);
  const quarters = [0, 1, 2, 3].flatMap((k) => runs(half, (k * Math.PI) / 2, ((k + 1) * Math.PI) / 2, 0));
  return quarters.map((arc) => ({
    ...arc,
    centre: add2(centre, turned(arc.centre)),
    start: arc.start + rotation,
  }));
}

const turnedBy = (angle: number): ((at: Vec2) => Vec2) => {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return ([x, y]) => [x * c - y * s, x * s + y * c];
};

/** In the ellipse's own axes. */
function runs(half: Vec2, from: number, to: number, halvings: number): Arc[] {
  const arcs = biarc(half, from, to);
  if (halvings === MOST_HALVINGS || errorOf(arcs, half, from, to) <= ELLIPSE_TOLERANCE) return arcs;
  const middle = (from + to) / 2;
  return [...runs(half, from, middle, halvings + 1), ...runs(half, middle, to, halvings + 1)];
}

const pointAt = ([a, b]: Vec2, t: number): Vec2 => [a * Math.cos(t), b * Math.sin(t)];

function tangentAt([a, b]: Vec2, t: number): Vec2 {
  const [x, y] = [-a * Math.sin(t), b * Math.cos(t)];
  const size = Math.hypot(x, y);
  return [x / size, y / size];
}

function biarc(half: Vec2, from: number, to: number): Arc[] {
  const [p, q] = [pointAt(half, from), pointAt(half, to)];
  const [u, v] = [tangentAt(half, from), tangentAt(half, to)];
  const chord = subtract2(q, p);
  const across = dot2(chord, add2(u, v));
  // Of |chord − d(u + v)| = 2d, written so that nearly parallel tangents lose no digits.
  const square = dot2(chord, chord);
  const d = square / (across + Math.sqrt(across * across + 2 * (1 - dot2(u, v)) * square));
  const joint: Vec2 = [(p[0] + q[0] + d * (u[0] - v[0])) / 2, (p[1] + q[1] + d * (u[1] - v[1])) / 2];
  return [arcFrom(p, u, joint), reversed(arcFrom(q, [-v[0], -v[1]], joint))];
}

/** The arc that leaves `from` along a unit tangent and ends at `to`: it turns by twice the angle from the tangent to the chord. */
function arcFrom(from: Vec2, tangent: Vec2, to: Vec2): Arc {
  const chord = subtract2(to, from);
  const angle = Math.atan2(cross2(tangent, chord), dot2(tangent, chord));
  const reach = distance2(from, to) / (2 * Math.sin(angle));
  const centre: Vec2 = [from[0] - reach * tangent[1], from[1] + reach * tangent[0]];
  return { kind: 'arc', centre, radius: Math.abs(reach), start: directionOf(centre, from), sweep: 2 * angle };
}

const reversed = (arc: Arc): Arc => ({ ...arc, start: arc.start + arc.sweep, sweep: -arc.sweep });

/** How far the arcs stand from a few of the ellipse's points at most, mm; without bound where one of them turns the wrong way. */
function errorOf(arcs: readonly Arc[], half: Vec2, from: number, to: number): number {
  if (arcs.some(({ sweep }) => !(sweep > 0))) return Number.POSITIVE_INFINITY;
  const errors = Array.from({ length: LOOKS - 1 }, (_, k) => {
    const at = pointAt(half, from + ((to - from) * (k + 1)) / LOOKS);
    const over = arcs.find((arc) => sweepsOver(arc, directionOf(arc.centre, at))) ?? arcs[0]!;
    return Math.abs(distance2(at, over.centre) - over.radius);
  });
  return Math.max(...errors);
}
