/**
 * What a file of the bench says of its camera, to parts of an orientation: `camera: {view: interferometer, turned: 90, mirrored: true}`.
 * Each key may be left out.
 */
import type { Path } from '../../finding/finding.ts';
import { type CameraOrientation, TURNS, VIEWS } from '../../scenario/camera-orientation.ts';
import { isObject } from '../yaml/field.ts';
import { shown, typeOf } from '../yaml/values.ts';
import { type Say, unknownKeys } from './entry-values.ts';

const KEYS = ['view', 'turned', 'mirrored'];

/** `more`: keys that this file's camera has beside those, read elsewhere. */
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
