/** The frame with what was fitted drawn over it: a PNG with as many pixels as the frame or more, or an SVG over the frame. */
import type { Design } from '../../design/design.ts';
import type { CameraFrame } from '../../scenario/camera-frame.ts';
import type { ReadPicture } from './frame-report.ts';
import { overlayPixels } from './overlay-pixels.ts';
import { overlayPatches } from './overlay-shapes.ts';
import { overlaySvg } from './overlay-svg.ts';

const MARK = 'overlay written by datumlight read';

/** By its whole text, a PNG's too. */
export const isOverlay = (text: string): boolean => text.includes(MARK);

/** By the end of the file's name, `.png` or `.svg`. */
export async function overlayFile(
  design: Design,
  picture: ReadPicture,
  file: string,
): Promise<string | Uint8Array> {
  const frame = picture.taken[0]!.frames[0]!;
  const patches = overlayPatches(design, picture);
  const { encode } = await import('fast-png');
  const grey = greyOf(frame);
  if (/\.svg$/i.test(file)) {
    const { width, height } = frame;
    const png = encode({ width, height, data: grey, channels: 1, depth: 8 }, { zlib: { level: 6 } });
    return overlaySvg(frame, png, patches, MARK);
  }
  const { width, height, data } = overlayPixels(frame, grey, patches);
  return encode(
    { width, height, data, channels: 3, depth: 8, text: { Comment: MARK } },
    { zlib: { level: 6 } },
  );
}

/** As it is; of a phase map the fringes that it would show, black where it has no value. */
function greyOf({ values, holds }: CameraFrame): Uint8Array {
  const grey = new Uint8Array(values.length);
  for (let i = 0; i < grey.length; i++) {
    const value = holds === 'phase' ? (1 + Math.cos(2 * Math.PI * values[i]!)) / 2 : values[i]!;
    grey[i] = Number.isNaN(value) ? 0 : Math.round(255 * value);
  }
  return grey;
}
