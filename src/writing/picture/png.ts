/**
 * Grey pictures as PNG (ISO/IEC 15948), 8 bits a pixel or 4 for small ones in a page. Compressed by a JavaScript of fixed behaviour, so that
 * the bytes are the same on any machine. Not written: resolution, time, colour profiles.
 */
import { encode } from 'fast-png';
import type { GreyPicture } from '../../metrology/fringe-picture.ts';

export const pngBytes = ({ width, height, grey }: GreyPicture): Uint8Array =>
  encode({ width, height, data: grey, channels: 1, depth: 8 }, { zlib: { level: 6 } });

/** The picture in sixteen greys, as a `data:` address for a page: so small that packing it would cost more time than room. */
export function pngAddress({ width, height, grey }: GreyPicture): string {
  const rowBytes = Math.ceil(width / 2);
  const packed = new Uint8Array(rowBytes * height);
  for (let row = 0; row < height; row++) {
    for (let column = 0; column < width; column++) {
      const level = Math.round((grey[row * width + column]! * 15) / 255);
      packed[row * rowBytes + (column >> 1)]! |= column % 2 === 0 ? level << 4 : level;
    }
  }
  const bytes = encode({ width, height, data: packed, channels: 1, depth: 4 }, { zlib: { level: 0 } });
  return `data:image/png;base64,${Buffer.from(bytes).toString('base64')}`;
}
