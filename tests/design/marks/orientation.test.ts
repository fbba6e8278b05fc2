/** The orientation mark and the crosses tell all eight placements of a blank apart, by the areas that they cover. mm. */
import { describe, expect, test } from 'vitest';
import { orientationForm } from '../../../src/design/marks/mark-forms.ts';
import { marksOf } from '../../../src/design/marks/marks.ts';
import { coveredBy, PLACEMENTS } from '../../independent/corner-points.ts';
import type { Point } from '../../independent/outline-points.ts';
import { designFrom, square } from '../../metrology/support/design-from.ts';

/** The first polygon is the two arrows; the others are their letters. Points at which a placement shows something else than the mark. */
function differing(polygons: readonly (readonly Point[])[], placed: (at: Point) => Point): number {
  const corners = polygons.flat();
  const reach = Math.max(...corners.flat().map(Math.abs));
  // The box of the mark is brought onto itself as far as it can be: both are about their middles.
  const places = Array.from({ length: 120 }, (_, k) => (reach * (2 * k - 119)) / 120);
  const points = places.flatMap((x) => places.map((y): Point => [x, y]));
  return points.filter((at) => coveredBy(polygons, at) !== coveredBy(polygons, placed(at))).length;
}

describe.each([false, true])('the orientation mark, mirrored letters: %s', (mirrored) => {
  const { polygons } = orientationForm(1, mirrored);
  const covered = differing(polygons, () => [1e9, 1e9]);
  test.each([1, 2, 3, 4, 5, 6, 7])('differs from itself in placement %i by half of what it covers', (k) => {
    expect(covered).toBeGreaterThan(100);
    expect(differing(polygons, PLACEMENTS[k]!)).toBeGreaterThan(covered / 2);
  });
  test('its arrows point along +x, the longer, and +y, from one corner', () => {
    const [arrows] = polygons as readonly (readonly Point[])[];
    const reach = (axis: 0 | 1) => Math.max(...arrows!.map((at) => at[axis]));
    const corner = arrows![0]!;
    expect(reach(0) - corner[0]).toBeGreaterThan(1.5 * (reach(1) - corner[1]));
    expect(coveredBy([arrows!], [corner[0] + 20.5, corner[1] + 0.5])).toBe(true);
    expect(coveredBy([arrows!], [corner[0] + 0.5, corner[1] + 12.5])).toBe(true);
  });
});

describe.each([
  ['a round blank', { circle: { diameter: 150 } }],
  ['a square blank', square(120)],
  ['a square blank beside the origin', { rectangle: { width: 90, height: 90, centre: [20, -10] } }],
])('the crosses of %s', (_, outline) => {
  const { marks } = marksOf(designFrom({ substrate: { outline, edgeMargin: 3 }, marks: 'auto' }));
  const middle: Point =
    'rectangle' in outline && 'centre' in (outline.rectangle as object) ? [20, -10] : [0, 0];
  const places = marks
    .filter(({ kind }) => kind === 'fiducials')
    .map(({ at: [x, y] }): Point => [x - middle[0], y - middle[1]]);
  test.each([1, 2, 3, 4, 5, 6, 7])(
    'in placement %i one at least is off every cross by more than a cross',
    (k) => {
      expect(places.length).toBe(4);
      const off = places
        .map(PLACEMENTS[k]!)
        .map(([x, y]) => Math.min(...places.map(([u, v]) => Math.hypot(x - u, y - v))));
      expect(Math.max(...off)).toBeGreaterThan(2);
    },
  );
});
