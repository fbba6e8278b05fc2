/** What the readers of frames share: what they give, how large a frame may be, and how they say that a file is of no use. */
import type { Code } from '../../finding/codes.ts';
import type { CameraFrame } from '../../scenario/camera-frame.ts';

/** What a file's numbers are: `intensity` as fractions of full scale, or a phase of the return, nm being optical path. */
export const FRAME_UNITS = ['intensity', 'waves', 'rad', 'nm'] as const;
export type FrameUnit = (typeof FRAME_UNITS)[number];

/** What is known beside the file. */
export interface FrameContext {
  /** As the user gave it. */
  readonly unit?: FrameUnit | undefined;
  /** Of the light, nm. */
  readonly wavelength: number;
}

export interface DecodedFrames {
  /** More than one: pages of a TIFF, or the first index of an array. */
  readonly frames: readonly CameraFrame[];
  /** What the file was taken for, in words: `16-bit PNG, grey levels of 12 bits`. */
  readonly form: string;
}

/** More is no camera's; the square of 8192. */
const MOST_PIXELS = 1 << 26;
/** In one file; phase stepping takes 3 to 15. */
export const MOST_PAGES = 64;

/** A file that is no frame. Caught by read-frame.ts, which makes a finding of it. */
export class BadFrame extends Error {
  readonly rule: Code;
  readonly hint: string;
  /** Of a text, from 1. */
  readonly line: number | undefined;
  /** What is to be changed is the option. */
  readonly option: '--unit' | undefined;
  constructor(
    message: string,
    hint: string,
    { rule, line, option }: { readonly rule?: Code; readonly line?: number; readonly option?: '--unit' } = {},
  ) {
    super(message);
    this.rule = rule ?? 'bad-frame';
    this.option = option;
    this.hint = hint;
    this.line = line;
  }
}

/** Refused before memory is taken for it. */
export function checkSize(width: number, height: number, pages = 1): void {
  if (![width, height, pages].every(Number.isInteger))
    throw new BadFrame('does not say how many pixels it has', 'save the frame again');
  if (!(width >= 1 && height >= 1 && pages >= 1))
    throw new BadFrame(`is a frame of ${width} × ${height} pixels`, 'save the frame again');
  if (width * height * pages > MOST_PIXELS) {
    const count = pages === 1 ? '' : `${pages} frames of `;
    throw new BadFrame(
      `has ${count}${width} × ${height} pixels, more than the limit of ${MOST_PIXELS}`,
      'crop the frame, or bin its pixels',
      { rule: 'file-too-large' },
    );
  }
}

export const truncated = (what: string): BadFrame =>
  new BadFrame(`is a ${what} that ends too soon`, 'save or copy the file again');

/** Pictures hold grey levels. */
export function refusePhaseUnit({ unit }: FrameContext, what: string): void {
  if (unit === undefined || unit === 'intensity') return;
  throw new BadFrame(
    `is a ${what} of whole grey levels, and \`--unit ${unit}\` says that it is a phase map`,
    'give the phase map as an .npy or CSV grid, or as a TIFF of fractional numbers; or leave --unit out',
    { rule: 'conflicting-keys', option: '--unit' },
  );
}
