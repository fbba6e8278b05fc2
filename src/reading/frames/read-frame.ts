/** A file of a camera or of a phase measurement to frames, known by its content: PNG, TIFF, PGM, `.npy`, or a grid of numbers as text. */
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { BadFrame, type DecodedFrames, type FrameContext } from './frame-source.ts';
import { gridFrame } from './grid-frame.ts';
import { isNpy, npyFrames } from './npy-frame.ts';
import { isPgm, pgmFrame } from './pgm-frame.ts';
import { isPng, pngFrame } from './png-frame.ts';
import { isTiff, tiffFrames } from './tiff-frame.ts';

export type ReadFrame = DecodedFrames | { readonly finding: Finding };

export async function readFrame(bytes: Uint8Array, file: string, context: FrameContext): Promise<ReadFrame> {
  try {
    return await decoded(bytes, context);
  } catch (error) {
    if (!(error instanceof BadFrame)) throw error;
    const { line, message, hint, rule, option } = error;
    if (option !== undefined) return { finding: errorFinding(rule, option, `${file} ${message}`, hint) };
    const place = line === undefined ? undefined : { file, line, column: 1, endLine: line, endColumn: 1 };
    return { finding: errorFinding(rule, file, message, hint, place) };
  }
}

function decoded(bytes: Uint8Array, context: FrameContext): DecodedFrames | Promise<DecodedFrames> {
  if (bytes.length === 0) throw new BadFrame('is empty', 'save the frame again');
  if (isPng(bytes)) return pngFrame(bytes, context);
  if (isTiff(bytes)) return tiffFrames(bytes, context);
  if (isNpy(bytes)) return npyFrames(bytes, context);
  if (isPgm(bytes)) return pgmFrame(bytes, context);
  for (const { is, name } of OTHERS)
    if (is(bytes)) throw new BadFrame(`is ${name}, which is not read`, 'save the frame as PNG or TIFF');
  return gridFrame(textOf(bytes), context);
}

const startsWith =
  (...start: readonly number[]) =>
  (bytes: Uint8Array): boolean =>
    start.every((byte, k) => bytes[k] === byte);

/** What is often at hand, told by name. */
const OTHERS = [
  { is: startsWith(0xff, 0xd8, 0xff), name: 'a JPEG, whose compression alters fringes' },
  { is: startsWith(0x42, 0x4d), name: 'a BMP' },
  { is: startsWith(0x47, 0x49, 0x46), name: 'a GIF' },
  { is: startsWith(0x50, 0x4b, 3, 4), name: 'a zip archive (such as .npz)' },
  { is: startsWith(0x89, 0x48, 0x44, 0x46), name: 'an HDF5 file' },
  { is: startsWith(0x53, 0x49, 0x4d, 0x50, 0x4c, 0x45), name: 'a FITS file' },
  { is: startsWith(0x49, 0x49, 43, 0), name: 'a BigTIFF' },
  { is: startsWith(0x4d, 0x4d, 0, 43), name: 'a BigTIFF' },
  { is: startsWith(0x50, 0x36), name: 'a PPM' },
] as const;

function textOf(bytes: Uint8Array): string {
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    if (!text.includes('\0')) return text;
  } catch {
    // Said below.
  }
  throw new BadFrame(
    'is no frame: neither a PNG, TIFF, PGM or .npy file, nor a grid of numbers',
    'give a frame in one of these forms',
  );
}
