/** PNG (ISO/IEC 15948) of 8 or 16 bits to a frame; fewer bits and palettes too. Colours are taken for their luminance, opacity is left out. */
import type { DecodedPng } from 'fast-png';
import {
  BadFrame,
  checkSize,
  type DecodedFrames,
  type FrameContext,
  refusePhaseUnit,
  truncated,
} from './frame-source.ts';
import { greyFrame, levelWords, scaledFrame } from './grey-levels.ts';

const SIGNATURE = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
export const isPng = (bytes: Uint8Array): boolean => SIGNATURE.every((byte, k) => bytes[k] === byte);

/** Signature, length and type of the first chunk, its width and height. */
const HEAD = 24;

export async function pngFrame(bytes: Uint8Array, context: FrameContext): Promise<DecodedFrames> {
  if (bytes.length < HEAD) throw truncated('PNG');
  refusePhaseUnit(context, 'PNG');
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  checkSize(view.getUint32(16), view.getUint32(20));
  // Larger than the rest of the reading together: loaded where there is a PNG.
  const { decode, convertIndexedToRgb } = await import('fast-png');
  let png: DecodedPng;
  try {
    png = decode(bytes, { checkCrc: true });
  } catch (error) {
    throw new BadFrame(
      `is a damaged or truncated PNG (${(error as Error).message})`,
      'save or copy the file again',
    );
  }
  const { width, height, depth } = png;
  const indexed = png.palette !== undefined;
  if (!indexed && depth < 8) return fewBits(png);
  const samples = indexed ? convertIndexedToRgb(png) : png.data;
  const channels = indexed ? samples.length / (width * height) : png.channels;
  if (samples.length < width * height * channels || !Number.isInteger(channels)) throw truncated('PNG');
  const bits = indexed ? 8 : depth;
  const frame = greyFrame(width, height, samples, bits, channels);
  return {
    frames: [frame],
    form: `${depth}-bit ${channels < 3 ? '' : 'colour '}PNG${levelWords(frame, bits)}`,
  };
}

/** Grey of 1, 2 or 4 bits: rows of whole bytes, the first pixel in the high bits. */
function fewBits({ width, height, depth, data }: DecodedPng): DecodedFrames {
  const perByte = 8 / depth;
  const stride = Math.ceil(width / perByte);
  if (data.length < stride * height) throw truncated('PNG');
  const grey = new Uint8Array(width * height);
  for (let i = 0; i < grey.length; i++) {
    const column = i % width;
    const byte = data[Math.floor(i / width) * stride + Math.floor(column / perByte)]!;
    grey[i] = (byte >> (8 - depth * ((column % perByte) + 1))) & (2 ** depth - 1);
  }
  return { frames: [scaledFrame(width, height, grey, 2 ** depth - 1)], form: `${depth}-bit PNG` };
}
