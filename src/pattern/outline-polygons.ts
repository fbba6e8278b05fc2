/** An outline as polygons without holes (a ring in two halves that abut), x and y by turns, mm, counterclockwise. */
import { boundaryOf } from '../geometry/boundary.ts';
import type { Outline } from '../geometry/outline.ts';
import { cutByLine, holeCentre } from './cut-region.ts';
import { ZoneOutline } from './zone-outline.ts';

/** Arcs are followed by chords that stray by at most `tolerance`, mm. */
export function outlinePolygons(outline: Outline, tolerance: number): readonly Float64Array[] {
  const hole = holeCentre(outline);
  let loops = boundaryOf(outline);
  if (hole !== undefined) {
    const { left, right } = cutByLine(loops, { at: hole, along: [1, 0] });
    loops = [...left, ...right];
  }
  return loops.map((loop) => {
    const polygon = new ZoneOutline();
    for (const piece of loop) {
      polygon.addPlace({ piece }, 0);
      polygon.addAlong({ piece }, 0, 1, tolerance);
    }
    return polygon.xy.slice(0, polygon.used);
  });
}
