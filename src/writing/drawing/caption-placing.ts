/**
 * Where each patch's caption goes: beside its patch where there is room, else farther off with a leader line, else in a
 * column left of everything. Captions never meet each other; they stay off patches, centre lines and edges while any
 * place that does so is left. All choices are made in the order of the patches and are the same on every run.
 */
import { add2, type Vec2 } from '../../geometry/vector.ts';
import {
  boxesMeet,
  boxOf,
  grown,
  holds,
  middleOf,
  outlineMeetsBox,
  polygonMeetsBox,
  polygonMeetsSegment,
  segmentMeetsBox,
  segmentsCross,
} from './boxes.ts';
import type { Box } from './drawing.ts';
import { roomFor } from './lettering.ts';

export interface CaptionWish {
  readonly text: string;
  /** Polygon around the patch it belongs to. */
  readonly patch: readonly Vec2[];
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
/** Clear space around a caption, in text heights. */
const CLEAR = 0.35;

export function placeCaptions(
  wishes: readonly CaptionWish[],
  height: number,
  obstacles: Obstacles,
): PlacedCaption[] {
  const polygons = wishes.map(({ patch }) => ({ points: patch, box: boxOf(patch) }));
  const taken: Box[] = [...obstacles.boxes];
  const leaders: (readonly [Vec2, Vec2])[] = [];
  let row = 0;

  const isFree = (box: Box) => {
    const room = grown(box, CLEAR * height);
    return (
      holds(obstacles.area, room) &&
      !taken.some((other) => boxesMeet(other, room)) &&
      !polygons.some((p) => boxesMeet(p.box, room) && polygonMeetsBox(p.points, room)) &&
      !obstacles.edges.some((edge) => outlineMeetsBox(edge, room)) &&
      !obstacles.lines.some(([a, b]) => segmentMeetsBox(a, b, room)) &&
      !leaders.some(([a, b]) => segmentMeetsBox(a, b, room))
    );
  };
  const isClear = ([from, to]: readonly [Vec2, Vec2], own: number) =>
    !polygons.some(
      (p, k) => k !== own && segmentMeetsBox(from, to, p.box) && polygonMeetsSegment(p.points, from, to),
    ) &&
    !taken.some((box) => segmentMeetsBox(from, to, box)) &&
    !leaders.some(([a, b]) => segmentsCross(a, b, from, to));

  return wishes.map(({ text }, own) => {
    const { points, box: patch } = polygons[own]!;
    const width = roomFor(text, height);
    const place = (at: Vec2, leader: readonly [Vec2, Vec2] | undefined): PlacedCaption => {
      taken.push(captionBox(at, width, height));
      if (leader) leaders.push(leader);
      return { text, at, leader };
    };
    for (const box of besides(patch, width, height)) {
      if (isFree(box)) return place(baseline(box), undefined);
    }
    const middle = middleOf(patch);
    for (const step of STEPS) {
      for (let k = 0; k < DIRECTIONS; k++) {
        const angle = (2 * Math.PI * k) / DIRECTIONS;
        const direction: Vec2 = [Math.cos(angle), Math.sin(angle)];
        const start = exitFrom(points, middle, direction);
        const knee = add2(start, [direction[0] * step * height, direction[1] * step * height]);
        const box = boxBeyond(knee, direction, width, height);
        if (isFree(box) && isClear([knee, start], own)) return place(baseline(box), [knee, start]);
      }
    }
    const at: Vec2 = [obstacles.area.left - width - height, obstacles.area.top - height * (1 + 2 * row++)];
    const knee: Vec2 = [at[0] + width + height * CLEAR, at[1] + height / 2];
    return place(at, [knee, middle]);
  });
}

const captionBox = ([x, y]: Vec2, width: number, height: number): Box => ({
  left: x,
  bottom: y - 0.35 * height,
  right: x + width,
  top: y + 1.15 * height,
});

const baseline = (box: Box): Vec2 => {
  const height = (box.top - box.bottom) / 1.5;
  return [box.left, box.bottom + 0.35 * height];
};

/** Boxes that touch a patch's own box with a small gap, the most natural to read first. */
function besides(patch: Box, width: number, height: number): Box[] {
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
function boxBeyond([x, y]: Vec2, direction: Vec2, width: number, height: number): Box {
  const tall = 1.5 * height;
  const gap = 0.5 * height;
  const flat = Math.abs(direction[0]) > 0.3;
  const left = flat ? (direction[0] > 0 ? x + gap : x - gap - width) : x - width / 2;
  const bottom = flat ? y - tall / 2 : direction[1] > 0 ? y + gap : y - gap - tall;
  return { left, bottom, right: left + width, top: bottom + tall };
}

/** Where the ray from `middle` leaves the polygon for good; `middle` itself where it never meets it. */
function exitFrom(polygon: readonly Vec2[], middle: Vec2, direction: Vec2): Vec2 {
  let farthest = 0;
  for (const [index, a] of polygon.entries()) {
    const b = polygon[(index + 1) % polygon.length]!;
    const edge: Vec2 = [b[0] - a[0], b[1] - a[1]];
    const denominator = direction[0] * edge[1] - direction[1] * edge[0];
    if (denominator === 0) continue;
    const toA: Vec2 = [a[0] - middle[0], a[1] - middle[1]];
    const t = (toA[0] * edge[1] - toA[1] * edge[0]) / denominator;
    const u = (toA[0] * direction[1] - toA[1] * direction[0]) / denominator;
    if (u >= 0 && u <= 1) farthest = Math.max(farthest, t);
  }
  return [middle[0] + farthest * direction[0], middle[1] + farthest * direction[1]];
}
