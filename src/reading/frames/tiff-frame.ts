/**
 * TIFF 6.0 to frames, one a page: grey or colour of 8 or 16 bits, fractional numbers of 32 or 64; plain, LZW or deflate. Fractional numbers
 * are what `--unit` says. Small copies of a page, as cameras add them, are left out.
 */
import type { TiffIfd } from 'tiff';
import type { CameraFrame } from '../../scenario/camera-frame.ts';
import { fractionFrame } from './fraction-frame.ts';
import {
  BadFrame,
  checkSize,
  type DecodedFrames,
  type FrameContext,
  MOST_PAGES,
  refusePhaseUnit,
  truncated,
} from './frame-source.ts';
import { greyFrame, levelWords } from './grey-levels.ts';

export const isTiff = ([a, b, c, d]: Uint8Array): boolean =>
  (a === 0x49 && b === 0x49 && c === 42 && d === 0) || (a === 0x4d && b === 0x4d && c === 0 && d === 42);

const TAG = { subfile: 254, planar: 284 } as const;
/** Of `sampleFormat`. */
const [UNSIGNED, SIGNED, FRACTION] = [1, 2, 3];

export async function tiffFrames(bytes: Uint8Array, context: FrameContext): Promise<DecodedFrames> {
  checkPages(bytes);
  const { decode } = await import('tiff');
  const tried = (ignoreImageData: boolean): TiffIfd[] => {
    try {
      return decode(bytes, { ignoreImageData });
    } catch (error) {
      const said = (error as Error).message;
      throw new BadFrame(
        `is a TIFF that is damaged, truncated or of a form that is not read (${said})`,
        'save it as grey of 8 or 16 bits, uncompressed',
      );
    }
  };
  // Sizes first: no memory is taken for an absurd one.
  const heads = tried(true);
  let pixels = 0;
  for (const { width, height } of heads) {
    checkSize(width, height);
    pixels += width * height;
  }
  checkSize(pixels, 1);
  for (const head of heads) checkForm(head);
  const pages = tried(false).filter((page) => (Number(page.get(TAG.subfile) ?? 0) & 1) === 0);
  if (pages.length === 0) throw new BadFrame('is a TIFF without a picture', 'save the frame again');
  const frames = pages.map((page) => pageFrame(page, context));
  const { bitsPerSample, samplesPerPixel } = pages[0]!;
  const kind = frames[0]!.levels === undefined ? 'fractional' : samplesPerPixel < 3 ? '' : 'colour';
  const form = `${bitsPerSample}-bit ${kind === '' ? '' : `${kind} `}TIFF${levelWords(frames[0]!, bitsPerSample)}`;
  return { frames, form: frames.length === 1 ? form : `${form}, ${frames.length} pages` };
}

/** Pages follow each other by address: a loop of them would never end. */
function checkPages(bytes: Uint8Array): void {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const little = bytes[0] === 0x49;
  const seen = new Set<number>();
  try {
    for (let at = view.getUint32(4, little); at !== 0; ) {
      if (seen.has(at)) throw new BadFrame('is a TIFF whose pages go in a circle', 'save the frame again');
      if (seen.size === MOST_PAGES) {
        throw new BadFrame(
          `is a TIFF of more than ${MOST_PAGES} pages`,
          'save the frames that are to be read',
          {
            rule: 'too-many',
          },
        );
      }
      seen.add(at);
      at = view.getUint32(at + 2 + 12 * view.getUint16(at, little), little);
    }
  } catch (error) {
    if (error instanceof RangeError) throw truncated('TIFF');
    throw error;
  }
}

function checkForm(page: TiffIfd): void {
  const { bitsPerSample, samplesPerPixel, sampleFormat, tiled } = page;
  const refuse = (what: string): never => {
    throw new BadFrame(
      `is a TIFF with ${what}, which is not read`,
      'save it as grey of 8 or 16 bits, uncompressed',
    );
  };
  const isWhole = sampleFormat === UNSIGNED && (bitsPerSample === 8 || bitsPerSample === 16);
  const isFraction = sampleFormat === FRACTION && (bitsPerSample === 32 || bitsPerSample === 64);
  const kind = sampleFormat === SIGNED ? 'signed ' : '';
  if (!isWhole && !isFraction) refuse(`${kind}samples of ${bitsPerSample} bits`);
  if (samplesPerPixel > 1 && (page.get(TAG.planar) === 2 || tiled)) refuse('colours in planes or tiles');
  if (samplesPerPixel > 1 && isFraction) refuse('several fractional numbers a pixel');
}

function pageFrame(page: TiffIfd, context: FrameContext): CameraFrame {
  const { width, height, bitsPerSample, data, palette } = page;
  const samples = width * height * page.samplesPerPixel;
  if (data === undefined || data.length < samples) throw truncated('TIFF');
  if (page.sampleFormat === FRACTION) return fractionFrame(width, height, data, context, 'TIFF');
  refusePhaseUnit(context, 'TIFF');
  if (palette === undefined) return greyFrame(width, height, data, bitsPerSample, page.samplesPerPixel);
  // 16 bits a colour, whatever the samples have.
  const colours = new Uint16Array(width * height * 3);
  for (let i = 0; i < width * height; i++) colours.set(palette[data[i]!] ?? [0, 0, 0], 3 * i);
  return greyFrame(width, height, colours, 16, 3);
}
