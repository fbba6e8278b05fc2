/**
 * Where the beam stands in the frames of a bench's camera, where the bench file says it: `camera: {centre: [511.5, 498], pixelsPerMm: 6.4}`, the
 * middle of the beam's circle as [column, row], the middle of the first pixel being [0, 0], and pixels to a mm on the pattern.
 */
import type { Path } from '../../finding/finding.ts';
import { isObject } from '../yaml/field.ts';
import { shown } from '../yaml/values.ts';
import type { Say } from './entry-values.ts';

export interface CameraPlace {
  readonly centre: readonly [column: number, row: number];
  readonly pixelsPerMm: number;
}

export const PLACE_KEYS = ['centre', 'pixelsPerMm'];

/** A camera has thousands of pixels; a slip of the pen more. */
const FARTHEST = 1e5;
const FINEST = 1e4;

export function cameraPlaceOf(camera: unknown, path: Path, say: Say): CameraPlace | undefined {
  if (!isObject(camera) || PLACE_KEYS.every((key) => camera[key] === undefined)) return undefined;
  const { centre, pixelsPerMm } = camera;
  const missing = PLACE_KEYS.find((key) => camera[key] === undefined);
  if (missing !== undefined)
    return say(
      'missing-key',
      path,
      `the camera has no \`${missing}\``,
      'give `centre` and `pixelsPerMm` together',
    );
  const isPixel = (value: unknown): value is number =>
    typeof value === 'number' && Math.abs(value) <= FARTHEST;
  if (!(Array.isArray(centre) && centre.length === 2 && centre.every(isPixel)))
    return say(
      'bad-value',
      [...path, 'centre'],
      `\`centre\` is ${shown(centre)}`,
      'expected [column, row] in pixels',
    );
  if (!(typeof pixelsPerMm === 'number' && pixelsPerMm > 0 && pixelsPerMm <= FINEST)) {
    const hint = `expected a number of pixels to a mm on the pattern, more than 0 and at most ${FINEST}`;
    return say('out-of-range', [...path, 'pixelsPerMm'], `\`pixelsPerMm\` is ${shown(pixelsPerMm)}`, hint);
  }
  return { centre: centre as [number, number], pixelsPerMm };
}
