/**
 * Captions that found no place near their patches: in columns left and right of everything, each on its patch's side and
 * in the order of their patches' heights, so that the leaders hardly cross. mm; heights are those of capitals.
 */
import type { Vec2 } from '../../geometry/vector.ts';
import type { PlacedCaption } from './caption-placing.ts';
import type { Box } from './drawing.ts';
import { roomFor } from './lettering.ts';

export interface FarWish {
  readonly text: string;
  /** Middle of its patch. */
  readonly middle: Vec2;
}

/** In text heights: base line to base line, between columns and from the area, from a caption to its leader. */
const ROW = 2;
const BETWEEN = 2;
const BEFORE_LEADER = 0.35;

/** Outside `area`, which holds everything else; in the order of the wishes. */
export function farCaptions(wishes: readonly FarWish[], height: number, area: Box): PlacedCaption[] {
  const centre = (area.left + area.right) / 2;
  const middleHeight = (area.top + area.bottom) / 2;
  const rows = Math.max(1, Math.floor((area.top - area.bottom) / (ROW * height)));
  const pitch = Math.max(...wishes.map(({ text }) => roomFor(text, height)), 0) + BETWEEN * height;
  const order = wishes.map((_, k) => k).sort((a, b) => wishes[b]!.middle[1] - wishes[a]!.middle[1] || a - b);
  const placed = new Map<number, PlacedCaption>();
  for (const side of [-1, 1] as const) {
    const own = order.filter((k) => wishes[k]!.middle[0] < centre === (side === -1));
    own.forEach((k, index) => {
      const { text, middle } = wishes[k]!;
      const columns = Math.ceil(own.length / rows);
      const inColumn = Math.ceil(own.length / columns);
      const column = index % columns;
      const y = middleHeight + ((inColumn - 1) / 2 - Math.floor(index / columns)) * ROW * height;
      const width = roomFor(text, height);
      const near = (side === -1 ? area.left : area.right) + side * (BETWEEN * height + column * pitch);
      const knee: Vec2 = [near - side * BEFORE_LEADER * height, y + height / 2];
      placed.set(k, { text, at: [side === -1 ? near - width : near, y], leader: [knee, middle] });
    });
  }
  return wishes.map((_, k) => placed.get(k)!);
}
