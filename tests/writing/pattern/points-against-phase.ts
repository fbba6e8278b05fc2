/**
 * Points at random against the phase, by all boundaries of a GDSII file: written where k ≤ Φ < k + duty inside a pattern, edges moved by
 * the edge shift; on the layer of the marks where a mark is; nowhere else and nowhere twice. A point nearer to an edge than the edge
 * is promised to be right is counted, not judged. mm, substrate frame.
 */
import type { Design } from '../../../src/design/design.ts';
import { marksOf } from '../../../src/design/marks/marks.ts';
import { deviates } from '../../independent/random.ts';
import type { Point, Scene } from '../../independent/scene.ts';
import { edgePoints, edgePolygons, outsideBy, type Placed } from '../../independent/scene-outline.ts';
import { type Field, sceneBias, scenePhase, slopeOf } from '../../independent/scene-phase.ts';
import { CoveredPoints } from './covered-points.ts';
import { eachBoundary, everyBoundary } from './gdsii-boundaries.ts';

/** A pattern as it should be. */
export interface Expected extends Placed {
  readonly id: string;
  readonly phase: Field;
  /** Of a roof; its ridge is where it is 0. */
  readonly roof?: Field;
  /** How far an edge of a line may be off. */
  readonly bound: number;
}

export interface Sheet {
  readonly patterns: readonly Expected[];
  readonly marks: readonly (readonly Point[])[];
  readonly dutyCycle: number;
  /** Outward. */
  readonly edgeShift: number;
}

export interface Data {
  readonly bytes: Uint8Array;
  readonly topCell: string;
  /** x to -x. */
  readonly mirrored: boolean;
  /** Looks at the data as if they lay off their place, mm: what a test has to notice. */
  readonly displaced?: Point;
}

/** What a shop writes, and what stands in a file for people only. */
const [WRITTEN, MARKS] = ['1/0', '2/0'];
const NOT_WRITTEN = ['10/0', '11/0', '13/0', '14/0'];
const NM_PER_MM = 1e6;
/** The file's grid: marks and the patterns' own edges stand on it. */
const GRID = 1e-6;
/** mm: what counts as on a ridge, the rounding of a vertex; as across it; and a way from a patch's centre that leads off its ridge. */
const [ON_RIDGE, CLEARLY] = [1.5 * GRID, 100 * GRID];
const BESIDE: Point = [0.3, 0.2];
/** Of difference quotients of a phase, mm: within a line, and no wave's curvature shows. */
const SLOPE_STEP = 1e-4;

/** The patches of a scene, edges right to `bound`. */
export const patchesOf = (scene: Scene, bound: (id: string) => number): Expected[] =>
  scene.patches.map((patch) => ({
    ...{ id: patch.id, centre: patch.centre, outline: patch.outline },
    phase: scenePhase(scene, patch.id),
    bound: bound(patch.id),
    ...(patch.bias?.shape === 'roof' ? { roof: sceneBias(scene, patch) } : {}),
  }));

/** The polygons of the marks where they stand, without an edge shift. */
export const marksIn = (design: Design): Point[][] =>
  marksOf(design).marks.flatMap(({ form, at }) =>
    [...form.polygons, ...form.lines].map((polygon) =>
      polygon.map(([x, y]): Point => [at[0] + x, at[1] + y]),
    ),
  );

interface Level {
  /** Depth in the nearest line, mm, negative beside it. */
  readonly depth: number;
  /** The nearest point of that line's edge. */
  readonly foot: Point;
  /** Unit vector from the line to the space beside it, at that edge. */
  readonly outward: Point;
}

function levelAt({ phase }: Expected, [x, y]: Point, dutyCycle: number): Level {
  const [gx, gy] = slopeOf(phase, x, y, SLOPE_STEP);
  const slope = Math.hypot(gx, gy);
  const waves = phase(x, y);
  const fromMiddle = waves - Math.round(waves - dutyCycle / 2) - dutyCycle / 2;
  const depth = (dutyCycle / 2 - Math.abs(fromMiddle)) / slope;
  const side = Math.sign(fromMiddle) / slope;
  return {
    depth,
    foot: [x + depth * side * gx, y + depth * side * gy],
    outward: [side * gx, side * gy],
  };
}

/** Points by where they are looked for; each of the things asked for has as many. */
export class Draws {
  readonly #sheet: Sheet;
  readonly #patterns: readonly { readonly pattern: Expected; readonly box: Box }[];
  readonly #uniform: () => number;

  constructor(sheet: Sheet, seed: number) {
    this.#sheet = sheet;
    this.#patterns = sheet.patterns.map((pattern) => ({ pattern, box: boxOf(edgePoints(pattern, 720)) }));
    this.#uniform = deviates(seed).uniform;
  }

  inPatterns(count: number): Point[] {
    return spread(this.#patterns, count, (one) => this.#inside(one));
  }

  /** Beside the edges of lines, where the least fault shows: from `least` to `most` off, on either side. */
  besideLines(count: number, least: number, most: number): Point[] {
    const { dutyCycle, edgeShift } = this.#sheet;
    return spread(this.#patterns, count, (one) => {
      const { foot, outward } = levelAt(one.pattern, this.#inside(one), dutyCycle);
      const off = edgeShift + this.#sign() * this.#evenInScale(least, most);
      return [foot[0] + off * outward[0], foot[1] + off * outward[1]];
    });
  }

  /** Beside the ridges of roofs: from the grid's step to three periods off, on either side. */
  besideRidges(count: number): Point[] {
    const roofs = this.#patterns.filter(({ pattern }) => pattern.roof !== undefined);
    return spread(roofs, count, (one) => {
      const { on, across } = ridgeFrom(one.pattern.roof!, this.#inside(one));
      const period = 1 / Math.hypot(...slopeOf(one.pattern.phase, ...on, SLOPE_STEP));
      const off = this.#sign() * this.#evenInScale(GRID, 3 * period);
      return [on[0] + off * across[0], on[1] + off * across[1]];
    });
  }

  /** On either side of the patterns' own edges, up to `reach` off. */
  besideOutlines(count: number, reach: number): Point[] {
    const edges = this.#sheet.patterns.map((pattern) => edgePolygons(pattern, 720));
    return spread(edges, count, (loops) => {
      const loop = loops[Math.floor(this.#uniform() * loops.length)]!;
      const k = Math.floor(this.#uniform() * loop.length);
      const [[ax, ay], [bx, by]] = [loop[k]!, loop[(k + 1) % loop.length]!];
      const along = this.#uniform();
      const off = this.#between(-reach, reach) / Math.hypot(bx - ax, by - ay);
      return [ax + along * (bx - ax) + off * (by - ay), ay + along * (by - ay) - off * (bx - ax)];
    });
  }

  /** In the boxes of the marks' polygons and 20 µm around. */
  aboutMarks(count: number): Point[] {
    return spread(this.#sheet.marks.map(boxOf), count, (box) => this.#inBox(box, 0.02));
  }

  /** Over a square about the origin, most of it without a pattern. */
  anywhere(count: number, halfWidth: number): Point[] {
    return Array.from({ length: count }, () => this.#inBox([-halfWidth, halfWidth, -halfWidth, halfWidth]));
  }

  #inside({ pattern, box }: { readonly pattern: Expected; readonly box: Box }): Point {
    for (;;) {
      const point = this.#inBox(box);
      if (outsideBy(pattern, point) < 0) return point;
    }
  }

  #inBox = ([minX, maxX, minY, maxY]: Box, around = 0): Point => [
    this.#between(minX - around, maxX + around),
    this.#between(minY - around, maxY + around),
  ];
  #between = (from: number, to: number): number => from + this.#uniform() * (to - from);
  #evenInScale = (from: number, to: number): number => from * (to / from) ** this.#uniform();
  #sign = (): 1 | -1 => (this.#uniform() < 0.5 ? 1 : -1);
}

const spread = <Thing>(things: readonly Thing[], count: number, draw: (thing: Thing) => Point): Point[] =>
  things.flatMap((thing) => Array.from({ length: Math.ceil(count / things.length) }, () => draw(thing)));

type Box = readonly [minX: number, maxX: number, minY: number, maxY: number];

function boxOf(points: readonly Point[]): Box {
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
}

/** The point of the ridge that is nearest to a place, and the unit vector from the ridge to that place. */
function ridgeFrom(roof: Field, [x, y]: Point): { readonly on: Point; readonly across: Point } {
  const [gx, gy] = slopeOf(roof, x, y, SLOPE_STEP);
  const slope = Math.hypot(gx, gy);
  const away = roof(x, y) / slope;
  const across: Point = [gx / slope, gy / slope];
  return { on: [x - away * across[0], y - away * across[1]], across };
}

export interface Tally {
  readonly points: number;
  /** Nearer to an edge than it is promised to be right: not judged. */
  readonly near: number;
  readonly written: number;
  readonly marked: number;
  readonly wrong: readonly { readonly point: Point; readonly says: Covered; readonly is: Covered }[];
}

interface Covered {
  readonly written: number;
  readonly marks: number;
}

/** Of the points by where they were drawn. Throws where the file has more on it than patterns, marks and outlines, or a cell that is not placed once where it stands. */
export function judged<Where extends string>(
  draws: Readonly<Record<Where, readonly Point[]>>,
  sheet: Sheet,
  data: Data,
): Record<Where, Tally> {
  const lists = Object.entries(draws) as [Where, readonly Point[]][];
  const covered = coverOf(
    lists.flatMap(([, points]) => points),
    data,
  );
  const tallies = {} as Record<Where, Tally>;
  let k = 0;
  for (const [where, points] of lists) {
    const wrong: Tally['wrong'][number][] = [];
    let [near, written, marked] = [0, 0, 0];
    for (const point of points) {
      const is = { written: covered.written[k]!, marks: covered.marks[k++]! };
      const says = saidOf(point, sheet);
      if (says === undefined) {
        near++;
        continue;
      }
      written += says.written;
      marked += says.marks;
      if (is.written !== says.written || is.marks !== says.marks) wrong.push({ point, says, is });
    }
    tallies[where] = { points: points.length, near, written, marked, wrong };
  }
  return tallies;
}

/** What the words say of a point; undefined within the bound of an edge. */
function saidOf(point: Point, { patterns, marks, dutyCycle, edgeShift }: Sheet): Covered | undefined {
  const reach = Math.abs(edgeShift);
  let written = 0;
  for (const pattern of patterns) {
    const outside = outsideBy(pattern, point);
    // A shifted line ends at the pattern's edge with its own, unshifted: within the shift the end is open.
    if (Math.abs(outside) <= pattern.bound + GRID + reach) return undefined;
    if (outside > 0) continue;
    const depth = levelAt(pattern, point, dutyCycle).depth + edgeShift;
    if (Math.abs(depth) <= pattern.bound) return undefined;
    if (depth > 0) written++;
  }
  if (marks.some((polygon) => distanceToSides(polygon, point) <= GRID + reach)) return undefined;
  return { written, marks: marks.filter((polygon) => holds(polygon, point)).length };
}

function holds(polygon: readonly Point[], [x, y]: Point): boolean {
  let inside = false;
  let [px, py] = polygon.at(-1)!;
  for (const [qx, qy] of polygon) {
    if (py > y !== qy > y && x < px + ((y - py) / (qy - py)) * (qx - px)) inside = !inside;
    [px, py] = [qx, qy];
  }
  return inside;
}

function distanceToSides(polygon: readonly Point[], [x, y]: Point): number {
  let least = Number.POSITIVE_INFINITY;
  let [px, py] = polygon.at(-1)!;
  for (const [qx, qy] of polygon) {
    const [dx, dy] = [qx - px, qy - py];
    const along = Math.min(1, Math.max(0, ((x - px) * dx + (y - py) * dy) / (dx * dx + dy * dy)));
    least = Math.min(least, Math.hypot(px + along * dx - x, py + along * dy - y));
    [px, py] = [qx, qy];
  }
  return least;
}

/** How often each point is covered on the layers that are written. */
function coverOf(points: readonly Point[], { bytes, topCell, mirrored, displaced = [0, 0] }: Data) {
  const side = mirrored ? -1 : 1;
  const [dx, dy] = displaced;
  const sweep = new CoveredPoints(
    points.map(([x, y]): Point => [side * (x - dx) * NM_PER_MM, (y - dy) * NM_PER_MM]),
  );
  const [written, marks] = [new Uint8Array(points.length), new Uint8Array(points.length)];
  const drawn = new Set<string>();
  const placements = everyBoundary(bytes, (xy, count, { cell, layer, datatype }) => {
    drawn.add(cell);
    const on = `${layer}/${datatype}`;
    if (on === WRITTEN) sweep.add(xy, count, written);
    else if (on === MARKS) sweep.add(xy, count, marks);
    else if (!NOT_WRITTEN.includes(on)) throw new Error(`a boundary on ${on}`);
  });
  drawn.delete(topCell);
  const placed = placements.map((one) => `${one.in} ${one.cell} ${one.at}`).sort();
  const wanted = [...drawn].map((cell) => `${topCell} ${cell} 0,0`).sort();
  if (placed.join() !== wanted.join()) throw new Error(`placed are ${placed}, drawn ${wanted}`);
  return { written, marks };
}

/** Of the cell of a roof: the polygons that cross its ridge, and how much of the ridge, mm, polygons end on instead. */
export function jointsOf(
  { roof, centre }: Expected,
  cell: string,
  { bytes, mirrored }: Data,
): { readonly crossing: number; readonly ending: number } {
  const { on, across } = ridgeFrom(roof!, [centre[0] + BESIDE[0], centre[1] + BESIDE[1]]);
  const side = mirrored ? -1 : 1;
  let [crossing, ending] = [0, 0];
  eachBoundary(bytes, cell, 1, 0, (points, count) => {
    const place = (k: number): Point => [(side * points[2 * k]!) / NM_PER_MM, points[2 * k + 1]! / NM_PER_MM];
    let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let k = 0; k < count; k++) {
      const [x, y] = place(k);
      const away = (x - on[0]) * across[0] + (y - on[1]) * across[1];
      [least, most] = [Math.min(least, away), Math.max(most, away)];
      if (Math.abs(away) > ON_RIDGE) continue;
      const [u, v] = place((k + 1) % count);
      const next = (u - on[0]) * across[0] + (v - on[1]) * across[1];
      if (Math.abs(next) < ON_RIDGE) ending += Math.hypot(u - x, v - y);
    }
    if (least < -CLEARLY && most > CLEARLY) crossing++;
  });
  return { crossing, ending };
}
