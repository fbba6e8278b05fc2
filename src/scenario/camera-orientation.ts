/**
 * Which way the camera shows the hologram: one of eight orientations. From a place on the pattern (mm, substrate frame) to right and
 * up in the picture, and to its columns and rows; and back.
 *
 * In this order: `view` is the side from which the picture is as if seen: from the interferometer x runs to the left, from the part to
 * the right, y up in both. `mirrored` swaps left and right of that. `turned` then turns the picture on the screen clockwise: at 90
 * what stood at 12 o'clock stands at 3 o'clock.
 */
import type { Vec2 } from '../geometry/vector.ts';

export const VIEWS = ['interferometer', 'part'] as const;
export const TURNS = [0, 90, 180, 270] as const;

export interface CameraOrientation {
  readonly view: (typeof VIEWS)[number];
  /** Degrees, clockwise on the screen. */
  readonly turned: (typeof TURNS)[number];
  /** Left for right, before it is turned. */
  readonly mirrored: boolean;
}

/** Where nothing is said: seen from the interferometer, x to the left and y up. */
export const PLAIN_ORIENTATION: CameraOrientation = { view: 'interferometer', turned: 0, mirrored: false };

/** Whether a value from a file is an orientation, each key given. */
export function isOrientation(value: unknown): value is CameraOrientation {
  if (typeof value !== 'object' || value === null || Object.keys(value).length !== 3) return false;
  const { view, turned, mirrored } = value as Partial<CameraOrientation>;
  return (
    VIEWS.some((one) => one === view) && TURNS.some((one) => one === turned) && typeof mirrored === 'boolean'
  );
}

/** The eight, each once; the plain one first. */
export const ORIENTATIONS: readonly CameraOrientation[] = [false, true].flatMap((mirrored) =>
  TURNS.map((turned) => ({ ...PLAIN_ORIENTATION, turned, mirrored })),
);

/** [cosine, sine] of the turns, exact. */
const COSINES = { 0: [1, 0], 90: [0, 1], 180: [-1, 0], 270: [0, -1] } as const;

/** −1 where x runs to the left before the picture is turned. */
const sideOf = ({ view, mirrored }: CameraOrientation): 1 | -1 => ((view === 'part') === mirrored ? -1 : 1);

/** Right and up in the picture of a direction on the pattern, x and y; a place counts from the picture's centre. */
export function toPicture(orientation: CameraOrientation, [x, y]: Vec2): Vec2 {
  const [cosine, sine] = COSINES[orientation.turned];
  const right = sideOf(orientation) * x;
  return [cosine * right + sine * y, cosine * y - sine * right];
}

/** x and y on the pattern of a direction in the picture, right and up. */
export function fromPicture(orientation: CameraOrientation, [right, up]: Vec2): Vec2 {
  const [cosine, sine] = COSINES[orientation.turned];
  return [sideOf(orientation) * (cosine * right - sine * up), sine * right + cosine * up];
}

/** The direction on the pattern for which another one is taken by who believes that the picture is turned as `believed` says. */
export const takenFor = (actual: CameraOrientation, believed: CameraOrientation, direction: Vec2): Vec2 =>
  fromPicture(believed, toPicture(actual, direction));

/** Whether the picture is the mirror image of the pattern as seen from the part, x right and y up. */
export const isMirrorImage = (orientation: CameraOrientation): boolean => sideOf(orientation) < 0;

/** Whether two show the same picture, in whatever words. */
export const isSameOrientation = (a: CameraOrientation, b: CameraOrientation): boolean =>
  a.turned === b.turned && sideOf(a) === sideOf(b);

export const isPlain = (orientation: CameraOrientation): boolean =>
  isSameOrientation(orientation, PLAIN_ORIENTATION);

/** A picture's pixels on the pattern: its centre and the length a pixel sees (mm), and how many there are, as the camera shows them. */
export interface PixelGrid {
  readonly centre: Vec2;
  readonly pitch: number;
  readonly columns: number;
  readonly rows: number;
}

/** [column, row] of a place on the pattern; the middle of the first pixel, top left, is [0, 0]. */
export function pixelAt(orientation: CameraOrientation, grid: PixelGrid, [x, y]: Vec2): Vec2 {
  const { centre, pitch, columns, rows } = grid;
  const [right, up] = toPicture(orientation, [x - centre[0], y - centre[1]]);
  return [(columns - 1) / 2 + right / pitch, (rows - 1) / 2 - up / pitch];
}

/** The place on the pattern, x and y in mm, that [column, row] shows. */
export function placeOfPixel(orientation: CameraOrientation, grid: PixelGrid, [column, row]: Vec2): Vec2 {
  const { centre, pitch, columns, rows } = grid;
  const seen: Vec2 = [(column - (columns - 1) / 2) * pitch, ((rows - 1) / 2 - row) * pitch];
  const [x, y] = fromPicture(orientation, seen);
  return [centre[0] + x, centre[1] + y];
}
