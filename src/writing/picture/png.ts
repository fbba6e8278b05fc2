/**
 * Grey pictures as PNG (ISO/IEC 15948), 8 bits a pixel. Compressed by a JavaScript of fixed behaviour, so that the bytes are the same on
 * any machine. Not written: resolution, time, colour profiles.
 */
import { encode } from 'fast-png';
import type { GreyPicture } from '../../metrology/camera/fringe-picture.ts';

export const pngBytes = ({ width, height, grey }: GreyPicture): Uint8Array =>
  encode({ width, height, data: grey, channels: 1, depth: 8 }, { zlib: { level: 6 } });
