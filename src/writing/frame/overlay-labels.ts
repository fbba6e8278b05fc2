/** Colours of an overlay, told apart also without red and green on grey; and where the patches' numbers stand: beside the patch, in the picture. */
import type { OverlayMark, OverlayPatch } from './overlay-shapes.ts';

type Colour = readonly [red: number, green: number, blue: number];

/** Blue, orange, and a red toward purple; the dark fringes yellow, which neither bright nor dark ground swallows. */
export const COLOURS: Readonly<Record<OverlayMark | 'dark', Colour>> = {
  read: [86, 180, 255],
  unsure: [255, 160, 30],
  unread: [255, 70, 130],
  dark: [255, 230, 0],
};

export interface Placed {
  readonly patch: OverlayPatch;
  readonly left: number;
  readonly top: number;
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Right of its patch, left, above or below: the first place that is in the picture and clear of all else; in its middle where there is none. */
export function placedLabels(
  patches: readonly OverlayPatch[],
  width: number,
  height: number,
  sizeOf: (patch: OverlayPatch) => readonly [width: number, height: number],
): readonly Placed[] {
  const taken: Box[] = [];
  return patches.map((patch) => {
    const [w, h] = sizeOf(patch);
    const { left, right, top, bottom } = patch.box;
    const gap = h / 2;
    const [middle, centre] = [(left + right - w) / 2, (top + bottom - h) / 2];
    const at = (x: number, y: number): Box => ({ left: x, right: x + w, top: y, bottom: y + h });
    const inPicture = (box: Box): boolean =>
      box.left >= 0 && box.top >= 0 && box.right <= width && box.bottom <= height;
    const isClear = (box: Box): boolean =>
      [...patches.map((one) => one.box), ...taken].every((other) => !overlap(box, other));
    const place =
      [
        at(right + gap, centre),
        at(left - gap - w, centre),
        at(middle, top - gap - h),
        at(middle, bottom + gap),
      ].find((box) => inPicture(box) && isClear(box)) ??
      at(Math.min(Math.max(0, middle), width - w), Math.min(Math.max(0, centre), height - h));
    taken.push(place);
    return { patch, left: place.left, top: place.top };
  });
}

const overlap = (a: Box, b: Box): boolean =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
