/**
 * Where each patch's caption goes: beside its patch where there is room and no other patch near, else farther off with a leader line, else, short,
 * on the patch itself, else in columns at both sides of everything. Captions never meet each other; they stay off patches, centre lines and edges while any
 * place that does so is left. Where the patches are so many that leaders would be a thicket there are none: what finds no room is
 * written on its patch, as small as it must. All choices are made in the order of the patches and are the same on every run.
 */
import { add2, type Vec2 } from '../../../geometry/vector.ts';
import { boxOf, edgeRuns, grown, holds, middleOf, runMeetsBox, runsInPolygons } from '../boxes.ts';
import type { Align, Box, Line } from '../drawing.ts';
import { roomFor } from '../lettering.ts';
import { covers, Ground, type Obstacles, type PatchEdges } from './caption-ground.ts';
import { farCaptions } from './far-captions.ts';

interface CaptionWish {
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
  readonly leader: Line | undefined;
  /** Of its capitals. */
  readonly height: number;
}

/**
 * Which end of its text a caption keeps where a font is narrower than the room: one left of its leader, or of what it names, the right end;
 * one above or below its leader the middle.
 */
export function alignOf({ text, at: [left], height, leader }: PlacedCaption, named: Box): Align {
  const right = left + roomFor(text, height);
  const near = leader?.[0][0];
  if ((near ?? named.left) >= right) return 'right';
  return near !== undefined && near > left ? 'centre' : 'left';
}

/** Directions tried around a patch, and how far out, in text heights. */
const DIRECTIONS = 24;
const STEPS = [1.6, 2.6, 4, 6, 8, 10, 12, 15, 18, 22, 26, 30, 36, 42, 50, 60];
/** With more patches than this no caption has a leader. */
export const MOST_LEADERS = 100;
/** Of the quarter of a patch that it is written small in, the most that a caption takes. */
const SMALL = 0.8;
/** Made smaller by this, again and again, where the patch's edge runs slanting. */
const SMALLER = 0.8;
const MOST_TRIES = 16;

/** `crowded`: things stand so close that a caption may be near others' too, and a leader level or upright. */
export function placeCaptions(
  wishes: readonly CaptionWish[],
  height: number,
  obstacles: Obstacles,
  crowded = false,
): PlacedCaption[] {
  const patches = wishes.map(
    ({ patch }): PatchEdges => ({ polygons: patch, box: boxOf(patch[0]!), edges: patch.flatMap(edgeRuns) }),
  );
  const ground = new Ground(patches, height, obstacles);
  const led = wishes.length <= MOST_LEADERS;
  const placed = wishes.map((wish, own) => placedNear(wish, patches[own]!, ground, height, led, crowded));
  if (!led) return placed.map((caption, k) => caption ?? smallOn(patches[k]!, wishes[k]!.short, height));
  const left = placed.flatMap((caption, k) => (caption === undefined ? [k] : []));
  const far = farCaptions(
    left.map((k) => ({ text: wishes[k]!.text, patch: patches[k]! })),
    height,
    obstacles.area,
    obstacles.boxes,
  );
  return placed.map((caption, k) => caption ?? far[left.indexOf(k)]!);
}

/** Beside the patch, or farther off with a leader, or on the patch; undefined where nothing is left. */
function placedNear(
  { text, short }: CaptionWish,
  patch: PatchEdges,
  ground: Ground,
  height: number,
  led: boolean,
  crowded: boolean,
): PlacedCaption | undefined {
  const width = roomFor(text, height);
  const take = (words: string, box: Box, leader?: Line): PlacedCaption => {
    ground.take(box, leader);
    return { text: words, at: baselineOf(box), leader, height };
  };
  const beside = besides(patch.box, width, height).filter(
    (box) => ground.isFree(box) && ground.isNear(box, patch),
  );
  const best = crowded
    ? (beside.find((box) => ground.isNearest(box, patch)) ?? beside[0])
    : beside.find((box) => ground.isAlone(box, patch));
  if (best) return take(text, best);
  if (led) {
    for (const { box, leader } of reachable(patch, width, height, crowded)) {
      if (ground.isFree(box) && ground.isClear(leader, patch)) return take(text, box, leader);
    }
  }
  if (beside[0]) return take(text, beside[0]);
  for (const words of [text, short]) {
    const quarter = quartersOf(patch, roomFor(words, height), height).find((box) => ground.isUncrossed(box));
    if (quarter) return take(words, quarter);
  }
  const onPatch = captionOn(patch, roomFor(short, height), height);
  return onPatch && ground.isUntaken(onPatch) ? take(short, onPatch) : undefined;
}

/** A quarter of the patch clear of its centre lines if the caption is small enough for it, else the middle; a room is a generous one. */
const captionOn = (patch: PatchEdges, width: number, height: number): Box | undefined =>
  [
    ...quartersOf(patch, width, height),
    ...[captionAbout(middleOf(patch.box), width, height)].filter((box) => fitsOn(patch, box)),
  ][0];

/** Places in the quarters of a patch, where the caption is small enough for one. */
function quartersOf(patch: PatchEdges, width: number, height: number): Box[] {
  const { left, right, bottom, top } = patch.box;
  const [x, y] = middleOf(patch.box);
  const [across, up] = [(right - left) / 4, (top - bottom) / 4];
  if (width >= 2 * across || height >= 2 * up) return [];
  return QUARTERS.map(([a, b]) => captionAbout([x + a * across, y + b * up], width, height)).filter((box) =>
    fitsOn(patch, box),
  );
}

const captionAbout = ([x, y]: Vec2, width: number, height: number): Box =>
  captionBox([x - width / 2, y - height / 2], width, height);

const fitsOn = (patch: PatchEdges, box: Box): boolean =>
  covers(patch, box) && holds(grown(patch.box, 0.1 * (box.right - box.left)), box);

/** Within the patch at a quarter of its height, right of its middle if it is there; no larger than the rest and than has room. */
function smallOn(patch: PatchEdges, words: string, height: number): PlacedCaption {
  const [x] = middleOf(patch.box);
  const quarter = (patch.box.top - patch.box.bottom) / 4;
  const y = patch.box.bottom + quarter;
  const widths = runsInPolygons([x, y], [1, 0], patch.polygons).map(
    ([from, to]) => [to > 0 ? Math.max(0, from) : from, to] as const,
  );
  const widest = Math.max(...widths.map(([from, to]) => to - from));
  const [from, to] = widths.find((run) => run[1] - run[0] === widest)!;
  const at = (own: number): Vec2 => [x + (from + to) / 2 - roomFor(words, own) / 2, y - own / 2];
  const fits = (own: number): boolean => {
    const box = captionBox(at(own), roomFor(words, own), own);
    return !patch.edges.some((edge) => runMeetsBox(edge, box));
  };
  let own = Math.min(height, (SMALL * widest) / roomFor(words, 1), SMALL * 2 * quarter);
  for (let tries = 0; tries < MOST_TRIES && !fits(own); tries++) own *= SMALLER;
  return { text: words, at: at(own), leader: undefined, height: own };
}

const QUARTERS = [
  [1, -1],
  [-1, -1],
  [1, 1],
  [-1, 1],
] as const;

/** Places in all directions, farther and farther out, each with its leader. */
function* reachable({ polygons, box: own }: PatchEdges, width: number, height: number, crowded: boolean) {
  const middle = middleOf(own);
  // First between level and upright, along which ordinates and centre lines run.
  for (const turn of crowded ? [0] : [0.5, 0]) {
    const rays = Array.from({ length: DIRECTIONS }, (_, k) => {
      const angle = (2 * Math.PI * (k + turn)) / DIRECTIONS;
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
}

export const captionBox = ([x, y]: Vec2, width: number, height: number): Box => ({
  left: x,
  bottom: y - 0.35 * height,
  right: x + width,
  top: y + 1.15 * height,
});

export const baselineOf = (box: Box): Vec2 => {
  const height = (box.top - box.bottom) / 1.5;
  return [box.left, box.bottom + 0.35 * height];
};

/** Boxes that touch a patch's own box with a small gap, the most natural to read first. */
export function besides(patch: Box, width: number, height: number): Box[] {
  const gap = 0.6 * height;
  const [x, y] = middleOf(patch);
  const tall = 1.5 * height;
  const at = (left: number, bottom: number): Box => ({
    left,
    bottom,
    right: left + width,
    top: bottom + tall,
  });
  const columns = [patch.left, patch.right - width, x + gap, x - gap - width];
  const rows = [patch.top - tall, patch.bottom, y + gap, y - gap - tall];
  return [
    ...columns.map((left) => at(left, patch.top + gap)),
    ...columns.map((left) => at(left, patch.bottom - gap - tall)),
    ...rows.map((bottom) => at(patch.right + gap, bottom)),
    ...rows.map((bottom) => at(patch.left - gap - width, bottom)),
    at(patch.right + gap, patch.top + gap),
    at(patch.left - gap - width, patch.top + gap),
    at(patch.right + gap, patch.bottom - gap - tall),
    at(patch.left - gap - width, patch.bottom - gap - tall),
  ];
}

/** The box of a caption that a leader from inside reaches at `knee`, its nearest side's middle toward the patch. */
export function boxBeyond([x, y]: Vec2, direction: Vec2, width: number, height: number): Box {
  const tall = 1.5 * height;
  const gap = 0.5 * height;
  const flat = Math.abs(direction[0]) > 0.3;
  const left = flat ? (direction[0] > 0 ? x + gap : x - gap - width) : x - width / 2;
  const bottom = flat ? y - tall / 2 : direction[1] > 0 ? y + gap : y - gap - tall;
  return { left, bottom, right: left + width, top: bottom + tall };
}

/** Where the ray from `middle` leaves the polygon for good; undefined where it never meets it. */
export function exitFrom(polygon: readonly Vec2[], middle: Vec2, direction: Vec2): Vec2 | undefined {
  let farthest = -1;
  let [px, py] = polygon.at(-1)!;
  let before = direction[0] * (py - middle[1]) - direction[1] * (px - middle[0]);
  for (const [x, y] of polygon) {
    const side = direction[0] * (y - middle[1]) - direction[1] * (x - middle[0]);
    if (side > 0 !== before > 0) {
      const share = before / (before - side);
      const [cx, cy] = [px + share * (x - px), py + share * (y - py)];
      farthest = Math.max(farthest, (cx - middle[0]) * direction[0] + (cy - middle[1]) * direction[1]);
    }
    [px, py, before] = [x, y, side];
  }
  if (farthest < 0) return undefined;
  return [middle[0] + farthest * direction[0], middle[1] + farthest * direction[1]];
}
