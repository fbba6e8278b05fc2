/**
 * Captions that found no place near their patches: in columns left and right of everything, each on its patch's side and
 * in the order of their patches' heights, so that the leaders hardly cross. mm; heights are those of capitals.
 */
import type { Vec2 } from '../../../geometry/vector.ts';
import { middleOf, runMeetsBox, runOf } from '../boxes.ts';
import type { Box } from '../drawing.ts';
import { roomFor } from '../lettering.ts';
import { covers, type PatchEdges } from './caption-ground.ts';
import type { PlacedCaption } from './caption-placing.ts';

interface FarWish {
  readonly text: string;
  readonly patch: PatchEdges;
}

/** In text heights: base line to base line, between columns and from the area, from a caption to its leader. */
const ROW = 2;
const BETWEEN = 2;
const BEFORE_LEADER = 0.35;

/** Rows by which a column is moved up or down where that lets fewer leaders run over other texts. */
const SHIFTS = [0, 1, -1, 2, -2, 3, -3, 4, -4, 5, -5, 6, -6];

/** Outside `area`, which holds everything else; leaders keep off `boxes` where they can. In the order of the wishes. */
export function farCaptions(
  wishes: readonly FarWish[],
  height: number,
  area: Box,
  boxes: readonly Box[],
): PlacedCaption[] {
  const centre = (area.left + area.right) / 2;
  const middles = wishes.map(({ patch }) => middleOf(patch.box));
  const order = wishes.map((_, k) => k).sort((a, b) => middles[b]![1] - middles[a]![1] || a - b);
  const placed = new Map<number, PlacedCaption>();
  for (const side of [-1, 1] as const) {
    const own = order.filter((k) => middles[k]![0] < centre === (side === -1));
    const ownWishes = own.map((k) => wishes[k]!);
    const columns = SHIFTS.map((shift) => sideColumns(ownWishes, side, shift, height, area));
    const crossings = columns.map((captions) => crossed(captions, boxes));
    const best = columns[crossings.indexOf(Math.min(...crossings))]!;
    own.forEach((k, index) => {
      placed.set(k, best[index]!);
    });
  }
  return wishes.map((_, k) => placed.get(k)!);
}

function sideColumns(
  own: readonly FarWish[],
  side: 1 | -1,
  shift: number,
  height: number,
  area: Box,
): PlacedCaption[] {
  const rows = Math.max(1, Math.floor((area.top - area.bottom) / (ROW * height)));
  const pitch = Math.max(...own.map(({ text }) => roomFor(text, height)), 0) + BETWEEN * height;
  const columns = Math.ceil(own.length / rows);
  const inColumn = Math.ceil(own.length / columns);
  const top = (area.top + area.bottom) / 2 + ((inColumn - 1) / 2 + shift) * ROW * height;
  return own.map(({ text, patch }, index) => {
    const y = top - Math.floor(index / columns) * ROW * height;
    const width = roomFor(text, height);
    const near =
      (side === -1 ? area.left : area.right) + side * (BETWEEN * height + (index % columns) * pitch);
    const knee: Vec2 = [near - side * BEFORE_LEADER * height, y + height / 2];
    // In the middle of its patch, or where a hole is there, at the nearest corner of the edge.
    const end = covers(patch, patch.box) ? middleOf(patch.box) : nearestTo(knee, patch.polygons[0]!);
    return { text, at: [side === -1 ? near - width : near, y], leader: [knee, end], height };
  });
}

const crossed = (captions: readonly PlacedCaption[], boxes: readonly Box[]): number =>
  captions.reduce(
    (sum, { leader }) => sum + boxes.filter((box) => runMeetsBox(runOf(...leader!), box)).length,
    0,
  );

function nearestTo([x, y]: Vec2, points: readonly Vec2[]): Vec2 {
  const distances = points.map(([px, py]) => (px - x) ** 2 + (py - y) ** 2);
  return points[distances.indexOf(Math.min(...distances))]!;
}
