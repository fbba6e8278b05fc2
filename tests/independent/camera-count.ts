/**
 * What an operator counts in the camera's picture of a patch, from rays traced out to the ball or cube where it stands and home: fringes over
 * the patch along the way that the path falls, that way as an hour on the clock in a picture that is turned or mirrored, and the power.
 * mm, waves. Shares no code with src/.
 */
import { seenBy, type Turn } from './camera-seen.ts';
import { designedPhase, lineOf } from './designed-phase.ts';
import { fitted } from './equations.ts';
import { gridIn, rangeOver } from './outline-points.ts';
import type { ReadPatch } from './patch-reading.ts';
import { minus, normed, type Vector } from './ray.ts';
import { offBall, offCube, returned } from './returned-ray.ts';

type Way = readonly [number, number];

/** How the path of the return rises over a patch: waves per mm along x and y, and per mm² as a sphere does. */
export interface Rise {
  readonly slope: Way;
  readonly bend: number;
}

export interface Light {
  readonly wavelength: number;
  readonly glass: { readonly thickness: number; readonly index: number; readonly side: 'before' | 'after' };
}

/** Rays across a patch. */
const RAYS = 7;

/**
 * Of a patch with its reference at a place. The pattern makes of the beam that it was drawn for the wave that it is to send out: what is
 * traced is that wave, and on top of it what the beam has become otherwise, `beam` in mm.
 */
export function riseOf(
  { wavelength, glass }: Light,
  patch: ReadPatch,
): (at: Vector, beam?: (x: number, y: number) => number) => Rise | undefined {
  // Without a focus and on z = 0 the beam's path is 0 everywhere: the phase is that of the wave sent out.
  const phase = designedPhase({ wavelength, glass }, patch);
  const grid = gridIn(patch.outline, RAYS);
  const [x0, y0] = patch.centre;
  const line = lineOf(patch);
  const hasRoof = patch.bias?.shape === 'roof';
  return (at, beam = () => 0) => {
    const pattern = {
      ...{ wavelength, order: patch.order ?? 1, phase, incident: beam },
      ...(glass.side === 'after' ? { glassAfter: glass } : {}),
    };
    const bounce = patch.radius === undefined ? offCube(at) : offBall(at, patch.radius);
    const rays = grid.flatMap(([x, y]) => returned(pattern, bounce, x, y) ?? []);
    if (rays.length < grid.length / 2) return undefined;
    const rows = rays.map((ray) => {
      const [u, v] = [ray.x - x0, ray.y - y0];
      // A roof's two slopes are the same on either side of its ridge.
      const roof = hasRoof ? [Math.abs(u * line![0] + v * line![1])] : [];
      return [1, u, v, u * u, u * v, v * v, ...roof];
    });
    const found = fitted(
      rows,
      rays.map(({ waves }) => waves),
    );
    return { slope: [found[1]!, found[2]!], bend: (found[3]! + found[5]!) / 2 };
  };
}

/** The hour, above 0 and up to 12, toward which a direction of the pattern points in the picture, where the camera shows it so. */
export function hourOf(turn: Turn, [x, y]: Way): number {
  // From the interferometer x runs to the left: a picture of three rows by three shows where each goes.
  const shown = seenBy(turn, [
    ['', 'y', ''],
    ['x', '', ''],
    ['', '', ''],
  ]);
  const wayOf = (name: string): Way => {
    const row = shown.findIndex((pixels) => pixels.includes(name));
    return [shown[row]!.indexOf(name) - 1, 1 - row];
  };
  const [ofX, ofY] = [wayOf('x'), wayOf('y')];
  const [right, up] = [x * ofX[0] + y * ofY[0], x * ofX[1] + y * ofY[1]];
  const hour = (Math.atan2(right, up) * 6) / Math.PI;
  return hour > 0 ? hour : hour + 12;
}

/** As it is written down. */
export interface Count {
  readonly fringes: number;
  readonly toward: number;
  readonly power?: number;
}

export interface Eye {
  /** The error of a count, fringes. */
  readonly error: () => number;
  /** Counts as finely as they are told. */
  readonly round: number;
}

const told = (count: number, { round }: Eye): number => Math.round(count / round) * round;
const widthOf = ({ outline }: Pick<ReadPatch, 'outline'>, [dx, dy]: Way): number => {
  const [least, most] = rangeOver(outline, (x, y) => x * dx + y * dy);
  return most - least;
};

/** Along the one way that a line focus shows. */
function lineCount(patch: ReadPatch, { slope }: Rise, turn: Turn, eye: Eye): Count {
  const [lx, ly, lz] = lineOf(patch)!;
  const [rx, ry, rz] = normed(minus(patch.target, [patch.centre[0], patch.centre[1], 0]));
  const across: Way = [ly * rz - lz * ry, lz * rx - lx * rz];
  const size = Math.hypot(...across);
  const way: Way = [across[0] / size, across[1] / size];
  const falls = told(-(slope[0] * way[0] + slope[1] * way[1]) * widthOf(patch, way) + eye.error(), eye);
  const toward: Way = falls < 0 ? [-way[0], -way[1]] : way;
  return { fringes: Math.abs(falls), toward: hourOf(turn, toward) };
}

/** Whatever way the path falls, and the power from the middle to `reach`, of what lies within `from` none. */
export function fallCount(
  outline: ReadPatch['outline'],
  { slope, bend }: Rise,
  [from, reach]: Way,
  turn: Turn,
  eye: Eye,
): Count {
  const noisy = slope.map((value, k) => {
    const width = widthOf({ outline }, k === 0 ? [1, 0] : [0, 1]);
    return -(value + eye.error() / width);
  });
  const size = Math.hypot(...noisy);
  const way: Way = size === 0 ? [1, 0] : [noisy[0]! / size, noisy[1]! / size];
  return {
    fringes: told(size * widthOf({ outline }, way), eye),
    toward: hourOf(turn, way),
    power: told(-bend * (reach ** 2 - from ** 2) + eye.error(), eye),
  };
}

export function countOf(patch: ReadPatch, rise: Rise, turn: Turn, eye: Eye): Count {
  if (patch.lineAngle !== undefined) return lineCount(patch, rise, turn, eye);
  const [x, y, z] = normed(minus(patch.target, [patch.centre[0], patch.centre[1], 0]));
  // The two directions that a point focus is read along, square to its light.
  const first = [1 - x * x, -x * y, -x * z].map((value) => value / Math.sqrt(1 - x * x));
  const second: Way = [y * first[2]! - z * first[1]!, z * first[0]! - x * first[2]!];
  const widths = [[first[0]!, first[1]!] as const, second].map((way) => widthOf(patch, way));
  return fallCount(patch.outline, rise, [0, Math.max(...widths) / 2], turn, eye);
}
