/** The outline of one written zone as it is put together: x, y by turns, mm, counterclockwise, the closing side implied. */

import type { Outline } from '../geometry/outline.ts';
import { loopsWithoutHole } from './cut-region.ts';
import { EdgePiece, spot } from './edge-piece.ts';
import type { PointBatch } from './smooth-phase.ts';

/** Vertices that there is room for at first. */
const ROOM = 512;

export class ZoneOutline {
  xy = new Float64Array(0);
  /** Numbers used: twice the vertices. */
  used = 0;

  constructor() {
    this.reserve(ROOM);
  }

  clear(): void {
    this.used = 0;
  }

  /** Room for so many vertices more. */
  reserve(vertices: number): void {
    if (this.used + 2 * vertices <= this.xy.length) return;
    const grown = new Float64Array(2 * (this.used + 2 * vertices));
    grown.set(this.xy);
    this.xy = grown;
  }

  add(x: number, y: number): void {
    this.reserve(1);
    this.xy[this.used++] = x;
    this.xy[this.used++] = y;
  }

  /** The vertices of one edge, forward or backward. */
  addVertices({ x, y }: PointBatch, count: number, direction: 1 | -1): void {
    this.reserve(count);
    for (let i = 0; i < count; i++) {
      const k = direction === 1 ? i : count - 1 - i;
      this.add(x[k]!, y[k]!);
    }
  }

  addPlace(edge: EdgePiece, fraction: number): void {
    edge.place(fraction);
    this.add(spot.x, spot.y);
  }

  /** The points of a piece strictly between two fractions that keep its chords within `tolerance` (mm) of the arc. */
  addAlong(edge: EdgePiece, from: number, to: number, tolerance: number): void {
    if (!edge.isArc) return;
    const turn = Math.abs((to - from) * edge.sweep);
    const most = 2 * Math.acos(Math.max(0, 1 - tolerance / edge.radius));
    const sides = Math.ceil(turn / most);
    for (let k = 1; k < sides; k++) {
      edge.place(from + (k / sides) * (to - from));
      this.add(spot.x, spot.y);
    }
  }

  /** Twice the signed area, mm². */
  twiceArea(): number {
    const { xy, used } = this;
    const x0 = xy[0]!;
    const y0 = xy[1]!;
    let sum = 0;
    for (let k = 2; k + 3 < used; k += 2)
      sum += (xy[k]! - x0) * (xy[k + 3]! - y0) - (xy[k + 2]! - x0) * (xy[k + 1]! - y0);
    return sum;
  }
}

/**
 * An outline as polygons without holes (a ring in two halves that abut), x and y by turns, mm, counterclockwise.
 * Arcs are followed by chords that stray by at most `tolerance`, mm.
 */
export function outlinePolygons(outline: Outline, tolerance: number): readonly Float64Array[] {
  return loopsWithoutHole(outline, () => [1, 0]).map((loop) => {
    const polygon = new ZoneOutline();
    for (const piece of loop) {
      const edge = new EdgePiece(piece);
      polygon.addPlace(edge, 0);
      polygon.addAlong(edge, 0, 1, tolerance);
    }
    return polygon.xy.slice(0, polygon.used);
  });
}
