/** The ground that captions are placed on: what is taken, and what a caption or its leader would meet there. mm. */
import { isInPolygon } from '../../../geometry/contains.ts';
import type { Vec2 } from '../../../geometry/vector.ts';
import {
  boxesMeet,
  distanceToRun,
  edgeRuns,
  grown,
  holds,
  middleOf,
  type Run,
  runMeetsBox,
  runOf,
  runsCross,
} from '../boxes.ts';
import type { Box, Line } from '../drawing.ts';

/** What captions keep clear of. */
export interface Obstacles {
  /** Captions lie within. */
  readonly area: Box;
  /** Edges that a caption should not cross though it may lie within: the substrate's, keep-outs'. */
  readonly edges: readonly (readonly Vec2[])[];
  readonly lines: readonly Line[];
  readonly boxes: readonly Box[];
}

/** Side of a cell of the index of what is taken, in text heights. */
const CELL = 4;
/** Clear space around a caption, and how far from its patch it stands at most without a leader, in text heights. */
const CLEAR = 0.35;
const NEAR = 0.8;
/** Farther from every other patch than this, in text heights, a caption within NEAR of its own belongs to that one at a glance. */
const ALONE = 2.5 * NEAR;
/** Nearer to a line than this over more than that length, a leader would be taken for it; in text heights. One that crosses at 30° is not. */
const LOST = 0.3;
const LOST_FOR = 1.08;

export interface PatchEdges {
  readonly polygons: readonly (readonly Vec2[])[];
  readonly box: Box;
  readonly edges: readonly Run[];
}

/** What is taken already: the patches, the lines of the drawing, and the captions and leaders placed so far. */
export class Ground {
  readonly #patches: BoxIndex<PatchEdges>;
  readonly #height: number;
  readonly #area: Box;
  readonly #runs: BoxIndex<Run>;
  readonly #rooms: BoxIndex<{ readonly box: Box }>;
  readonly #leaders: BoxIndex<Run>;
  /** Of all patches. */
  readonly #edges: BoxIndex<Run>;

  constructor(patches: readonly PatchEdges[], height: number, { area, edges, lines, boxes }: Obstacles) {
    const cell = CELL * height;
    this.#patches = new BoxIndex(cell, area, patches);
    this.#height = height;
    this.#area = area;
    this.#runs = new BoxIndex(cell, area, [
      ...edges.flatMap(edgeRuns),
      ...lines.map(([from, to]) => runOf(from, to)),
    ]);
    this.#rooms = new BoxIndex(
      cell,
      area,
      boxes.map((box) => ({ box })),
    );
    this.#leaders = new BoxIndex(cell, area);
    this.#edges = new BoxIndex(
      cell,
      area,
      patches.flatMap((patch) => patch.edges),
    );
  }

  take(box: Box, leader: Line | undefined): void {
    this.#rooms.add({ box });
    if (leader) this.#leaders.add(runOf(...leader));
  }

  /** Whether no caption and nothing else that has a room of its own is there. */
  isUntaken(box: Box): boolean {
    return (
      !this.#rooms.someNear(box, (other) => boxesMeet(other.box, box)) &&
      !this.#leaders.someNear(box, (run) => runMeetsBox(run, box))
    );
  }

  /** Nor any line: of what may stand on a patch. */
  isUncrossed(box: Box): boolean {
    return this.isUntaken(box) && !this.#runs.someNear(box, (run) => runMeetsBox(run, box));
  }

  isFree(box: Box): boolean {
    const room = grown(box, CLEAR * this.#height);
    const meets = (run: Run) => runMeetsBox(run, room);
    return (
      holds(this.#area, room) &&
      !this.#rooms.someNear(room, (other) => boxesMeet(other.box, room)) &&
      !this.#leaders.someNear(room, meets) &&
      !this.#runs.someNear(room, meets) &&
      !this.#edges.someNear(room, meets) &&
      !this.#patches.someNear(room, (patch) => boxesMeet(patch.box, room) && covers(patch, room))
    );
  }

  /** Whether the box stands right beside its patch, which an upright box around a ring or a sector does not tell. */
  isNear(box: Box, own: PatchEdges): boolean {
    const room = grown(box, NEAR * this.#height);
    return own.edges.some((edge) => runMeetsBox(edge, room));
  }

  /** Whether no other patch is nearer to the box's middle than its own. */
  isNearest(box: Box, own: PatchEdges): boolean {
    const [x, y] = middleOf(box);
    const distanceTo = ({ edges }: PatchEdges): number =>
      edges.reduce((least, edge) => Math.min(least, distanceToRun([x, y], edge)), Number.POSITIVE_INFINITY);
    const distance = distanceTo(own);
    const around = grown({ left: x, right: x, bottom: y, top: y }, distance);
    return !this.#patches.someNear(around, (patch) => patch !== own && distanceTo(patch) <= distance);
  }

  /** Whether no other patch comes so near to the box that it could be taken for that patch's. */
  isAlone(box: Box, own: PatchEdges): boolean {
    const room = grown(box, ALONE * this.#height);
    return !this.#patches.someNear(
      room,
      (patch) =>
        patch !== own && boxesMeet(patch.box, room) && patch.edges.some((edge) => runMeetsBox(edge, room)),
    );
  }

  /** Whether a leader passes other patches, captions and leaders by, and runs along no line, where it would be lost. */
  isClear([from, to]: Line, own: PatchEdges): boolean {
    const leader = runOf(from, to);
    return (
      !this.#patches.someNear(
        leader.box,
        (patch) =>
          patch !== own &&
          runMeetsBox(leader, patch.box) &&
          patch.edges.some((edge) => runsCross(edge, leader)),
      ) &&
      !this.#rooms.someNear(leader.box, ({ box }) => runMeetsBox(leader, box)) &&
      !this.#leaders.someNear(leader.box, (other) => runsCross(other, leader)) &&
      !this.#runs.someNear(grown(leader.box, LOST * this.#height), (line) =>
        runsAlong(leader, line, LOST * this.#height, LOST_FOR * this.#height),
      )
    );
  }
}

/** Whether both lie beside each other, nearer than `within`, over more than `most`. */
function runsAlong(a: Run, b: Run, within: number, most: number): boolean {
  const [ax, ay] = [a.to[0] - a.from[0], a.to[1] - a.from[1]];
  const length = Math.sqrt(ax * ax + ay * ay);
  if (!(length > 0)) return false;
  const onto = ([x, y]: Vec2): Vec2 => [
    ((x - a.from[0]) * ax + (y - a.from[1]) * ay) / length,
    ((y - a.from[1]) * ax - (x - a.from[0]) * ay) / length,
  ];
  const [[s, u], [t, v]] = [onto(b.from), onto(b.to)];
  // The stretch of b that is near to a's line, and what of it is beside a.
  const [low, high] = u === v ? (Math.abs(u) < within ? [0, 1] : [1, 0]) : shares(u, v, within);
  const ends = [s + low * (t - s), s + high * (t - s)];
  return low < high && Math.min(length, Math.max(...ends)) - Math.max(0, Math.min(...ends)) > most;
}

/** The shares of a way from u to v at which it comes within ±`within`, and leaves it. */
function shares(u: number, v: number, within: number): readonly [number, number] {
  const [a, b] = [(-within - u) / (v - u), (within - u) / (v - u)];
  return [Math.max(0, Math.min(a, b)), Math.min(1, Math.max(a, b))];
}

/** Whether the middle of the box is inside the patch and not in its hole. */
export const covers = ({ polygons }: PatchEdges, box: Box): boolean =>
  polygons.filter((polygon) => isInPolygon(polygon, middleOf(box))).length % 2 === 1;

/**
 * What stands where on a drawing, found by box: a grid of square cells, each with the things whose boxes reach into it. Things
 * may be added at any time, which the captions placed one after the other need. mm.
 *
 * What lies beyond `area` counts to the cells at its border, so that a thing however large fills no more cells than the area has; two
 * boxes that meet still share a cell.
 */
export class BoxIndex<Thing extends { readonly box: Box }> {
  readonly #cell: number;
  readonly #area: Box;
  readonly #cells = new Map<number, Map<number, Thing[]>>();

  /** `cell`: side of a cell, of the order of the boxes asked for. */
  constructor(cell: number, area: Box, things: Iterable<Thing> = []) {
    this.#cell = cell;
    this.#area = area;
    for (const thing of things) this.add(thing);
  }

  add(thing: Thing): void {
    const [left, right, bottom, top] = this.#range(thing.box);
    for (let x = left; x <= right; x++) {
      const column = this.#cells.get(x) ?? new Map<number, Thing[]>();
      this.#cells.set(x, column);
      for (let y = bottom; y <= top; y++) {
        const cell = column.get(y);
        if (cell === undefined) column.set(y, [thing]);
        else cell.push(thing);
      }
    }
  }

  /** Whether `holds` is true of any thing in the cells that the box reaches into: of all whose boxes meet it, and others near by. */
  someNear(box: Box, holds: (thing: Thing) => boolean): boolean {
    const [left, right, bottom, top] = this.#range(box);
    for (let x = left; x <= right; x++) {
      const column = this.#cells.get(x);
      if (column === undefined) continue;
      for (let y = bottom; y <= top; y++) {
        if (column.get(y)?.some(holds)) return true;
      }
    }
    return false;
  }

  #range({ left, right, bottom, top }: Box): readonly [number, number, number, number] {
    const area = this.#area;
    const cell = (value: number, least: number, most: number): number =>
      Math.floor(Math.min(Math.max(value, least), most) / this.#cell);
    return [
      cell(left, area.left, area.right),
      cell(right, area.left, area.right),
      cell(bottom, area.bottom, area.top),
      cell(top, area.bottom, area.top),
    ];
  }
}
