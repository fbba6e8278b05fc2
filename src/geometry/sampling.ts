/**
 * Points spread over an outline, the same for the same outline: for the extremes of a period and the residuals of a fit.
 * Places in mm.
 */
import { boundaryOf } from './boundary.ts';
import { covers } from './contains.ts';
import { areaOf, type Extent, extentAlong } from './extent.ts';
import type { Outline } from './outline.ts';
import { lengthOf, pointAlong } from './piece.ts';
import type { Vec2 } from './vector.ts';

export interface Points {
  readonly xs: Float64Array;
  readonly ys: Float64Array;
}

/** Halvings of the spacing before a grid without a point is given up: an outline 64 times finer than asked. */
const MOST_HALVINGS = 6;
/** A closed circle needs this many points to have an inside. */
const LEAST_ON_CIRCLE = 8;

/** Points on the edge, evenly by length along each piece, every corner among them: `count` of them or a few more. */
export function boundaryPoints(outline: Outline, count: number): Points {
  const pieces = boundaryOf(outline).flat();
  const whole = pieces.reduce((sum, piece) => sum + lengthOf(piece), 0);
  const points: Vec2[] = [];
  for (const piece of pieces) {
    const least = piece.kind === 'arc' && Math.abs(piece.sweep) === 2 * Math.PI ? LEAST_ON_CIRCLE : 1;
    const runs = Math.max(least, Math.ceil((count * lengthOf(piece)) / whole));
    for (let k = 0; k < runs; k++) points.push(pointAlong(piece, k / runs));
  }
  return packed(points);
}

/**
 * Points inside, on a square grid of about `spacing` (mm) along x and y, or along a rectangle's own sides or an ellipse's axes; set half a
 * spacing in from the least rectangle around the outline. Where the spacing is too coarse to hit the region at all it
 * is halved until it does.
 */
export function interiorGrid(outline: Outline, spacing: number): Points {
  if (!(spacing > 0)) throw new RangeError(`a grid's spacing is more than 0 mm, not ${spacing}`);
  const { across, up, at } = rectangleAround(outline);
  const points: Vec2[] = [];
  for (
    let halving = 0, pitch = spacing;
    points.length === 0 && halving <= MOST_HALVINGS;
    halving++, pitch /= 2
  )
    for (const v of cellMiddles(up, pitch))
      for (const u of cellMiddles(across, pitch)) {
        const point = at(u, v);
        if (covers(outline, point)) points.push(point);
      }
  return packed(points);
}

/**
 * Some `count` points inside, no two of them in line along the sides of the rectangle around the outline (a rectangle's own sides):
 * a lattice by the golden ratio, by which a share of the area is told to about 2/count even where its edge runs along a side.
 * Kronecker's sequence; H. Niederreiter, *Random Number Generation and Quasi-Monte Carlo Methods*, SIAM 1992, ch. 3.
 */
export function latticePoints(outline: Outline, count: number): Points {
  const { across, up, at } = rectangleAround(outline);
  const box = (across.max - across.min) * (up.max - up.min);
  const tried = Math.ceil((count * box) / areaOf(outline));
  const points: Vec2[] = [];
  for (let k = 0; k < tried; k++) {
    const u = across.min + ((k + 0.5) / tried) * (across.max - across.min);
    const v = up.min + (((k + 0.5) * GOLDEN) % 1) * (up.max - up.min);
    const point = at(u, v);
    if (covers(outline, point)) points.push(point);
  }
  return packed(points);
}

/** (√5 − 1)/2, the number worst approached by fractions. */
const GOLDEN = 0.6180339887498949;

/** The spacing at which a grid has about `count` points inside the outline. */
export const spacingFor = (outline: Outline, count: number): number => Math.sqrt(areaOf(outline) / count);

/** Both sets of points as one. */
export function joined(a: Points, b: Points): Points {
  const xs = new Float64Array(a.xs.length + b.xs.length);
  const ys = new Float64Array(xs.length);
  xs.set(a.xs);
  xs.set(b.xs, a.xs.length);
  ys.set(a.ys);
  ys.set(b.ys, a.ys.length);
  return { xs, ys };
}

/** The least rectangle around the outline along x and y, or along a rectangle's own sides or an ellipse's axes: its extents, and their places in the plane. */
function rectangleAround(outline: Outline) {
  const turn = 'rotation' in outline ? outline.rotation : 0;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return {
    across: extentAlong(outline, [0, 0], [c, s]),
    up: extentAlong(outline, [0, 0], [-s, c]),
    at: (u: number, v: number): Vec2 => [u * c - v * s, u * s + v * c],
  };
}

function cellMiddles({ min, max }: Extent, pitch: number): number[] {
  const cells = Math.max(1, Math.round((max - min) / pitch));
  return Array.from({ length: cells }, (_, k) => min + ((k + 0.5) * (max - min)) / cells);
}

function packed(points: readonly Vec2[]): Points {
  const xs = new Float64Array(points.length);
  const ys = new Float64Array(points.length);
  for (let i = 0; i < points.length; i++) [xs[i], ys[i]] = points[i]!;
  return { xs, ys };
}
