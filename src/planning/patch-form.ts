/**
 * The forms that a planned patch may take: a round one for a point focus, for a line focus a rectangle along its line. Sizes are
 * its diameter, or its width across the line, which is what resolves; either way it is as wide as diffraction and the camera ask for,
 * and along the line no less than a third of its width. mm, radians.
 */
import type { Design } from '../design/design.ts';
import type { Outline } from '../geometry/outline.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { kindOf } from '../kinds/kinds.ts';
import { pixelPitch } from '../metrology/sensing/camera-pixels.ts';
import { LEAST_PIXELS } from '../rules/undersampled.ts';
import type { SizeRange } from '../scenario/open-places.ts';
import type { BiasWish, Patch, Reference } from '../scenario/scenario.ts';

/** Sizes of one patch, rising, and how long along its line each is. */
export interface Forms {
  readonly sizes: readonly number[];
  readonly lengthOf: (size: number) => number;
  /** What the least size is set by, in words. */
  readonly leastBy: string;
}

/** Each size over the one before: five steps make a patch three times as wide. */
const STEP = 1.25;
/** Sizes are given to this, mm. */
export const SIZE_GRAIN = 0.1;
/** Largest patch where the file sets no limit, mm: reads to 10 µm at 10 m, and no bench asks for more. */
const LARGEST = 25;
/** Over the least that a rule asks for, for what a slanted view takes off. */
const SPARE = 1.05;
/**
 * Rectangles are no more drawn out than this either way, unless `slivers` are allowed: across a thinner strip the camera shows few fringes
 * to count and the mask shop's placement error is a larger fraction. Common practice, no source.
 */
const MOST_DRAWN_OUT = 3;

const up = (size: number): number =>
  Math.round(Math.ceil(size / SIZE_GRAIN - 1e-9)) / Math.round(1 / SIZE_GRAIN);

/**
 * `distance` is what the light spreads over; `slant` is the cosine between the chief ray and the glass's normal: 1 seen squarely.
 * `slivers`: whether strips may be wider than a short cube's line, or longer for their roof, than MOST_DRAWN_OUT has it.
 */
export function formsOf(
  design: Design,
  reference: Reference,
  focus: Patch['focus'],
  distance: number,
  slant: number,
  range: SizeRange | undefined,
  bias: BiasWish | undefined,
  slivers = false,
): Forms {
  const byPixels = LEAST_PIXELS * pixelPitch(design) * 1.001;
  const { wavelength } = design.light;
  const { planning } = kindOf(reference);
  const [byDiffraction, byRoof, longest] =
    planning.by === 'patches'
      ? [
          planning.leastWidth(reference, focus, distance, wavelength) / slant,
          planning.roofShifts ? leastByRoof(distance, wavelength, bias) : 0,
          planning.longestLine(reference),
        ]
      : [0, 0, undefined];
  const least = Math.max(byPixels, byDiffraction * SPARE);
  const lineLeast = Math.max(least, byRoof);
  const cap = longest === undefined ? Infinity : Math.max(lineLeast, longest);
  const leastBy = least > byPixels ? 'diffraction-blur' : 'undersampled';
  const drawnOut = slivers || focus !== 'line' ? Infinity : MOST_DRAWN_OUT;
  const from = up(Math.max(least, lineLeast / drawnOut, range?.least ?? 0));
  const most = Math.min(range?.most ?? Math.max(LARGEST, from), Math.max(from, up(cap) * drawnOut));
  const sizes: number[] = [];
  for (let size = from; size <= most + 1e-9; size = up(size * STEP)) sizes.push(size);
  const last = Math.floor(most / SIZE_GRAIN + 1e-9) / Math.round(1 / SIZE_GRAIN);
  if (sizes.length > 0 && last > sizes.at(-1)!) sizes.push(last);
  return {
    sizes,
    leastBy,
    lengthOf: (size) => up(Math.min(cap, Math.max(lineLeast, size / MOST_DRAWN_OUT))),
  };
}

/**
 * The length along the line at which a roof throws no more than its share beside the patch: each half's light comes back 4sλN/L²
 * of the length L off, by the slope λN/L of a roof of N fringes.
 */
const leastByRoof = (distance: number, wavelength: number, bias: BiasWish | undefined): number =>
  bias?.shape === 'roof' ? Math.sqrt((4 * distance * wavelength * bias.fringes) / LOST_BY_ROOF) : 0;

/** Of the light of a patch; the cube's edges take a tenth and more of it, and a fifth may be lost at all. */
const LOST_BY_ROOF = 0.05;

/** The outline of a form about a centre; `angle` is its line's. */
export function outlineOf(
  focus: Patch['focus'],
  centre: Vec2,
  size: number,
  length: number,
  angle: number,
): Outline {
  if (focus !== 'line') return { shape: 'circle', centre, radius: size / 2 };
  return { shape: 'rectangle', centre, width: length, height: size, rotation: angle };
}
