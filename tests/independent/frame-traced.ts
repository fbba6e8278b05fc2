/**
 * A whole frame of the interferometer's camera: the returned waves of all patches against the beam's own, over finite pixels. Uneven light,
 * vignetting, specks of dust, shot and other noise, and digits are the detector's (frame-detector.ts). Light 0 to 1. Shares no code with src/.
 */
import { type FrameCamera, pixelSeen, placeSeen } from './frame-camera.ts';
import { edgeOf, isIn, type Shape } from './outline-points.ts';

/** A patch's wave on the camera, in all the ways that it comes. */
export interface Lit {
  readonly outline: Shape;
  readonly branches: readonly {
    readonly waves: (x: number, y: number) => number;
    readonly comes: (x: number, y: number) => boolean;
  }[];
  /** (I_max − I_min)/(I_max + I_min) where one ray comes back. */
  readonly visibility: number;
  /** Of the fringes against the phase of the beam, waves. */
  readonly piston?: number;
}

export interface Exposure {
  /** Mean of the fringes over full scale. */
  readonly level: number;
  /** Of the beam's own light from the reference surface as much as is seen beside the patches: 0 to 1. */
  readonly surround: number;
}

/** Places of each pixel a side. */
const SUB = 3;
const TURN = 2 * Math.PI;

/** Row by row from the top left. */
export function tracedFrame(camera: FrameCamera, patches: readonly Lit[], exposure: Exposure): Float64Array {
  const { width, height, off = [0, 0], growth = 0 } = camera;
  const frame = new Float64Array(width * height);
  const beside = exposure.level * exposure.surround * PLAIN_SHARE;
  const radius = (Math.min(width, height) / 2) * (1 + growth);
  const [middle, level] = [(width - 1) / 2 + off[0], (height - 1) / 2 + off[1]];
  for (let row = 0, at = 0; row < height; row++)
    for (let column = 0; column < width; column++, at++)
      if (Math.hypot(column - middle, row - level) < radius) frame[at] = beside;
  for (const patch of patches) addPatch(frame, camera, patch, exposure.level);
  return frame;
}

function addPatch(frame: Float64Array, camera: FrameCamera, patch: Lit, level: number): void {
  const { outline, branches } = patch;
  const place = placeSeen(camera);
  const { left, top, columns, rows } = boxOf(camera, outline);
  // At the middle of each pixel: W of each branch, NaN where nothing comes that way, and how the pixel stands.
  const waves = branches.map(() => new Float64Array(columns * rows).fill(Number.NaN));
  const states = new Uint8Array(columns * rows);
  for (let at = 0; at < states.length; at++) {
    const [x, y] = place(left + (at % columns), top + Math.floor(at / columns));
    if (!isIn(outline, [x, y])) continue;
    states[at] = 1;
    branches.forEach((branch, k) => {
      if (!branch.comes(x, y)) return;
      states[at]! |= 2 << k;
      waves[k]![at] = branch.waves(x, y);
    });
  }
  const light = lightOf(patch);
  for (let row = 1; row < rows - 1; row++)
    for (let column = 1; column < columns - 1; column++) {
      const at = row * columns + column;
      const to = (top + row) * camera.width + left + column;
      if (left + column < 0 || left + column >= camera.width || top + row < 0 || top + row >= camera.height)
        continue;
      if (isEven(states, at, columns)) {
        if (states[at] !== 0) frame[to] = level * evenLight(patch, waves, at, columns);
        continue;
      }
      let [sum, within] = [0, 0];
      for (let k = 0; k < SUB * SUB; k++) {
        const [x, y] = place(
          left + column + (1 + (k % SUB)) / SUB - (SUB + 1) / (2 * SUB),
          top + row + (1 + Math.floor(k / SUB)) / SUB - (SUB + 1) / (2 * SUB),
        );
        if (!isIn(outline, [x, y])) continue;
        within++;
        sum += light(x, y);
      }
      const share = 1 / (SUB * SUB);
      frame[to] = frame[to]! * (1 - within * share) + level * sum * share;
    }
}

/** Pixels that may see a part of the outline, and two more all round. */
function boxOf(camera: FrameCamera, outline: Shape) {
  const pixel = pixelSeen(camera);
  const edge = edgeOf(outline, EDGE_POINTS).map(([x, y]) => pixel(x, y));
  const range = (k: 0 | 1): readonly [number, number] => {
    const values = edge.map((seen) => seen[k]);
    return [Math.floor(Math.min(...values)) - 2, Math.ceil(Math.max(...values)) + 2];
  };
  const [[left, right], [top, bottom]] = [range(0), range(1)];
  return { left, top, columns: right - left + 1, rows: bottom - top + 1 };
}
const EDGE_POINTS = 24;

/** All about it stands as the pixel does. */
function isEven(states: Uint8Array, at: number, columns: number): boolean {
  for (const row of [-columns, 0, columns])
    for (let by = -1; by <= 1; by++) if (states[at + row + by] !== states[at]) return false;
  return true;
}

/** Of the reference surface's light, over the mean of the fringes, beside a patch of the visibility 0.9. */
const PLAIN_SHARE = (1 + Math.sqrt(1 - 0.9 ** 2)) / 2;

/** Amplitudes of the beam's own light and of the returned; intensities 1 together. */
function amplitudes(visibility: number): readonly [number, number] {
  const own = (1 + Math.sqrt(1 - visibility ** 2)) / 2;
  return [Math.sqrt(own), Math.sqrt(1 - own)];
}

/** |√I_r + √I_t Σ exp(2πiW)|² at a place. */
function lightOf({ branches, visibility, piston = 0 }: Lit): (x: number, y: number) => number {
  const [own, back] = amplitudes(visibility);
  return (x, y) => {
    let [re, im] = [own, 0];
    for (const { waves, comes } of branches) {
      if (!comes(x, y)) continue;
      const angle = TURN * (waves(x, y) - piston);
      re += back * Math.cos(angle);
      im += back * Math.sin(angle);
    }
    return re * re + im * im;
  };
}

/** Its mean over a pixel, where each W is linear over it: cos 2πW less by sin πg/πg along columns and along rows, g its slope. */
function evenLight(
  { visibility, piston = 0 }: Lit,
  waves: readonly Float64Array[],
  at: number,
  columns: number,
): number {
  const [own, back] = amplitudes(visibility);
  const seen = waves.filter((each) => !Number.isNaN(each[at]!));
  let light = own * own + seen.length * back * back;
  const mean = (of: (k: number) => number): number =>
    Math.cos(TURN * of(at)) *
    sinc((of(at + 1) - of(at - 1)) / 2) *
    sinc((of(at + columns) - of(at - columns)) / 2);
  for (const each of seen) light += 2 * own * back * mean((k) => each[k]! - piston);
  if (seen.length === 2) light += 2 * back * back * mean((k) => seen[0]![k]! - seen[1]![k]!);
  return light;
}

const sinc = (g: number): number => (Math.abs(g) < 1e-9 ? 1 : Math.sin(Math.PI * g) / (Math.PI * g));
