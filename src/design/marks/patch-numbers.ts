/** A place for a patch's number: right beside the patch, and nearer to it than to any other. mm. */
import { gapBetween } from '../../geometry/clearance.ts';
import { boundsOf } from '../../geometry/extent.ts';
import type { RectangleOutline } from '../../geometry/outline.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { type Design, patternsOf } from '../design.ts';
import type { Pattern } from '../pattern.ts';
import type { MarkForm } from './mark-forms.ts';
import { boxAt, MARK_GAP, onGrid, type Room } from './room.ts';

/** From the patch, beyond the clearance, in heights of the letters; and how far it may be at the most. */
const APART = 0.5;
const FARTHEST = 3;

/** The first of the forms that finds a place. */
export function besidePatch(
  design: Design,
  patch: Pattern,
  forms: readonly MarkForm[],
  room: Room,
): { readonly form: MarkForm; readonly at: Vec2 } | undefined {
  const clearance = Math.max(design.scenario.substrate.clearance, MARK_GAP);
  const others = patternsOf(design)
    .map(({ pattern }) => pattern)
    .filter((other) => other !== patch);
  for (const form of forms) {
    const farthest = clearance + FARTHEST * form.height;
    const isBeside = (box: RectangleOutline): boolean => {
      const { gap } = gapBetween(patch.outline, box);
      return gap <= farthest && others.every((other) => gapBetween(other.outline, box).gap > gap);
    };
    for (const at of round(patch, form, clearance + APART * form.height)) {
      const box = boxAt(at, form);
      if (room.isFree(box) && isBeside(box)) return { form, at };
    }
    const { minX, maxX, minY, maxY } = boundsOf(patch.outline);
    const reach = Math.hypot(maxX - minX, maxY - minY) / 2 + farthest + form.width;
    const middle: Vec2 = [(minX + maxX) / 2, (minY + maxY) / 2];
    const at = room.nearest(form, middle, isBeside, reach);
    if (at !== undefined) return { form, at };
  }
  return undefined;
}

/** Below, above, right and left of the box around the patch, in the middle of its sides and then at their ends. */
function round({ outline }: Pattern, { width, height }: MarkForm, gap: number): readonly Vec2[] {
  const { minX, maxX, minY, maxY } = boundsOf(outline);
  const [x, y] = [(minX + maxX) / 2, (minY + maxY) / 2];
  const [left, right] = [minX - gap - width / 2, maxX + gap + width / 2];
  const [below, above] = [minY - gap - height / 2, maxY + gap + height / 2];
  const places: readonly Vec2[] = [
    ...([
      [x, below],
      [x, above],
      [right, y],
      [left, y],
    ] as const),
    ...([
      [minX, below],
      [maxX, below],
      [minX, above],
      [maxX, above],
    ] as const),
    ...([
      [right, minY],
      [right, maxY],
      [left, minY],
      [left, maxY],
    ] as const),
  ];
  return places.map(([u, v]): Vec2 => [onGrid(u), onGrid(v)]);
}
