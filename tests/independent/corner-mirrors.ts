/**
 * A hollow corner cube as what it is: three square mirrors that meet at the apex, each met in turn by the law of reflection. mm, radians.
 * A ray is lost where it enters or leaves outside the mouth (a circle of radius r, √2·r above the apex, to which three mirrors reach that
 * end at a ball of radius √3·r), where it passes an edge within half the dead band (as straight lines pass each other), coming or going,
 * or where it does not meet all three mirrors. Shares no code with src/.
 */
import { dot, minus, normed, size, type Vector } from './ray.ts';
import type { Bounce } from './returned-ray.ts';

export interface Mirrors {
  readonly apex: Vector;
  /** Out of the mouth. */
  readonly axis: Vector;
  /** Turn of the edges about the axis; at 0 the first edge, seen along the axis, lies along +x. */
  readonly roll: number;
  readonly mouthRadius: number;
  /** Whole width lost along each edge. */
  readonly band: number;
}

const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const plus = (a: Vector, b: Vector, times: number): Vector => [
  a[0] + times * b[0],
  a[1] + times * b[1],
  a[2] + times * b[2],
];

/** Unit vectors along the edges, away from the apex. Each is the normal of the mirror that the other two span. */
export function edgesOf({ axis, roll }: Pick<Mirrors, 'axis' | 'roll'>): readonly Vector[] {
  const first = normed(plus([1, 0, 0], axis, -axis[0]));
  const second = cross(axis, first);
  return [0, 1, 2].map((k) => {
    const turn = roll + (2 * Math.PI * k) / 3;
    const lateral = plus([0, 0, 0], first, Math.cos(turn));
    // Three square edges stand at the angle of cosine 1/√3 to the axis between them.
    return normed(plus(plus(axis, lateral, Math.SQRT2), second, Math.SQRT2 * Math.sin(turn)));
  });
}

export function offMirrors(cube: Mirrors): Bounce {
  const { apex, axis, mouthRadius, band } = cube;
  const edges = edgesOf(cube);
  const mouthHeight = Math.SQRT2 * mouthRadius;
  const inMouth = (point: Vector, direction: Vector): boolean => {
    const run = (mouthHeight - dot(minus(point, apex), axis)) / dot(direction, axis);
    const off = minus(plus(point, direction, run), plus(apex, axis, mouthHeight));
    return size(off) <= mouthRadius;
  };
  const clearOfEdges = (point: Vector, direction: Vector): boolean =>
    edges.every((edge) => {
      const away = minus(apex, point);
      const between = cross(direction, edge);
      // Where along the edge the two lines come nearest: only the half that is there counts.
      const run = dot(cross(direction, away), between) / dot(between, between);
      const nearest = Math.abs(dot(away, between)) / size(between);
      const fromApex = size(cross(away, direction));
      return run > 0 ? nearest >= band / 2 : fromApex >= band / 2;
    });
  return ({ point, direction }) => {
    if (dot(direction, axis) >= 0 || !inMouth(point, direction) || !clearOfEdges(point, direction))
      return undefined;
    let [at, way, path] = [point, direction, 0];
    const met = new Set<number>();
    for (let bounce = 0; bounce < 3; bounce++) {
      const runs = edges.map((normal, k) =>
        met.has(k) || dot(way, normal) >= 0 ? Infinity : dot(minus(apex, at), normal) / dot(way, normal),
      );
      const run = Math.min(...runs.filter((value) => value > -1e-9));
      if (!Number.isFinite(run)) return undefined;
      const mirror = runs.indexOf(run);
      met.add(mirror);
      at = plus(at, way, run);
      way = plus(way, edges[mirror]!, -2 * dot(way, edges[mirror]!));
      path += run;
    }
    return inMouth(at, way) && clearOfEdges(at, way) ? { point: at, direction: way, path } : undefined;
  };
}
