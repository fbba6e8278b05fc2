/**
 * Where each patch's caption goes: beside its patch where there is room, else farther off with a leader line, else, short,
 * on the patch itself, else in columns at both sides of everything. Captions never meet each other; they stay off patches, centre lines and edges while any
 * place that does so is left. All choices are made in the order of the patches and are the same on every run.
 */
import { add2, type Vec2 } from '../../geometry/vector.ts';
import {
  boxesMeet,
  boxOf,
  distanceToRun,
  edgeRuns,
  grown,
  holds,
  isInPolygon,
  middleOf,
  type Run,
  runMeetsBox,
  runOf,
  runsCross,
} from './boxes.ts';
import { baselineOf, besides, boxBeyond, captionBox, exitFrom } from './caption-candidates.ts';
import type { Box } from './drawing.ts';
import { farCaptions } from './far-captions.ts';
import { roomFor } from './lettering.ts';

export interface CaptionWish {
  readonly text: string;
  /** Shown where the text has no room but on the patch. */
  readonly short: string;
  /** Edges of the patch it belongs to as polygons, the outer one first. */
  readonly patch: readonly (readonly Vec2[])[];
}

export interface PlacedCaption {
  readonly text: string;
  /** Left end of the base line. */
  readonly at: Vec2;
  /** From the caption to the patch; undefined where the caption stands beside it. */
  readonly leader: readonly [Vec2, Vec2] | undefined;
}

/** What captions keep clear of. */
export interface Obstacles {
  /** Captions lie within. */
  readonly area: Box;
  /** Edges that a caption should not cross though it may lie within: the substrate's, keep-outs'. */
  readonly edges: readonly (readonly Vec2[])[];
  readonly lines: readonly (readonly [Vec2, Vec2])[];
  readonly boxes: readonly Box[];
}

/** Directions tried around a patch, and how far out, in text heights. */
const DIRECTIONS = 24;
const STEPS = [1.6, 2.6, 4, 6, 8, 10, 12, 15, 18, 22, 26, 30, 36, 42, 50, 60];
/** Clear space around a caption, and how far from its patch it stands at most without a leader, in text heights. */
const CLEAR = 0.35;
const NEAR = 0.8;

type Segment = readonly [Vec2, Vec2];

interface PatchEdges {
  readonly polygons: readonly (readonly Vec2[])[];
  readonly box: Box;
  readonly edges: readonly Run[];
}

export function placeCaptions(
  wishes: readonly CaptionWish[],
  height: number,
  obstacles: Obstacles,
): PlacedCaption[] {
  const patches = wishes.map(
    ({ patch }): PatchEdges => ({ polygons: patch, box: boxOf(patch[0]!), edges: patch.flatMap(edgeRuns) }),
  );
  const ground = new Ground(patches, height, obstacles);
  const placed = wishes.map((wish, own) => placedNear(wish, own, patches[own]!, ground, height));
  const left = placed.flatMap((caption, k) => (caption === undefined ? [k] : []));
  const far = farCaptions(
    left.map((k) => {
      const { box, polygons } = patches[k]!;
      return {
        text: wishes[k]!.text,
        middle: middleOf(box),
        edge: polygons[0]!,
        solid: covers(patches[k]!, box),
      };
    }),
    height,
    obstacles.area,
    obstacles.boxes,
  );
  return placed.map((caption, k) => caption ?? far[left.indexOf(k)]!);
}

/** Beside the patch, or farther off with a leader, or on the patch; undefined where nothing is left. */
function placedNear(
  { text, short }: CaptionWish,
  own: number,
  patch: PatchEdges,
  ground: Ground,
  height: number,
): PlacedCaption | undefined {
  const width = roomFor(text, height);
  const take = (words: string, box: Box, leader?: Segment): PlacedCaption => {
    ground.take(box, leader);
    return { text: words, at: baselineOf(box), leader };
  };
  const beside = besides(patch.box, width, height).filter(
    (box) => ground.isFree(box) && ground.isNear(box, own),
  );
  const best = beside.find((box) => ground.isNearest(box, own)) ?? beside[0];
  if (best) return take(text, best);
  for (const { box, leader } of reachable(patch, width, height)) {
    if (ground.isFree(box) && ground.isClear(leader, own)) return take(text, box, leader);
  }
  const onPatch = captionOn(patch, roomFor(short, height), height);
  return onPatch && ground.isUntaken(onPatch) ? take(short, onPatch) : undefined;
}

/** A quarter of the patch clear of its centre lines if the caption is small enough for it, else the middle; a room is a generous one. */
function captionOn(patch: PatchEdges, width: number, height: number): Box | undefined {
  const { left, right, bottom, top } = patch.box;
  const [x, y] = middleOf(patch.box);
  const [across, up] = [(right - left) / 4, (top - bottom) / 4];
  const at = (cx: number, cy: number): Box => captionBox([cx - width / 2, cy - height / 2], width, height);
  const quarters =
    width < 2 * across && height < 2 * up ? QUARTERS.map(([a, b]) => at(x + a * across, y + b * up)) : [];
  const fits = (box: Box): boolean => covers(patch, box) && holds(grown(patch.box, 0.1 * width), box);
  return quarters.find(fits) ?? [at(x, y)].find(fits);
}

const QUARTERS = [
  [1, -1],
  [-1, -1],
  [1, 1],
  [-1, 1],
] as const;

/** Places in all directions, farther and farther out, each with its leader. */
function* reachable({ polygons, box: own }: PatchEdges, width: number, height: number) {
  const middle = middleOf(own);
  const rays = Array.from({ length: DIRECTIONS }, (_, k) => {
    const angle = (2 * Math.PI * k) / DIRECTIONS;
    const direction: Vec2 = [Math.cos(angle), Math.sin(angle)];
    return { direction, start: exitFrom(polygons[0]!, middle, direction) };
  });
  for (const step of STEPS) {
    for (const { direction, start } of rays) {
      if (start === undefined) continue;
      const knee = add2(start, [direction[0] * step * height, direction[1] * step * height]);
      yield { box: boxBeyond(knee, direction, width, height), leader: [knee, start] as const };
    }
  }
}

/** What is taken already: the patches, the lines of the drawing, and the captions and leaders placed so far. */
class Ground {
  readonly #patches: readonly PatchEdges[];
  readonly #height: number;
  readonly #area: Box;
  readonly #runs: Run[];
  readonly #boxes: Box[];
  readonly #leaders: Run[] = [];

  constructor(patches: readonly PatchEdges[], height: number, { area, edges, lines, boxes }: Obstacles) {
    this.#patches = patches;
    this.#height = height;
    this.#area = area;
    this.#runs = [...edges.flatMap(edgeRuns), ...lines.map(([from, to]) => runOf(from, to))];
    this.#boxes = [...boxes];
  }

  take(box: Box, leader: Segment | undefined): void {
    this.#boxes.push(box);
    if (leader) this.#leaders.push(runOf(...leader));
  }

  /** Whether no caption and nothing else that has a room of its own is there. */
  isUntaken(box: Box): boolean {
    return (
      !this.#boxes.some((other) => boxesMeet(other, box)) &&
      !this.#leaders.some((run) => runMeetsBox(run, box))
    );
  }

  isFree(box: Box): boolean {
    const room = grown(box, CLEAR * this.#height);
    const meets = (run: Run) => runMeetsBox(run, room);
    return (
      holds(this.#area, room) &&
      !this.#boxes.some((other) => boxesMeet(other, room)) &&
      !this.#patches.some(
        (patch) => boxesMeet(patch.box, room) && (patch.edges.some(meets) || covers(patch, room)),
      ) &&
      !this.#leaders.some(meets) &&
      !this.#runs.some(meets)
    );
  }

  /** Whether the box stands right beside its patch, which an upright box around a ring or a sector does not tell. */
  isNear(box: Box, own: number): boolean {
    const room = grown(box, NEAR * this.#height);
    return this.#patches[own]!.edges.some((edge) => runMeetsBox(edge, room));
  }

  /** Whether no other patch is nearer to the box's middle than its own. */
  isNearest(box: Box, own: number): boolean {
    const middle = middleOf(box);
    const distances = this.#patches.map(({ edges }) =>
      Math.min(...edges.map((edge) => distanceToRun(middle, edge))),
    );
    return distances.every((distance, k) => k === own || distance > distances[own]!);
  }

  /** Whether a leader passes other patches, captions and leaders by. */
  isClear([from, to]: Segment, own: number): boolean {
    const leader = runOf(from, to);
    return (
      !this.#patches.some(
        ({ box, edges }, k) =>
          k !== own && runMeetsBox(leader, box) && edges.some((edge) => runsCross(edge, leader)),
      ) &&
      !this.#boxes.some((box) => runMeetsBox(leader, box)) &&
      !this.#leaders.some((other) => runsCross(other, leader))
    );
  }
}

/** Whether the middle of the box is inside the patch and not in its hole. */
const covers = ({ polygons }: PatchEdges, box: Box): boolean =>
  polygons.filter((polygon) => isInPolygon(middleOf(box), polygon)).length % 2 === 1;
