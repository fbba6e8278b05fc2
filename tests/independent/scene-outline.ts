/** The outlines of a scene's patches as points, and what lies inside them: by even-odd and by distances, in the substrate frame, mm. */
import { type OutlineWords, type PatchWords, type Point, radians } from './scene.ts';

/** Where an outline stands: its words are about the centre. */
export type Placed = Pick<PatchWords, 'outline' | 'centre'>;

/** Corners, or close points of a round edge, in the substrate frame. */
export function edgePoints({ outline, centre }: Placed, count = 7200): Point[] {
  const { circle, rectangle, ring, sector, polygon } = outline;
  const around = (radius: number, from = 0, turn = 360, steps = count): Point[] =>
    Array.from({ length: count }, (_, k): Point => {
      const angle = radians(from + (turn * k) / steps);
      return [radius * Math.cos(angle), radius * Math.sin(angle)];
    });
  const own: readonly Point[] = circle
    ? around(circle.diameter / 2)
    : ring
      ? [...around(ring.outer / 2), ...around(ring.inner / 2)]
      : sector
        ? [
            ...around(sector.outer / 2, sector.from, sector.to - sector.from, count - 1),
            ...around(sector.inner / 2, sector.to, sector.from - sector.to, count - 1),
          ]
        : rectangle
          ? cornersOf(rectangle)
          : polygon!.points;
  return own.map(([x, y]): Point => [x + centre[0], y + centre[1]]);
}

/** Counterclockwise, about the rectangle's middle. */
function cornersOf({ width, height, rotation = 0 }: NonNullable<OutlineWords['rectangle']>): Point[] {
  const [c, s] = [Math.cos(radians(rotation)), Math.sin(radians(rotation))];
  return (
    [
      [-1, -1],
      [1, -1],
      [1, 1],
      [-1, 1],
    ] as const
  ).map(([a, b]): Point => {
    const [x, y] = [(a * width) / 2, (b * height) / 2];
    return [x * c - y * s, x * s + y * c];
  });
}

/** The edge as closed polygons, the outer one first; straight edges in steps too, so that points of it are points of the edge. */
export function edgePolygons(patch: Placed, perSide = 24): Point[][] {
  if (patch.outline.ring) {
    const points = edgePoints(patch, 10 * perSide);
    return [points.slice(0, points.length / 2), points.slice(points.length / 2)];
  }
  if (patch.outline.circle || patch.outline.sector) return [edgePoints(patch, 10 * perSide)];
  const corners = edgePoints(patch);
  return [
    corners.flatMap(([x, y], k) => {
      const [u, v] = corners[(k + 1) % corners.length]!;
      return Array.from(
        { length: perSide },
        (_, i): Point => [x + ((u - x) * i) / perSide, y + ((v - y) * i) / perSide],
      );
    }),
  ];
}

/** Whether a point lies in the patch: even-odd over its edges. */
export function isInside(patch: Placed, [x, y]: Point): boolean {
  const { circle, ring } = patch.outline;
  const away = Math.hypot(x - patch.centre[0], y - patch.centre[1]);
  if (circle) return away < circle.diameter / 2;
  if (ring) return away < ring.outer / 2 && away > ring.inner / 2;
  const corners = edgePoints(patch);
  return (
    corners.filter(([ax, ay], k) => {
      const [bx, by] = corners[(k + 1) % corners.length]!;
      return ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax);
    }).length %
      2 ===
    1
  );
}

/** How far a point lies outside a patch, mm, negative inside; of a polygon only where it is convex, of a sector only under half a turn. */
export function outsideBy(patch: Placed, [x, y]: Point): number {
  const { circle, ring, sector } = patch.outline;
  const away = Math.hypot(x - patch.centre[0], y - patch.centre[1]);
  if (circle) return away - circle.diameter / 2;
  if (ring) return Math.max(away - ring.outer / 2, ring.inner / 2 - away);
  if (sector) {
    const beyond = (angle: number): number =>
      (y - patch.centre[1]) * Math.cos(radians(angle)) - (x - patch.centre[0]) * Math.sin(radians(angle));
    return Math.max(
      away - sector.outer / 2,
      sector.inner / 2 - away,
      beyond(sector.to),
      -beyond(sector.from),
    );
  }
  const corners = edgePoints(patch);
  return Math.max(
    ...corners.map(([ax, ay], k) => {
      const [bx, by] = corners[(k + 1) % corners.length]!;
      return ((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / Math.hypot(bx - ax, by - ay);
    }),
  );
}
