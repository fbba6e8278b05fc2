/**
 * Widths, spaces and overlaps of polygons along scan lines in four directions, 45° apart: where a line crosses an edge at 64° or more to it,
 * the length of what it covers, times the sine of that angle, is the width there. Any edge is crossed so in one of the directions. A place
 * is covered twice where the lines' winding number says so. Database units. Shares no code with src/.
 */

type Points = Int32Array;
/** Calls its taker with each polygon: x and y by turns, counterclockwise. */
export type EachPolygon = (take: (points: Points, count: number) => void) => void;

export interface ScanRule {
  /** Least width and space. */
  readonly least: number;
  /** What lies nearer to the outline than this is not judged: it cuts lines off as it will. */
  readonly margin: number;
  /** Of each direction. */
  readonly lines: number;
}

export interface Scanned {
  readonly polygons: number;
  /** Widths and spaces that were judged, and the least of each. */
  readonly judged: number;
  readonly leastLine: number;
  readonly leastSpace: number;
  readonly narrow: number;
  readonly close: number;
  /** Where two polygons lie one on the other by more than they may abut. */
  readonly twice: number;
}

/** Along a scan line and across it, and whether along → across turns counterclockwise. */
interface Direction {
  readonly along: readonly [number, number];
  readonly across: readonly [number, number];
  readonly isLeft: boolean;
}
const DIRECTIONS: readonly Direction[] = [
  { along: [1, 0], across: [0, 1], isLeft: true },
  { along: [0, 1], across: [1, 0], isLeft: false },
  { along: [1, -1], across: [1, 1], isLeft: true },
  { along: [1, 1], across: [1, -1], isLeft: false },
];
/** sin 64°: less than half of 45° beside square. */
const STEEP = 0.9;
/** Polygons that abut do so to the rounding of both, units. */
const ABUT = 2;
/** Edges are known to 5 nm and the grid: thinner, nothing is covered twice. */
const THIN = 6;

export function scanRules(zones: EachPolygon, outline: EachPolygon, rule: ScanRule): Scanned {
  const edge = new Outline(outline);
  let polygons = 0;
  zones(() => polygons++);
  const found = {
    polygons,
    judged: 0,
    leastLine: Infinity,
    leastSpace: Infinity,
    narrow: 0,
    close: 0,
    twice: 0,
  };
  for (const direction of DIRECTIONS) {
    const crossings = crossingsOf(zones, direction, rule.lines);
    for (const line of crossings) {
      const runs = runsOf(line);
      found.twice += runs.twice;
      const { covered } = runs;
      for (const [k, run] of covered.entries()) {
        judge('leastLine', 'narrow', run, line.at, direction);
        const next = covered[k + 1];
        if (next !== undefined)
          judge('leastSpace', 'close', { from: run.to, to: next.from }, line.at, direction);
      }
    }
  }
  return found;

  function judge(
    least: 'leastLine' | 'leastSpace',
    count: 'narrow' | 'close',
    { from, to }: Run,
    at: number,
    { along, across }: Direction,
  ): void {
    const steep = Math.min(from.steep, to.steep);
    if (steep < STEEP) return;
    const width = ((to.t - from.t) * steep) / Math.hypot(...along);
    const square = across[0] * across[0] + across[1] * across[1];
    const t = (from.t + to.t) / 2;
    const [x, y] = [0, 1].map((k) => (t * along[k as 0 | 1] + at * across[k as 0 | 1]) / square) as [
      number,
      number,
    ];
    // Far the most are wide enough: only what would count otherwise is held against the outline.
    if (width >= found[least] && width >= rule.least) {
      found.judged++;
      return;
    }
    if (edge.isNearer(x, y, rule.margin)) return;
    found.judged++;
    found[least] = Math.min(found[least], width);
    if (width < rule.least) found[count]++;
  }
}

interface Crossing {
  readonly t: number;
  /** Of the angle between line and edge, the sine. */
  readonly steep: number;
  readonly enters: boolean;
}
interface Run {
  readonly from: Crossing;
  readonly to: Crossing;
}
interface ScanLine {
  /** Place across. */
  readonly at: number;
  readonly crossings: Crossing[];
}

function crossingsOf(zones: EachPolygon, { along, across, isLeft }: Direction, count: number): ScanLine[] {
  let [least, most] = [Infinity, -Infinity];
  zones((points, n) => {
    for (let k = 0; k < 2 * n; k += 2) {
      const u = points[k]! * across[0] + points[k + 1]! * across[1];
      if (u < least) least = u;
      if (u > most) most = u;
    }
  });
  const step = Math.max(1, Math.floor((most - least) / count));
  // Half a unit off all vertices.
  const first = least + Math.floor(step / 2) + 0.5;
  const lines = Array.from(
    { length: Math.max(0, Math.ceil((most - first) / step)) },
    (_, k): ScanLine => ({
      at: first + k * step,
      crossings: [],
    }),
  );
  zones((points, n) => {
    let ua = points[2 * n - 2]! * across[0] + points[2 * n - 1]! * across[1];
    let ta = points[2 * n - 2]! * along[0] + points[2 * n - 1]! * along[1];
    let cell = Math.floor((ua - first) / step);
    for (let k = 0; k < 2 * n; k += 2) {
      const ub = points[k]! * across[0] + points[k + 1]! * across[1];
      const tb = points[k]! * along[0] + points[k + 1]! * along[1];
      const next = Math.floor((ub - first) / step);
      if (next !== cell) {
        const [from, to] = next > cell ? [cell + 1, next] : [next + 1, cell];
        const steep = Math.abs(ub - ua) / Math.hypot(ub - ua, tb - ta);
        for (let j = from; j <= to; j++) {
          const line = lines[j]!;
          const t = ta + ((line.at - ua) / (ub - ua)) * (tb - ta);
          line.crossings.push({ t, steep, enters: isLeft === ub < ua });
        }
      }
      [ua, ta, cell] = [ub, tb, next];
    }
  });
  for (const { crossings } of lines) crossings.sort((a, b) => a.t - b.t);
  return lines;
}

/** What a scan line covers, from edge to edge, polygons that abut taken together; and how often it is covered twice, or less than not. */
function runsOf({ crossings }: ScanLine): { readonly covered: readonly Run[]; readonly twice: number } {
  const covered: Run[] = [];
  let [winding, twice] = [0, 0];
  let from: Crossing | undefined;
  for (const [k, crossing] of crossings.entries()) {
    winding += crossing.enters ? 1 : -1;
    const next = crossings[k + 1];
    const isThin = next !== undefined && (next.t - crossing.t) * Math.min(next.steep, crossing.steep) <= THIN;
    if ((winding < 0 || winding > 1) && !isThin) twice++;
    if (winding > 0 && from === undefined) {
      const last = covered.at(-1);
      if (last !== undefined && crossing.t - last.to.t <= ABUT) {
        covered.pop();
        from = last.from;
      } else from = crossing;
    } else if (winding <= 0 && from !== undefined) {
      covered.push({ from, to: crossing });
      from = undefined;
    }
  }
  return { covered, twice };
}

class Outline {
  readonly #sides: (readonly [number, number, number, number])[] = [];

  constructor(each: EachPolygon) {
    each((points, n) => {
      for (let k = 0; k < n; k++) {
        const j = (k + 1) % n;
        this.#sides.push([points[2 * k]!, points[2 * k + 1]!, points[2 * j]!, points[2 * j + 1]!]);
      }
    });
  }

  isNearer(x: number, y: number, margin: number): boolean {
    return this.#sides.some(([px, py, qx, qy]) => {
      const [dx, dy] = [qx - px, qy - py];
      const along = Math.min(1, Math.max(0, ((x - px) * dx + (y - py) * dy) / (dx * dx + dy * dy)));
      return Math.hypot(px + along * dx - x, py + along * dy - y) < margin;
    });
  }
}
