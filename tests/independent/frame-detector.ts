/** What light and lenses, a camera's noise and its digits do to a frame. Light 0 to 1, full scale at 1. Shares no code with src/. */
import { deviates } from './random.ts';

export interface Detector {
  /** Of the light over the frame: the size of each low-order term, at random. */
  readonly uneven: number;
  /** What is lost at the frame's corner, r⁴ from the middle. */
  readonly vignetting: number;
  /** How many, of 1 to 6 pixels across, each with a ring or two about it. */
  readonly specks: number;
  /** Standard deviation of each pixel, of full scale. */
  readonly noise: number;
  /** Electrons at full scale; undefined: no shot noise. */
  readonly well?: number;
  /** Grey levels above dark; undefined: not digitised, and not clipped. */
  readonly levels?: number;
}

export interface DetectedFrame {
  readonly width: number;
  readonly height: number;
  readonly values: Float32Array;
  readonly levels?: number;
}

export const PERFECT: Detector = { uneven: 0, vignetting: 0, specks: 0, noise: 0 };

export function detected(
  light: Float64Array,
  { width, height }: { readonly width: number; readonly height: number },
  detector: Detector,
  seed: number,
  /** Of frames with the same light and dust, the number of the noise. */
  take = 0,
): DetectedFrame {
  const { noise, well, levels, vignetting } = detector;
  const random = deviates(seed);
  const terms = Array.from({ length: 6 }, () => detector.uneven * (2 * random.uniform() - 1));
  const dust = dustOver(width, height, detector.specks, random.uniform);
  const draw = manyNormals(deviates(seed + 1 + take).uniform);
  const values = new Float32Array(width * height);
  const isNoisy = noise > 0 || well !== undefined;
  for (let row = 0, at = 0; row < height; row++) {
    const v = (2 * row) / height - 1;
    for (let column = 0; column < width; column++, at++) {
      const u = (2 * column) / width - 1;
      const [a, b, c, d, e, f] = terms as [number, number, number, number, number, number];
      const shape = 1 + a * u + b * v + c * u * u + d * u * v + e * v * v + f * u * v * v;
      const seen = light[at]! * shape * (1 - (vignetting * (u * u + v * v) ** 2) / 4) * dust[at]!;
      const spread = well === undefined ? noise : Math.sqrt(noise * noise + seen / well);
      const value = isNoisy ? seen + spread * draw() : seen;
      values[at] =
        levels === undefined ? value : Math.round(levels * Math.min(1, Math.max(0, value))) / levels;
    }
  }
  return { width, height, values, ...(levels === undefined ? {} : { levels }) };
}

/** What passes each pixel. */
function dustOver(width: number, height: number, specks: number, uniform: () => number): Float64Array {
  const passes = new Float64Array(width * height).fill(1);
  for (let speck = 0; speck < specks; speck++) {
    const [x, y] = [width * uniform(), height * uniform()];
    const radius = 0.5 + 2.5 * uniform();
    const depth = 0.2 + 0.6 * uniform();
    const reach = Math.ceil(4 * radius);
    for (let row = Math.max(0, Math.floor(y) - reach); row < Math.min(height, y + reach); row++)
      for (let column = Math.max(0, Math.floor(x) - reach); column < Math.min(width, x + reach); column++) {
        const away = Math.hypot(column - x, row - y) / radius;
        // Out of focus: a dark middle, and rings that die away.
        passes[row * width + column]! *= 1 - depth * Math.exp(-(away ** 2) / 3) * Math.cos(1.5 * away) ** 2;
      }
  }
  return passes;
}

const KEPT = 1 << 20;
let kept: Float32Array | undefined;

/** Normal deviates out of a million that are drawn once, from random places of the list: a frame takes many. */
function manyNormals(uniform: () => number): () => number {
  if (kept === undefined) {
    const { normal } = deviates(71);
    kept = Float32Array.from({ length: KEPT }, normal);
  }
  const list = kept;
  let [at, left] = [0, 0];
  return () => {
    if (left-- === 0) {
      at = Math.floor(uniform() * KEPT);
      left = 400;
    }
    at = (at + 1) & (KEPT - 1);
    return list[at]!;
  };
}
