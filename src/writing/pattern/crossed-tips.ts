/**
 * Tips where the two edges of a zone run into one another at a small angle, such as a pattern line that leaves a ring along its rim. Each edge
 * is only good to a few nanometres there, so that they can cross before they meet: a polygon that some readers refuse. The tip beyond
 * the crossing, nowhere wider than the edges are off, is cut away.
 */

/** Sides that meet at less than this angle (rad) are looked at. */
const SHARP = 0.1;
/** A crossing is looked for among so many sides on either side of a tip. */
const SIDES = 16;

/** `count` vertices, x and y by turns, whole database units, in place; how many are left: fewer than three where nothing is. */
export function withoutCrossedTips(points: Int32Array, count: number): number {
  let left = count;
  let tip = nextTip(points, left, 0);
  while (left >= 3 && tip < left) {
    const cut = crossingAround(points, left, tip);
    if (cut === undefined) tip = nextTip(points, left, tip + 1);
    else {
      left = replaced(points, left, cut);
      tip = nextTip(points, left, 0);
    }
  }
  return left;
}

/** The first vertex from `from` on where the outline all but turns back; `count` where there is none. */
function nextTip(points: Int32Array, count: number, from: number): number {
  const before = from === 0 ? count - 1 : from - 1;
  let ax = points[2 * from]! - points[2 * before]!;
  let ay = points[2 * from + 1]! - points[2 * before + 1]!;
  for (let tip = from; tip < count; tip++) {
    const after = tip + 1 === count ? 0 : tip + 1;
    const bx = points[2 * after]! - points[2 * tip]!;
    const by = points[2 * after + 1]! - points[2 * tip + 1]!;
    const back = -(ax * bx + ay * by);
    if (back > 0 && Math.abs(ax * by - ay * bx) < SHARP * back) return tip;
    ax = bx;
    ay = by;
  }
  return count;
}

interface Cut {
  /** The vertices from `from` on, `count` of them, counted around, make way for one. */
  readonly from: number;
  readonly count: number;
  readonly x: number;
  readonly y: number;
}

/** The crossing of sides nearest to a tip; a tip without any width is cut down to the shorter of its sides. */
function crossingAround(points: Int32Array, count: number, tip: number): Cut | undefined {
  const index = (step: number): number => (((tip + step) % count) + count) % count;
  const x = (step: number): number => points[2 * index(step)]!;
  const y = (step: number): number => points[2 * index(step) + 1]!;
  if ((x(0) - x(-1)) * (y(1) - y(0)) === (y(0) - y(-1)) * (x(1) - x(0)))
    return { from: index(0), count: 2, x: x(1), y: y(1) };
  const most = Math.min(2 * SIDES, count - 3);
  for (let reach = 1; reach <= most; reach++)
    for (let back = Math.max(0, reach - SIDES); back <= Math.min(reach, SIDES); back++) {
      const ahead = reach - back;
      const met = meeting(
        x(-back - 1),
        y(-back - 1),
        x(-back),
        y(-back),
        x(ahead),
        y(ahead),
        x(ahead + 1),
        y(ahead + 1),
      );
      if (met === undefined) continue;
      const cut = { from: index(-back), count: reach + 1, x: met[0], y: met[1] };
      if (isSmallerPart(points, count, cut)) return cut;
    }
  return undefined;
}

/** Whether what is cut away has less area than what stays: around another tip's crossing it is the other way about. */
function isSmallerPart(points: Int32Array, count: number, { from, count: cutAway, x, y }: Cut): boolean {
  const twiceArea = (first: number, vertices: number): number => {
    let twice = 0;
    let px = 0;
    let py = 0;
    for (let k = 0; k < vertices; k++) {
      const at = (from + first + k) % count;
      const qx = points[2 * at]! - x;
      const qy = points[2 * at + 1]! - y;
      twice += px * qy - qx * py;
      px = qx;
      py = qy;
    }
    return Math.abs(twice);
  };
  return twiceArea(0, cutAway) < twiceArea(cutAway, count - cutAway);
}

/** The grid point next to where the side from a to b meets the one from c to d, ends included; undefined where they do not, or run along each other. */
function meeting(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
  dx: number,
  dy: number,
): readonly [number, number] | undefined {
  const turn = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx);
  if (turn === 0) return undefined;
  const s = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / turn;
  const t = ((cx - ax) * (by - ay) - (cy - ay) * (bx - ax)) / turn;
  if (!(s >= 0 && s <= 1 && t >= 0 && t <= 1)) return undefined;
  return [Math.round(ax + s * (bx - ax)), Math.round(ay + s * (by - ay))];
}

/** Puts the cut's point in the place of its vertices, unless a neighbour stands there already; the vertices that are left. */
function replaced(points: Int32Array, count: number, cut: Cut): number {
  const kept: number[] = [];
  for (let k = cut.count; k < count; k++) {
    const at = (cut.from + k) % count;
    kept.push(points[2 * at]!, points[2 * at + 1]!);
  }
  const isThere = (x: number | undefined, y: number | undefined): boolean => x === cut.x && y === cut.y;
  if (!isThere(kept[0], kept[1]) && !isThere(kept.at(-2), kept.at(-1))) kept.push(cut.x, cut.y);
  points.set(kept);
  return kept.length / 2;
}
