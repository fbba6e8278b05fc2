/**
 * A whole frame of the interferometer's camera: the beam's circle spans `pixelsAcrossBeam` square pixels, centred; every pattern at its
 * true place, the rest dark. Each pixel is the mean over its area, contrast from the pattern's efficiency, as in camera-like pictures
 * (fringe-picture.ts). Worked out pattern by pattern in bands of rows, so that a camera of thousands of pixels needs no more than a few
 * hundred megabytes.
 */

import { randomFrom } from '../../algebra/random.ts';
import type { Design, DesignedPattern } from '../../design/design.ts';
import { boundsOf } from '../../geometry/extent.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import {
  addIntensity,
  allPatterns,
  expectedVisibility,
  type GreyPicture,
  greyOf,
  lightOf,
  litOf,
  OVERSAMPLING,
  seenAs,
} from './fringe-picture.ts';
import { type BenchState, benchState, type Displacements } from './fringe-picture-displacements.ts';
import { patchPixels } from './fringe-picture-light.ts';
import { apertureWindow, columnAt, type PictureWindow, rowAt, xOf, yOf } from './fringe-picture-window.ts';

export interface FrameWishes {
  readonly orientation: CameraOrientation;
  readonly displacements?: Displacements;
  /** By scalar diffraction where there is a model of it. */
  readonly diffraction?: boolean;
  /** Standard deviation of each pixel, as a part of full scale; `seed` tells frames apart that have the same. Default 0. */
  readonly noise?: number;
  readonly seed?: string;
}

/** No frame is made of a camera with more pixels across: it would have a hundred million. */
export const MOST_FRAME_PIXELS = 8192;

/** Pixels a side of the square frame. */
export const framePixels = ({ scenario }: Design): number =>
  Math.max(1, Math.round(scenario.interferometer.pixelsAcrossBeam));

/** Throws a RangeError where the moved beam has no place to come from. */
export function wholeFrame(design: Design, wishes: FrameWishes): GreyPicture {
  const size = framePixels(design);
  const frame = apertureWindow(design, size);
  const bench = benchState(design, wishes.displacements ?? {});
  const intensity = new Float64Array(size * size);
  for (const pattern of allPatterns(design))
    addPattern(intensity, frame, design, litOf(pattern), bench, wishes.diffraction === true);
  const { noise } = wishes;
  const random = noise ? randomFrom(`frame ${wishes.seed ?? ''}`) : undefined;
  const grey = greyOf(intensity, random, noise ?? 0);
  return seenAs({ width: size, height: size, grey }, wishes.orientation);
}

/** Samples in one band of rows. */
const BAND = 1 << 20;

function addPattern(
  intensity: Float64Array,
  frame: PictureWindow,
  design: Design,
  pattern: DesignedPattern,
  bench: BenchState,
  diffraction: boolean,
): void {
  const { minX, maxX, minY, maxY } = boundsOf(pattern.outline);
  const within = (value: number): number => Math.min(frame.columns - 1, Math.max(0, Math.round(value)));
  if (columnAt(frame, maxX) < 0 || columnAt(frame, minX) > frame.columns - 1) return;
  if (rowAt(frame, minY) < 0 || rowAt(frame, maxY) > frame.rows - 1) return;
  const [left, right] = [within(columnAt(frame, minX)), within(columnAt(frame, maxX))];
  const [top, bottom] = [within(rowAt(frame, maxY)), within(rowAt(frame, minY))];
  const [columns, rows] = [right - left + 1, bottom - top + 1];
  const fine: PictureWindow = {
    centre: [xOf(frame, (left + right) / 2), yOf(frame, (top + bottom) / 2)],
    pitch: frame.pitch / OVERSAMPLING,
    columns: columns * OVERSAMPLING,
    rows: rows * OVERSAMPLING,
  };
  const pixels = patchPixels(pattern, fine);
  const light = lightOf(design, pattern, bench, pixels, diffraction);
  if (light === undefined) return;
  const visibility = expectedVisibility(design, pattern);
  // By diffraction all rows come at once.
  const whole = light([0, -1]).re.length > 0;
  const step = whole ? rows : Math.max(1, Math.floor(BAND / (fine.columns * OVERSAMPLING)));
  for (let first = 0; first < rows; first += step) {
    const count = Math.min(step, rows - first);
    const [from, to] = [first * OVERSAMPLING, (first + count) * OVERSAMPLING - 1];
    const band = new Float64Array(fine.columns * count * OVERSAMPLING);
    addIntensity(band, light([from, to]), pixels, visibility, from * fine.columns);
    for (let row = 0; row < count * OVERSAMPLING; row++) {
      const into = (top + first + Math.floor(row / OVERSAMPLING)) * frame.columns + left;
      for (let column = 0; column < fine.columns; column++)
        intensity[into + Math.floor(column / OVERSAMPLING)]! += band[row * fine.columns + column]! / SAMPLES;
    }
  }
}

/** In one pixel. */
const SAMPLES = OVERSAMPLING * OVERSAMPLING;
