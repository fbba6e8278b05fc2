/// <reference lib="dom" />
/** A frame as it was taken, with the outlines where the patches were looked for: full lines where a patch was read, broken elsewhere. */
import { boundaryOf } from '../geometry/boundary.ts';
import { pointAlong } from '../geometry/piece.ts';
import type { FrameReading } from '../metrology/frame/frame-reading.ts';
import type { CameraFrame } from '../scenario/camera-frame.ts';
import { isSure } from '../writing/frame/fault-words.ts';
import { h } from './dom.ts';

/** Of a side or an arc. */
const POINTS = 48;

export function shownFrame(
  { width, height, values, holds }: CameraFrame,
  { map, patches }: FrameReading,
): HTMLElement {
  const read = patches.filter(isSure).length;
  const words = `the frame, ${read} of ${patches.length} patches read`;
  const canvas = h('canvas', { width, height, role: 'img', 'aria-label': words });
  const context = canvas.getContext('2d')!;
  const pixels = new ImageData(width, height);
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    // A phase is shown within its wave.
    const grey = 255 * (holds === 'phase' ? value - Math.floor(value) : value);
    pixels.data.fill(Number.isNaN(grey) ? 0 : grey, 4 * i, 4 * i + 3);
    pixels.data[4 * i + 3] = 255;
  }
  context.putImageData(pixels, 0, 0);
  context.lineWidth = Math.max(1, width / 500);
  for (const reading of patches) {
    const sure = isSure(reading);
    context.strokeStyle = sure ? '#3fd07a' : '#ffb020';
    context.setLineDash(sure ? [] : [4 * context.lineWidth, 3 * context.lineWidth]);
    context.beginPath();
    for (const loop of boundaryOf(reading.patch.outline)) {
      for (const [k, point] of loop.flatMap(pointsOf).entries()) {
        const [column, row] = map.toPixel(point);
        if (k === 0) context.moveTo(column + 0.5, row + 0.5);
        else context.lineTo(column + 0.5, row + 0.5);
      }
      context.closePath();
    }
    context.stroke();
  }
  return h(
    'figure',
    { class: 'frame' },
    canvas,
    h('figcaption', {}, `Full lines: read; broken lines: not given to steer. ${words}.`),
  );
}

const pointsOf = (piece: Parameters<typeof pointAlong>[0]) =>
  Array.from({ length: POINTS }, (_, k) => pointAlong(piece, k / POINTS));
