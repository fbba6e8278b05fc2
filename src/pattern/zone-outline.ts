/** The outline of one written zone as it is put together: x, y by turns, mm, counterclockwise, the closing side implied. */

import type { Outline } from '../geometry/outline.ts';
import { loopsWithoutHole } from './cut-region.ts';
import { place, type Run, spot } from './monotone-runs.ts';
import type { PointBatch } from './smooth-phase.ts';

export class ZoneOutline {
  xy = new Float64Array(1024);
  /** Numbers used: twice the vertices. */
  used = 0;

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

  addPlace({ piece }: Pick<Run, 'piece'>, fraction: number): void {
    place(piece, fraction);
    this.add(spot.x, spot.y);
  }

  /** The points of a run's piece strictly between two fractions that keep its chords within `tolerance` (mm) of the arc. */
  addAlong({ piece }: Pick<Run, 'piece'>, from: number, to: number, tolerance: number): void {
    if (piece.kind === 'segment') return;
    const turn = Math.abs((to - from) * piece.sweep);
    const most = 2 * Math.acos(Math.max(0, 1 - tolerance / piece.radius));
    const sides = Math.ceil(turn / most);
    for (let k = 1; k < sides; k++) {
      place(piece, from + (k / sides) * (to - from));
      this.add(spot.x, spot.y);
    }
  }

  /** Twice the signed area, mm². */
  twiceArea(): number {
    const { xy, used } = this;
    const [x0, y0] = [xy[0]!, xy[1]!];
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
      polygon.addPlace({ piece }, 0);
      polygon.addAlong({ piece }, 0, 1, tolerance);
    }
    return polygon.xy.slice(0, polygon.used);
  });
}
