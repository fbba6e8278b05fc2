/**
 * Closed outlines in a plane, in mm and radians, angles from +x toward +y. Every outline stands where it is drawn:
 * a patch's outline has its centre already added. Radii here; diameters are a matter of the scenario's words.
 */
import type { Vec2 } from './vector.ts';

export interface CircleOutline {
  readonly shape: 'circle';
  readonly centre: Vec2;
  readonly radius: number;
}
export interface RectangleOutline {
  readonly shape: 'rectangle';
  readonly centre: Vec2;
  readonly width: number;
  readonly height: number;
  /** Turns the rectangle about its centre. */
  readonly rotation: number;
}
export interface RingOutline {
  readonly shape: 'ring';
  readonly centre: Vec2;
  readonly inner: number;
  readonly outer: number;
}
/** The part of a ring from angle `from` counterclockwise to angle `to`; 0 < to − from < 2π; inner may be 0. */
export interface SectorOutline {
  readonly shape: 'sector';
  readonly centre: Vec2;
  readonly inner: number;
  readonly outer: number;
  readonly from: number;
  readonly to: number;
}
/** With axes `width` along x and `height` along y, turned about its centre by `rotation`. */
export interface EllipseOutline {
  readonly shape: 'ellipse';
  readonly centre: Vec2;
  readonly width: number;
  readonly height: number;
  readonly rotation: number;
}
/** A simple polygon, counterclockwise, its closing edge implied. */
export interface PolygonOutline {
  readonly shape: 'polygon';
  readonly points: readonly Vec2[];
}
export type Outline =
  | CircleOutline
  | EllipseOutline
  | RectangleOutline
  | RingOutline
  | SectorOutline
  | PolygonOutline;

/** What `found` says of an outline, which never changes: found once and kept as long as the outline is. */
export function ofOutline<Fact>(found: (outline: Outline) => Fact): (outline: Outline) => Fact {
  const kept = new WeakMap<Outline, Fact>();
  return (outline) => {
    const known = kept.get(outline);
    if (known !== undefined) return known;
    const fact = found(outline);
    kept.set(outline, fact);
    return fact;
  };
}
