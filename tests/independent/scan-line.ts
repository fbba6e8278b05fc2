/** Where a straight line runs inside polygons: by crossings of their sides, even-odd, as intervals of the run along the line. mm. */
import type { Corner } from './gdsii.ts';

export interface ScanLine {
  readonly from: Corner;
  /** Unit vector. */
  readonly along: Corner;
}

export type Interval = readonly [start: number, end: number];

/** Parts that abut to within this, mm, are one: a nanometre's grid rounds both. */
const ABUT = 2.5e-6;

/** Runs of the line that the polygons cover, even-odd over all of them (one over another would be a hole), joined where they abut. */
export function insideOf(polygons: readonly (readonly Corner[])[], line: ScanLine): Interval[] {
  const runs = polygons.flatMap((points) => crossings(points, line)).sort((a, b) => a - b);
  const joined: [number, number][] = [];
  for (let k = 0; k + 1 < runs.length; k += 2) {
    const [start, end, last] = [runs[k]!, runs[k + 1]!, joined.at(-1)];
    if (last !== undefined && start - last[1] < ABUT) last[1] = end;
    else joined.push([start, end]);
  }
  return joined;
}

/** The point at a run along the line. */
export const pointAt = ({ from, along }: ScanLine, run: number): Corner => [
  from[0] + run * along[0],
  from[1] + run * along[1],
];

function crossings(points: readonly Corner[], { from, along }: ScanLine): number[] {
  const across = ([x, y]: Corner): number => (x - from[0]) * -along[1] + (y - from[1]) * along[0];
  const run = ([x, y]: Corner): number => (x - from[0]) * along[0] + (y - from[1]) * along[1];
  return points.flatMap((a, k): number[] => {
    const b = points[(k + 1) % points.length]!;
    const [u, v] = [across(a), across(b)];
    return u > 0 === v > 0 ? [] : [run(a) + ((run(b) - run(a)) * u) / (u - v)];
  });
}
