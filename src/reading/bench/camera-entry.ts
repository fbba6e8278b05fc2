/**
 * What a file of the bench says of its camera, to parts of an orientation: `camera: {view: interferometer, turned: 90, mirrored: true}`.
 * Each key may be left out. A bench file may also say where the picture has the beam's circle: `camera: {centre: [511, 498], pixelsPerMm: 6.4}`.
 */
import type { Path } from '../../finding/finding.ts';
import { type CameraOrientation, TURNS, VIEWS } from '../../scenario/camera-orientation.ts';
import type { CameraPlace } from '../../scenario/camera-place.ts';
import { isObject } from '../yaml/field.ts';
import { shown, typeOf } from '../yaml/values.ts';
import { type Say, unknownKeys } from './entry-values.ts';

const KEYS = ['view', 'turned', 'mirrored'];

const PLACE_KEYS = ['centre', 'pixelsPerMm'];

/** More pixels than any camera has along a side, or to a millimetre: a slip of the pen. */
const MOST_PIXELS = 1e5;

/** `more` are keys that the file may have besides. */
export function cameraOf(
  given: unknown,
  path: Path,
  say: Say,
  more: readonly string[] = [],
): Partial<CameraOrientation> {
  if (given === undefined) return {};
  if (!isObject(given)) {
    const hint = 'expected e.g. {view: interferometer, turned: 90, mirrored: false}';
    say('wrong-type', path, `\`camera\` is ${typeOf(given)}`, hint);
    return {};
  }
  unknownKeys(given, path, [...KEYS, ...more], say);
  const view = oneOf(given, 'view', VIEWS, path, say);
  const turned = oneOf(given, 'turned', TURNS, path, say);
  const mirrored = oneOf(given, 'mirrored', [true, false] as const, path, say);
  return {
    ...(view === undefined ? {} : { view }),
    ...(turned === undefined ? {} : { turned }),
    ...(mirrored === undefined ? {} : { mirrored }),
  };
}

/** The camera of a bench file. `place` is undefined where the file says nothing of it, or where it is wrong. */
export function benchCameraOf(
  given: unknown,
  path: Path,
  say: Say,
): { readonly camera: Partial<CameraOrientation>; readonly place?: CameraPlace } {
  const camera = cameraOf(given, path, say, PLACE_KEYS);
  if (!isObject(given) || PLACE_KEYS.every((key) => given[key] === undefined)) return { camera };
  for (const key of PLACE_KEYS)
    if (given[key] === undefined) {
      const hint = 'give both, e.g. {centre: [511.5, 498], pixelsPerMm: 6.4}';
      say('missing-key', path, `\`camera\` has no \`${key}\``, hint);
      return { camera };
    }
  const { centre, pixelsPerMm } = given;
  const at = [...path, 'centre'];
  if (!Array.isArray(centre) || centre.length !== 2) {
    say(
      'wrong-type',
      at,
      `\`centre\` is ${typeOf(centre)}`,
      'expected a column and a row, e.g. [511.5, 498]',
    );
    return { camera };
  }
  const [column, row] = centre.map((value, k) => pixelsOf(value, [...at, k], say));
  const scale = pixelsOf(pixelsPerMm, [...path, 'pixelsPerMm'], say);
  if (scale !== undefined && !(scale > 0))
    say('out-of-range', [...path, 'pixelsPerMm'], `\`pixelsPerMm\` is ${scale}`, 'expected more than 0');
  if (column === undefined || row === undefined || scale === undefined || !(scale > 0)) return { camera };
  return { camera, place: { centre: [column, row], pixelsPerMm: scale } };
}

function pixelsOf(value: unknown, path: Path, say: Say): number | undefined {
  if (typeof value !== 'number')
    return say('wrong-type', path, `a value is ${typeOf(value)}`, 'expected a number, e.g. 511.5');
  if (Math.abs(value) <= MOST_PIXELS) return value;
  return say('out-of-range', path, `a value is ${value}`, `expected a number of at most ${MOST_PIXELS}`);
}

function oneOf<T>(
  entry: Record<string, unknown>,
  key: string,
  allowed: readonly T[],
  path: Path,
  say: Say,
): T | undefined {
  const value = entry[key];
  if (value === undefined) return undefined;
  const found = allowed.find((one) => one === value);
  if (found !== undefined) return found;
  const degrees = key === 'turned' ? ' degrees, clockwise on the screen' : '';
  return say(
    'bad-value',
    [...path, key],
    `\`${key}\` is ${shown(value)}`,
    `expected ${allowed.join(', ').replace(/, ([^,]*)$/, ' or $1')}${degrees}`,
  );
}
