/** Points of an outline by what its shape means: an even grid inside, and its edge. mm, radians. Shares no code with src/geometry. */
export type Point = readonly [x: number, y: number];

export type Shape =
  | { readonly shape: 'circle'; readonly centre: Point; readonly radius: number }
  | {
      readonly shape: 'rectangle';
      readonly centre: Point;
      readonly width: number;
      readonly height: number;
      readonly rotation: number;
    }
  | {
      readonly shape: 'ellipse';
      readonly centre: Point;
      readonly width: number;
      readonly height: number;
      readonly rotation: number;
    }
  | { readonly shape: 'ring'; readonly centre: Point; readonly inner: number; readonly outer: number }
  | {
      readonly shape: 'sector';
      readonly centre: Point;
      readonly inner: number;
      readonly outer: number;
      readonly from: number;
      readonly to: number;
    }
  | { readonly shape: 'polygon'; readonly points: readonly Point[] };

const TURN = 2 * Math.PI;
const polar = ([x, y]: Point, radius: number, angle: number): Point => [
  x + radius * Math.cos(angle),
  y + radius * Math.sin(angle),
];

/** Along the edge from corner to corner, `count` points a side or arc. */
export function edgeOf(outline: Shape, count = 400): Point[] {
  const parts = Array.from({ length: count + 1 }, (_, k) => k / count);
  const arc = (centre: Point, radius: number, from: number, to: number): Point[] =>
    parts.map((part) => polar(centre, radius, from + part * (to - from)));
  const loop = (corners: readonly Point[]): Point[] =>
    corners.flatMap(([x, y], k) => {
      const [u, v] = corners[(k + 1) % corners.length]!;
      return parts.map((part): Point => [x + part * (u - x), y + part * (v - y)]);
    });
  if (outline.shape === 'circle') return arc(outline.centre, outline.radius, 0, TURN);
  if (outline.shape === 'polygon') return loop(outline.points);
  if (outline.shape === 'ring')
    return [outline.inner, outline.outer].flatMap((radius) => arc(outline.centre, radius, 0, TURN));
  if (outline.shape === 'sector') {
    const { centre, inner, outer, from, to } = outline;
    return [inner, outer].flatMap((radius) => [
      ...arc(centre, radius, from, to),
      // The straight sides join the arcs' ends.
      ...parts.map((part) => polar(centre, inner + part * (outer - inner), radius === inner ? from : to)),
    ]);
  }
  const { centre, width, height, rotation } = outline;
  const [c, s] = [Math.cos(rotation), Math.sin(rotation)];
  const corner = (u: number, v: number): Point => [centre[0] + u * c - v * s, centre[1] + u * s + v * c];
  const [a, b] = [width / 2, height / 2];
  if (outline.shape === 'ellipse')
    return parts.map((part) => corner(a * Math.cos(TURN * part), b * Math.sin(TURN * part)));
  return loop([corner(-a, -b), corner(a, -b), corner(a, b), corner(-a, b)]);
}

/** A grid of about `across` × `across` over the outline's box, as much of it as lies inside: by the turns of the edge about the point. */
export function gridIn(outline: Shape, across = 24): Point[] {
  const edge = edgeOf(outline);
  const [xs, ys] = [edge.map(([x]) => x), edge.map(([, y]) => y)];
  const [minX, maxX, minY, maxY] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const at = (k: number, low: number, high: number): number => low + ((k + 0.5) / across) * (high - low);
  return Array.from(
    { length: across * across },
    (_, n): Point => [at(n % across, minX, maxX), at(Math.floor(n / across), minY, maxY)],
  ).filter((point) => isIn(outline, point));
}

export function isIn(outline: Shape, [x, y]: Point): boolean {
  if (outline.shape === 'polygon') {
    let inside = false;
    outline.points.forEach(([px, py], k) => {
      const [qx, qy] = outline.points[(k + 1) % outline.points.length]!;
      if (py > y !== qy > y && x < px + ((y - py) / (qy - py)) * (qx - px)) inside = !inside;
    });
    return inside;
  }
  const [dx, dy] = [x - outline.centre[0], y - outline.centre[1]];
  const away = Math.hypot(dx, dy);
  if (outline.shape === 'circle') return away < outline.radius;
  if (outline.shape === 'ring') return away > outline.inner && away < outline.outer;
  if (outline.shape === 'sector') {
    const angle = (((Math.atan2(dy, dx) - outline.from) % TURN) + TURN) % TURN;
    return away > outline.inner && away < outline.outer && angle < outline.to - outline.from;
  }
  const [c, s] = [Math.cos(outline.rotation), Math.sin(outline.rotation)];
  const [u, v] = [(dx * c + dy * s) / (outline.width / 2), (dy * c - dx * s) / (outline.height / 2)];
  return outline.shape === 'ellipse' ? Math.hypot(u, v) < 1 : Math.abs(u) < 1 && Math.abs(v) < 1;
}

/** The least and the most of a function over the edge: of a linear one, its range over the whole outline. */
export function rangeOver(outline: Shape, of: (x: number, y: number) => number): readonly [number, number] {
  const values = edgeOf(outline).map(([x, y]) => of(x, y));
  return [Math.min(...values), Math.max(...values)];
}
