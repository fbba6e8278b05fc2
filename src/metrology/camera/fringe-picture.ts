/**
 * What the interferometer's camera shows, as a grey picture: the returned light of one patch, or of all patches at their true
 * places, against the interferometer's own beam.
 *
 * Intensity |√I_r + √I_t · U|² over its largest value, with U the returned wave (fringe-picture-light.ts) and I_r + I_t = 1:
 * (1 + V cos 2πW)/(1 + V) where one ray comes back. Noise-free pictures have the visibility V = 1; camera-like ones the V that the
 * pattern's efficiency gives, each pixel the mean over its area at the camera's own pitch, and noise where asked. 8 bits either way.
 */

import { type Random, randomFrom } from '../../algebra/random.ts';
import type { Design, DesignedPatch, DesignedPattern } from '../../design/design.ts';
import { efficiencyOf } from '../../design/grooves.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import type { Pattern } from '../../design/pattern.ts';
import type { Outline } from '../../geometry/outline.ts';
import { boundaryPoints } from '../../geometry/sampling.ts';
import { isReadBy, kindOf } from '../../kinds/kinds.ts';
import { fringeVisibility, normalReflectance } from '../../optics/efficiency.ts';
import { type CameraOrientation, placeOfPixel } from '../../scenario/camera-orientation.ts';
import { pixelPitch } from '../sensing/camera-pixels.ts';
import { type BenchState, benchState, type Displacements } from './fringe-picture-displacements.ts';
import {
  diffractedLight,
  type PatchPixels,
  patchPixels,
  type ReturnedLight,
  tracedLight,
} from './fringe-picture-light.ts';
import { type ReturnBranch, returnBranches } from './fringe-picture-return.ts';
import {
  apertureWindow,
  columnAt,
  type PictureWindow,
  patchWindow,
  resampled,
  rowAt,
} from './fringe-picture-window.ts';
import { nullBranches } from './null-return.ts';

/** Row by row from the top; 0 black to 255. */
export interface GreyPicture {
  readonly width: number;
  readonly height: number;
  readonly grey: Uint8Array;
}

export interface PictureWishes {
  /** Pixels a side. */
  readonly size: number;
  /** Which way the pattern is shown. */
  readonly orientation: CameraOrientation;
  readonly displacements?: Displacements;
  /** True pictures where there is a model of them; by traced rays elsewhere. */
  readonly diffraction?: boolean;
  readonly camera?: CameraWishes;
}

interface CameraWishes {
  /** Standard deviation of each pixel, as a part of full scale. Default 0. */
  readonly noise?: number;
  /** Of the noise. */
  readonly seed?: string;
}

/** One patch alone. Undefined for a screen, which sends nothing back. A ring's reference is the hologram or a feature of the part. */
export function patchPicture(
  design: Design,
  patch: DesignedPatch,
  wishes: PictureWishes,
): GreyPicture | undefined {
  if (isReadBy(patch.reference, 'mark')) return undefined;
  return picture(design, [patch], patchWindow(patch, wishes.size), wishes);
}

/** The null alone, over its footprint. */
export const nullPicture = (design: Design, main: MainPattern, wishes: PictureWishes): GreyPicture =>
  picture(design, [main], patchWindow(litOf(main), wishes.size), wishes);

/** What of a pattern the camera sees light from: of the main one, what the aperture's light crosses. */
export const litOf = <P extends Pattern>(pattern: P): P =>
  'footprint' in pattern ? { ...pattern, outline: pattern.footprint as Outline } : pattern;

/** One patch at several states of the bench, side by side from left to right, noise-free; `states` are their branches. */
export function stripPicture(
  patch: Pattern,
  states: readonly (readonly ReturnBranch[])[],
  size: number,
  orientation: CameraOrientation,
): GreyPicture {
  const pixels = patchPixels(patch, patchWindow(patch, size));
  const strip = new Uint8Array(size * size * states.length);
  states.forEach((branches, k) => {
    const intensity = new Float64Array(size * size);
    addIntensity(intensity, tracedLight(patch, branches, pixels), pixels, 1);
    const { grey } = seenAs(
      { width: size, height: size, grey: greyOf(intensity, undefined, 0) },
      orientation,
    );
    for (let row = 0; row < size; row++) {
      strip.set(grey.subarray(row * size, (row + 1) * size), (row * states.length + k) * size);
    }
  });
  return { width: size * states.length, height: size, grey: strip };
}

/** All patterns where they are, dark elsewhere, with the keep-outs and the substrate's edge in outline. */
export const aperturePicture = (design: Design, wishes: PictureWishes): GreyPicture =>
  picture(design, allPatterns(design), apertureWindow(design, wishes.size), wishes, outlinesOver);

export const allPatterns = ({ main, patches }: Design): readonly DesignedPattern[] => [
  ...(main === undefined ? [] : [main]),
  ...patches,
];

/**
 * Visibility of the fringes, from the order's efficiency crossed twice against the interferometer's reference surface. The
 * reflectances are assumed: bare glass there, at the surface under test and at a feature of the part, at the reference what its kind is made of.
 */
export function expectedVisibility(design: Design, pattern: DesignedPattern): number {
  const efficiency = efficiencyOf(design, pattern.order);
  const bare = normalReflectance(REFERENCE_INDEX);
  // Light of a return ring is mirrored at the pattern itself, which it meets once; in reflection taken for as efficient as in transmission.
  if (!('test' in pattern) && isReadBy(pattern.reference, 'alignment'))
    return fringeVisibility(efficiency * bare, bare);
  const reflectance = 'test' in pattern ? bare : (kindOf(pattern.reference).reflectance ?? bare);
  return fringeVisibility(efficiency ** 2 * reflectance, bare);
}

const REFERENCE_INDEX = 1.46;
/** Points a side over which a camera pixel is averaged. */
export const OVERSAMPLING = 3;

type Overlay = (design: Design, window: PictureWindow, intensity: Float64Array) => void;

function picture(
  design: Design,
  patterns: readonly DesignedPattern[],
  asked: PictureWindow,
  wishes: PictureWishes,
  overlay?: Overlay,
): GreyPicture {
  const bench = benchState(design, wishes.displacements ?? {});
  const { camera } = wishes;
  // A picture finer than the camera shows the camera's pixels as squares; a coarser one is no finer than it is.
  const window = camera === undefined ? asked : resampled(asked, Math.max(asked.pitch, pixelPitch(design)));
  const fine = camera === undefined ? window : resampled(window, window.pitch / OVERSAMPLING);
  const intensity = new Float64Array(fine.columns * fine.rows);
  for (const pattern of patterns) {
    const pixels = patchPixels(litOf(pattern), fine);
    const returned = lightOf(design, pattern, bench, pixels, wishes.diffraction === true);
    if (returned === undefined) continue;
    addIntensity(intensity, returned(), pixels, camera ? expectedVisibility(design, pattern) : 1);
  }
  const seen = camera === undefined ? intensity : averaged(intensity, fine, window);
  overlay?.(design, window, seen);
  const random = camera?.noise ? randomFrom(camera.seed ?? 'camera') : undefined;
  const grey = greyOf(seen, random, camera?.noise ?? 0);
  const drawn = { width: window.columns, height: window.rows, grey };
  return seenAs(enlarged(drawn, asked.columns, asked.rows), wishes.orientation);
}

/** What comes back to rows of the pixels, by default all; diffraction gives all at once. Undefined where nothing of the pattern is to be seen. */
export function lightOf(
  design: Design,
  patch: DesignedPattern,
  bench: BenchState,
  pixels: PatchPixels,
  diffraction: boolean,
): ((rows?: PatchPixels['rows']) => ReturnedLight) | undefined {
  if ('test' in patch) {
    const branches = nullBranches(design, patch, bench);
    return (rows) => tracedLight(patch, branches, pixels, rows);
  }
  if (isReadBy(patch.reference, 'mark')) return undefined;
  const diffracted =
    diffraction && isReadBy(patch.reference, 'senses')
      ? diffractedLight(design, patch, bench, pixels)
      : undefined;
  if (diffracted !== undefined) return () => diffracted;
  const branches = returnBranches(design, patch, bench);
  return (rows) => tracedLight(patch, branches, pixels, rows);
}

/** `intensity` begins with the window's pixel number `from`. */
export function addIntensity(
  intensity: Float64Array,
  { start, re, im }: ReturnedLight,
  { covered }: PatchPixels,
  visibility: number,
  from = 0,
): void {
  const weaker = (1 - Math.sqrt(1 - visibility * visibility)) / 2;
  const [own, back] = [Math.sqrt(1 - weaker), Math.sqrt(weaker)];
  const most = (own + back) ** 2;
  for (let i = 0; i < re.length; i++) {
    if (covered[start + i] === 0) continue;
    const [a, b] = [own + back * re[i]!, back * im[i]!];
    intensity[start + i - from] = Math.min(1, (a * a + b * b) / most);
  }
}

/** Means over the fine samples of each pixel. */
function averaged(fine: Float64Array, { columns, rows }: PictureWindow, coarse: PictureWindow): Float64Array {
  const sums = new Float64Array(coarse.columns * coarse.rows);
  const counts = new Float64Array(sums.length);
  for (let row = 0; row < rows; row++) {
    const into = Math.floor((row * coarse.rows) / rows) * coarse.columns;
    for (let column = 0; column < columns; column++) {
      const at = into + Math.floor((column * coarse.columns) / columns);
      sums[at]! += fine[row * columns + column]!;
      counts[at]!++;
    }
  }
  return sums.map((sum, i) => sum / counts[i]!);
}

export function greyOf(intensity: Float64Array, random: Random | undefined, noise: number): Uint8Array {
  const grey = new Uint8Array(intensity.length);
  for (let i = 0; i < grey.length; i++) {
    const level = intensity[i]! + (random === undefined ? 0 : noise * random.normal());
    grey[i] = Math.round(255 * Math.min(1, Math.max(0, level)));
  }
  return grey;
}

/** A picture drawn as seen from the part, x right and y up, the way the camera shows it. */
export function seenAs({ width, height, grey }: GreyPicture, orientation: CameraOrientation): GreyPicture {
  const isTurnedAside = orientation.turned % 180 !== 0;
  const [columns, rows] = isTurnedAside ? [height, width] : [width, height];
  const grid = { centre: [(width - 1) / 2, (height - 1) / 2], pitch: 1, columns, rows } as const;
  const seen = new Uint8Array(grey.length);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const [x, y] = placeOfPixel(orientation, grid, [column, row]);
      seen[row * columns + column] = grey[(height - 1 - y) * width + x]!;
    }
  }
  return { width: columns, height: rows, grey: seen };
}

/** The same picture with more pixels, each one's own value repeated. */
function enlarged({ width, height, grey }: GreyPicture, columns: number, rows: number): GreyPicture {
  if (columns === width && rows === height) return { width, height, grey };
  const larger = new Uint8Array(columns * rows);
  for (let row = 0; row < rows; row++) {
    const from = Math.floor((row * height) / rows) * width;
    for (let column = 0; column < columns; column++) {
      larger[row * columns + column] = grey[from + Math.floor((column * width) / columns)]!;
    }
  }
  return { width: columns, height: rows, grey: larger };
}

/** Of full scale: seen beside fringes, and not taken for one. */
const EDGE = 0.35;
const KEEP_OUT = 0.5;
/** Points to a pixel of a side of the picture, all around an outline: no gaps in its line. */
const POINTS_PER_PIXEL = 8;

/** The keep-outs and the substrate's edge as thin grey lines in a picture of the whole aperture. */
function outlinesOver({ scenario }: Design, window: PictureWindow, intensity: Float64Array): void {
  draw(scenario.substrate.outline, EDGE, window, intensity);
  for (const { outline } of scenario.keepOuts) draw(outline, KEEP_OUT, window, intensity);
}

function draw(outline: Outline, level: number, window: PictureWindow, intensity: Float64Array): void {
  const { xs, ys } = boundaryPoints(outline, POINTS_PER_PIXEL * window.columns);
  for (let i = 0; i < xs.length; i++) {
    const [column, row] = [Math.round(columnAt(window, xs[i]!)), Math.round(rowAt(window, ys[i]!))];
    if (column < 0 || row < 0 || column >= window.columns || row >= window.rows) continue;
    intensity[row * window.columns + column] = level;
  }
}
