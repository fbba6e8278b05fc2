/**
 * All centres c that meet up to three conditions f(c) = 0 (touch-condition.ts), mm, in the part frame.
 * The flat conditions leave a plane, a line or a point; what remains is searched whole: a cell is dropped when some |f| at its
 * middle exceeds the cell's half-diagonal, which no distance function can make up inside it, and halved otherwise.
 * Cells small enough are starts for Newton's method. So no solution is missed within the searched range, there is no
 * chance in it, and equal input gives equal bits.
 */
import {
  add,
  cross,
  distance,
  dot,
  length,
  scale,
  squareTo,
  subtract,
  type Vec3,
} from '../geometry/vector.ts';
import type { Condition } from './touch-condition.ts';

/** A centre meets its conditions when each is this near (mm): a tenth of the 1e-9 mm that are promised. */
const MET = 1e-10;
/** Directions whose part square to the others is under this have no say of their own: a tenth of a microradian. */
const DEPENDENT = 1e-7;
/** Centres nearer than this, relative to the size of the datums, are one: a double contact is found to √ε ≈ 1.5e-8 only. */
const ONE_CENTRE = 1e-6;
/** The range searched, relative to the size of the datums, and the cells at which Newton's method takes over. */
const RANGE = 2 ** 14;
const SMALL_CELL = 2 ** -12;
/** More cells than this at one level mean a run of solutions, not points; some hundreds are usual. */
const MOST_CELLS = 4_000;
/** Newton's steps: quadratic near a simple solution, a bit a step at a double one. */
const MOST_STEPS = 80;
/** A step cut to a thousandth of Newton's own that still does not help is in the wrong valley. */
const SHORTEST_STEP = 2 ** -10;
/** Cells this small, relative to the size of the datums, give a miss well enough for a message. */
const FINEST = 2 ** -20;
const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
type Rows = readonly [Vec3, Vec3, Vec3];
/** Points at which dependence is judged: fixed and without symmetry, so that only a dependence everywhere shows. */
const PROBES: readonly Vec3[] = [
  [0.6180339887, -0.4142135624, 0.7320508076],
  [-0.8717797887, 0.3166247904, 0.2360679775],
  [0.1231056256, 0.874007874, -0.5497787144],
  [-0.3851648071, -0.7445626465, -0.9160797831],
];

export interface Region {
  /** Where the datums are, and how large: the search is about `middle`, in units of `size`. */
  readonly middle: Vec3;
  readonly size: number;
}

/** The largest rank of the conditions' gradients over a few general points: under their number, one depends on the rest. */
export function rankOf(conditions: readonly Condition[], { middle, size }: Region): number {
  return Math.max(
    ...PROBES.map((probe) => {
      const at = add(middle, scale(probe, size));
      return independent(conditions.map((condition) => condition.gradient(at))).length;
    }),
  );
}

/** Every solution of three conditions that are independent (rankOf 3), in the order of x, then y, then z. */
export function allCentres(conditions: readonly Condition[], region: Region): readonly Vec3[] {
  const { free, base } = leftByFlat(conditions, region);
  const curved = conditions.filter((condition) => !condition.flat);
  const found: Vec3[] = [];
  for (const start of startsIn(free, base, curved, region)) {
    const centre = refined(conditions, start);
    if (!meets(conditions, centre)) continue;
    if (found.every((other) => distance(other, centre) > ONE_CENTRE * region.size)) found.push(centre);
  }
  return found.sort((a, b) => a[0] - b[0] || a[1] - b[1] || a[2] - b[2]);
}

/** A centre that meets the conditions, one of many where they are fewer than three; undefined where none was found. */
export function someCentre(conditions: readonly Condition[], region: Region): Vec3 | undefined {
  for (const probe of PROBES) {
    const centre = refined(conditions, add(region.middle, scale(probe, region.size)));
    if (meets(conditions, centre)) return centre;
  }
  const { centre } = leastMiss(conditions, region);
  const last = refined(conditions, centre);
  return meets(conditions, last) ? last : undefined;
}

/**
 * How near the conditions can be met all at once: the least over all centres of the largest |f|, the flat ones met
 * exactly, to about a millionth of the datums' size; and the centre that comes so near.
 */
export function leastMiss(conditions: readonly Condition[], region: Region): { centre: Vec3; miss: number } {
  const { free, base } = leftByFlat(conditions, region);
  const curved = conditions.filter((condition) => !condition.flat);
  const children = cornersOf(free);
  let best = { centre: base, miss: worst(curved, base) };
  let cells = [base];
  for (let half = RANGE * region.size; half > FINEST * region.size && free.length > 0; half /= 2) {
    const tried = halved(cells, children, half).map((centre) => ({ centre, miss: worst(curved, centre) }));
    for (const one of tried) if (one.miss < best.miss) best = one;
    const reach = (half / 2) * Math.sqrt(free.length);
    cells = tried.filter(({ miss }) => miss - reach < best.miss).map(({ centre }) => centre);
    if (cells.length > MOST_CELLS) break;
  }
  return best;
}

const meets = (conditions: readonly Condition[], c: Vec3): boolean => worst(conditions, c) <= MET;

/** Orthonormal directions spanning those given, most independent part of each in turn; dependent ones dropped. */
export function independent(directions: readonly Vec3[]): readonly Vec3[] {
  const basis: Vec3[] = [];
  for (const direction of directions) {
    // Twice, so that what rounding leaves of the first pass goes too.
    const rest = basis.reduce(squareTo, basis.reduce(squareTo, direction));
    if (length(rest) > DEPENDENT) basis.push(scale(rest, 1 / length(rest)));
  }
  return basis;
}

const worst = (conditions: readonly Condition[], c: Vec3): number =>
  Math.max(0, ...conditions.map((condition) => Math.abs(condition.value(c))));

function leftByFlat(
  conditions: readonly Condition[],
  { middle }: Region,
): { free: readonly Vec3[]; base: Vec3 } {
  const flat = conditions.filter((condition) => condition.flat);
  const fixed = independent(flat.map((condition) => condition.gradient(middle)));
  const all = independent([...fixed, ...AXES]);
  return { free: all.slice(fixed.length), base: refined(flat, middle) };
}

function startsIn(
  free: readonly Vec3[],
  base: Vec3,
  curved: readonly Condition[],
  { size }: Region,
): readonly Vec3[] {
  const children = cornersOf(free);
  let cells: Vec3[] = [base];
  for (let half = RANGE * size; half > SMALL_CELL * size && cells.length > 0; half /= 2) {
    const reach = (half / 2) * Math.sqrt(free.length) * (1 + 1e-9);
    const next = halved(cells, children, half).filter((middle) =>
      curved.every((condition) => Math.abs(condition.value(middle)) <= reach),
    );
    if (next.length > MOST_CELLS) break;
    cells = next;
    if (free.length === 0) break;
  }
  return cells;
}

/** The middles of the parts of cells of half-width `half`, one toward each of the corners. */
const halved = (cells: readonly Vec3[], corners: readonly Vec3[], half: number): Vec3[] =>
  cells.flatMap((cell) => corners.map((corner) => add(cell, scale(corner, half / 2))));

/** The corners of a cell of half-width 1 in the free directions: 1, 2, 4 or 8 of them. */
const cornersOf = (free: readonly Vec3[]): readonly Vec3[] =>
  free.reduce<Vec3[]>(
    (sums, axis) => sums.flatMap((sum) => [subtract(sum, axis), add(sum, axis)]),
    [[0, 0, 0]],
  );

/** Newton's method on up to three conditions, each step halved until it helps, to the last that does. */
function refined(conditions: readonly Condition[], start: Vec3): Vec3 {
  let [centre, miss] = [start, worst(conditions, start)];
  for (let step = 0; step < MOST_STEPS && miss > 0; step++) {
    const whole = newtonStep(conditions, centre);
    let helped = false;
    for (let part = 1; part > SHORTEST_STEP && !helped; part /= 2) {
      const next = add(centre, scale(whole, part));
      const there = worst(conditions, next);
      if (there < miss) [centre, miss, helped] = [next, there, true];
      else if (miss <= MET) break;
    }
    if (!helped) break;
  }
  return centre;
}

/** The least step that takes every independent condition to 0 to first order; a dependent one waits for its turn. */
function newtonStep(conditions: readonly Condition[], at: Vec3): Vec3 {
  const rows: Vec3[] = [];
  const right: number[] = [];
  for (const condition of conditions) {
    const gradient = condition.gradient(at);
    if (independent([...rows, gradient]).length === rows.length) continue;
    rows.push(gradient);
    right.push(-condition.value(at));
  }
  for (const direction of independent([...rows, ...AXES]).slice(rows.length)) {
    rows.push(direction);
    right.push(0);
  }
  return solve3(rows as unknown as Rows, right as unknown as Vec3);
}

/** Solves rows · x = right by Cramer's rule. */
function solve3([a, b, c]: Rows, right: Vec3): Vec3 {
  const [bc, ca, ab] = [cross(b, c), cross(c, a), cross(a, b)];
  return scale(add(add(scale(bc, right[0]), scale(ca, right[1])), scale(ab, right[2])), 1 / dot(a, bc));
}
