/** The marks of a design as a pattern file writes them. mm, substrate frame, counterclockwise. */
import type { Design } from '../../design/design.ts';
import { marksOf } from '../../design/marks/marks.ts';
import type { Vec2 } from '../../geometry/vector.ts';

type Polygon = readonly Vec2[];

/** `edgeShift`: outward shift of the patterns' written edges, mm; the lines that widths are measured by have it too, letters and crosses not. */
export const markPolygons = (design: Design, edgeShift = 0): readonly Polygon[] =>
  marksOf(design).marks.flatMap(({ form, at }) =>
    [...form.polygons, ...form.lines.map((line) => widened(line, edgeShift))].map((polygon) =>
      polygon.map(([x, y]): Vec2 => [at[0] + x, at[1] + y]),
    ),
  );

/** A rectangle with its sides moved outward. */
function widened(polygon: Polygon, by: number): Polygon {
  const middle = (axis: 0 | 1): number => (polygon[0]![axis] + polygon[2]![axis]) / 2;
  const [x, y] = [middle(0), middle(1)];
  return polygon.map(([u, v]): Vec2 => [u + (u > x ? by : -by), v + (v > y ? by : -by)]);
}
