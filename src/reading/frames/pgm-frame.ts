/** PGM, plain (P2) and raw (P5), 8 or 16 bits (big-endian), as Netpbm defines it: comments, any largest value to 65535. One picture a file. */
import {
  BadFrame,
  checkSize,
  type DecodedFrames,
  type FrameContext,
  refusePhaseUnit,
  truncated,
} from './frame-source.ts';
import { greyFrame, levelWords, scaledFrame } from './grey-levels.ts';

export const isPgm = ([p, kind, blank]: Uint8Array): boolean =>
  p === 0x50 && (kind === 0x32 || kind === 0x35) && (isBlank(blank) || blank === HASH);

const HASH = 0x23;
const isBlank = (byte: number | undefined): boolean =>
  byte === 0x20 || (byte !== undefined && byte >= 9 && byte <= 13);

export function pgmFrame(bytes: Uint8Array, context: FrameContext): DecodedFrames {
  refusePhaseUnit(context, 'PGM');
  let at = 2;
  const next = (): number => {
    for (;;) {
      while (isBlank(bytes[at])) at++;
      if (bytes[at] !== HASH) break;
      while (at < bytes.length && bytes[at] !== 10 && bytes[at] !== 13) at++;
    }
    if (at >= bytes.length) throw truncated('PGM');
    const start = at;
    let value = 0;
    while (at < bytes.length && !isBlank(bytes[at])) {
      const digit = bytes[at]! - 0x30;
      if (!(digit >= 0 && digit <= 9) || at - start > 9)
        throw new BadFrame('is a PGM with a field that is no whole number', 'save the frame again');
      value = 10 * value + digit;
      at++;
    }
    return value;
  };
  const [width, height, most] = [next(), next(), next()];
  checkSize(width, height);
  if (most < 1 || most > 65_535)
    throw new BadFrame(`is a PGM with the largest value ${most}; it is 1 to 65535`, 'save the frame again');
  const grey = new Uint16Array(width * height);
  if (bytes[1] === 0x32) for (let i = 0; i < grey.length; i++) grey[i] = next();
  else {
    // One blank after the largest value, then the pixels.
    at++;
    const size = most < 256 ? 1 : 2;
    if (bytes.length - at < grey.length * size) throw truncated('PGM');
    for (let i = 0; i < grey.length; i++)
      grey[i] = size === 1 ? bytes[at + i]! : 256 * bytes[at + 2 * i]! + bytes[at + 2 * i + 1]!;
  }
  for (let i = 0; i < grey.length; i++) {
    if (grey[i]! > most)
      throw new BadFrame(
        `is a PGM with the value ${grey[i]}, more than its largest of ${most}`,
        'save the frame again',
      );
  }
  // Where the largest value is that of 16 bits, the camera may have fewer.
  const frame = most === 65_535 ? greyFrame(width, height, grey, 16) : scaledFrame(width, height, grey, most);
  const bits = most < 256 ? 8 : 16;
  return { frames: [frame], form: `${bits}-bit PGM${most === 65_535 ? levelWords(frame, 16) : ''}` };
}
