/**
 * The phase that a scenario asks of a patch, from the definitions alone: paths by brute force (fermat.ts), the line square to the chief
 * ray, the bias N|v|/(2m v_max) of a roof or N w/(2m w_max) of a tilt. mm, radians, waves at order 1. Shares no code with src/.
 */
import { type Place, pathThroughEntry, pathThroughExit, toLine } from './fermat.ts';
import { foldOf } from './fold.ts';
import { rangeOver, type Shape } from './outline-points.ts';
import { dot, minus, normed, size, type Vector } from './ray.ts';

export interface Surroundings {
  /** In the air around. */
  readonly wavelength: number;
  /** Undefined: collimated along +z. */
  readonly focus?: Place;
  readonly glass?: { readonly thickness: number; readonly index: number; readonly side: 'before' | 'after' };
}

export interface Asked {
  readonly id: string;
  readonly target: Place;
  readonly centre: readonly [number, number];
  readonly outline: Shape;
  /** Given for a line focus. */
  readonly lineAngle?: number;
  readonly order?: number;
  readonly bias?: { readonly shape: 'roof' | 'tilt'; readonly fringes: number; readonly direction?: number };
}

/** Φ of the patch, 0 at its centre before the bias. */
export function designedPhase(around: Surroundings, asked: Asked): (x: number, y: number) => number {
  const { centre, order = 1 } = asked;
  const line = lineOf(asked);
  const waves = (x: number, y: number): number =>
    (leaving(around, asked, line, [x, y, 0]) - arriving(around, [x, y, 0])) / (order * around.wavelength);
  const atCentre = waves(centre[0], centre[1]);
  const bias = biasOf(around, asked, line);
  return (x, y) => waves(x, y) - atCentre + bias(x, y);
}

/** The local period, mm, by difference quotients. */
export function periodOf(phase: (x: number, y: number) => number, x: number, y: number): number {
  const h = 1e-3;
  const slope = (dx: number, dy: number): number => (phase(x + dx, y + dy) - phase(x - dx, y - dy)) / (2 * h);
  return 1 / Math.hypot(slope(h, 0), slope(0, h));
}

/** ℓ̂: the direction in the pattern made square to the chief ray. */
export function lineOf({ lineAngle, target, centre }: Asked): Vector | undefined {
  if (lineAngle === undefined) return undefined;
  const ray = normed(minus(target, [centre[0], centre[1], 0]));
  const inPlane: Vector = [Math.cos(lineAngle), Math.sin(lineAngle), 0];
  const along = dot(inPlane, ray);
  return normed(minus(inPlane, [along * ray[0], along * ray[1], along * ray[2]]));
}

function arriving({ focus, glass }: Surroundings, at: Place): number {
  if (focus === undefined) return at[2];
  const sign = focus[2] < 0 ? 1 : -1;
  return glass?.side === 'before'
    ? pathThroughEntry(focus, sign, at, glass.thickness, glass.index)
    : sign * size(minus(at, focus));
}

function leaving({ glass }: Surroundings, { target }: Asked, line: Vector | undefined, at: Place): number {
  const inAir = (q: Place): number => (line === undefined ? size(minus(q, target)) : toLine(q, target, line));
  return glass?.side === 'after' ? -pathThroughExit(at, glass.thickness, glass.index, inAir) : -inAir(at);
}

/** The run along the bias's direction from where it starts, mm, and the phase for each mm: a roof takes the run without its sign. */
export function biasRun({ glass }: Surroundings, asked: Asked, line: Vector | undefined) {
  const { bias, outline, order = 1, lineAngle, target } = asked;
  if (bias === undefined) return undefined;
  // A roof has its ridge where the light comes straight back.
  const folds = bias.shape === 'roof' && lineAngle !== undefined && line !== undefined;
  const after = glass?.side === 'after' ? glass : undefined;
  const centre = folds ? foldOf(asked.centre, lineAngle, line, target, after) : asked.centre;
  const [dx, dy] =
    bias.direction === undefined ? (line ?? [1, 0, 0]) : [Math.cos(bias.direction), Math.sin(bias.direction)];
  const run = (x: number, y: number): number => (x - centre[0]) * dx + (y - centre[1]) * dy;
  const [least, most] = rangeOver(outline, run);
  const half = bias.fringes / (2 * order);
  return { run, slope: half / (bias.shape === 'tilt' ? most - least : Math.max(-least, most)) };
}

function biasOf(around: Surroundings, asked: Asked, line: Vector | undefined) {
  const found = biasRun(around, asked, line);
  if (found === undefined) return () => 0;
  const { run, slope } = found;
  return asked.bias?.shape === 'tilt'
    ? (x: number, y: number) => slope * run(x, y)
    : (x: number, y: number) => slope * Math.abs(run(x, y));
}
