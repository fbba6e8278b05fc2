/**
 * The intensities of a patch's pixels, I = a + b κ cos 2π(W + Σ amount · shape + φ), as normal equations of a fit: of the values, and of what
 * is known before. The unknowns in their order: an amount a shape, φ of each frame (waves), a's terms, b's terms.
 *
 * a and b are polynomials of degree 2 over the patch: light that is uneven takes b along with a, but for what a prior allows. κ is what finite
 * pixels leave of the contrast.
 */
import { clip } from './clipped-value.ts';
import { type NormalMatrix, NormalRows } from './normal-matrix.ts';

export interface FitPixels {
  readonly count: number;
  /** One array a frame. */
  readonly values: readonly Float64Array[];
  readonly u: Float64Array;
  readonly v: Float64Array;
  readonly waves: Float64Array;
  readonly shapes: readonly Float64Array[];
  /** Each shape's amount before anything is seen: its mean and standard deviation. */
  readonly expected: readonly number[];
  readonly spread: readonly number[];
  readonly contrast: Float64Array;
  /** 0: left out. */
  readonly used: Uint8Array;
  /** Standard deviation of the noise that values had before they were clipped to 0 and 1; 0: none is clipped. */
  readonly clipped: number;
}

/** Terms of a and of b: 1, u, v, u², uv, v². */
export const LIGHT = 6;
/** How far light is uneven over a patch, and how far b goes its own way, as parts of the mean: common practice. */
export const UNEVEN = 0.15;
const APART = 0.05;
/** b/a: where a picture has less than a fringe, only its product with the fringes is seen. Common practice. */
const VISIBILITY = { expected: 0.6, spread: 0.3 } as const;
const TURN = 2 * Math.PI;

/** Adds all used values; Σ residual². */
export function assemble(pixels: FitPixels, x: Float64Array, normal: NormalMatrix): number {
  const { count, values, u, v, waves, shapes, contrast, used, clipped } = pixels;
  const frames = values.length;
  const n = shapes.length;
  const a = n + frames;
  const b = a + LIGHT;
  const rows = new NormalRows(normal);
  const terms = new Float64Array(LIGHT);
  const seen = { value: 0, slope: 1 };
  const { derivatives } = rows;
  let squares = 0;
  for (let i = 0; i < count; i++) {
    if (used[i] === 0) continue;
    lightTerms(u[i]!, v[i]!, terms);
    let w = waves[i]!;
    for (let k = 0; k < n; k++) w += x[k]! * shapes[k]![i]!;
    let level = 0;
    let amplitude = 0;
    for (let k = 0; k < LIGHT; k++) {
      level += x[a + k]! * terms[k]!;
      amplitude += x[b + k]! * terms[k]!;
    }
    for (let f = 0; f < frames; f++) {
      const angle = TURN * (w + x[n + f]!);
      const cosine = contrast[i]! * Math.cos(angle);
      clip(level + amplitude * cosine, clipped, seen);
      const { slope } = seen;
      const left = values[f]![i]! - seen.value;
      squares += left * left;
      const perWave = -TURN * amplitude * contrast[i]! * Math.sin(angle) * slope;
      const start = rows.next(left);
      for (let k = 0; k < n; k++) derivatives[start + k] = perWave * shapes[k]![i]!;
      for (let k = 0; k < frames; k++) derivatives[start + n + k] = k === f ? perWave : 0;
      for (let k = 0; k < LIGHT; k++) {
        derivatives[start + a + k] = slope * terms[k]!;
        derivatives[start + b + k] = slope * cosine * terms[k]!;
      }
    }
  }
  rows.close();
  return squares;
}

export function lightTerms(p: number, q: number, terms: Float64Array): void {
  terms[0] = 1;
  terms[1] = p;
  terms[2] = q;
  terms[3] = p * p;
  terms[4] = p * q;
  terms[5] = q * q;
}

/** b/a, each its mean over the used pixels: in the middle, where a roof has none, b is less sure. */
export function meanVisibility(
  { count, values, shapes, u, v, used }: FitPixels,
  { x }: { readonly x: Float64Array },
): number {
  const a = shapes.length + values.length;
  const terms = new Float64Array(LIGHT);
  let [level, amplitude] = [0, 0];
  for (let i = 0; i < count; i++) {
    if (used[i] === 0) continue;
    lightTerms(u[i]!, v[i]!, terms);
    for (let k = 0; k < LIGHT; k++) {
      level += x[a + k]! * terms[k]!;
      amplitude += x[a + LIGHT + k]! * terms[k]!;
    }
  }
  return Math.abs(amplitude) / level;
}

/** Value less model for each pixel of each frame. */
export function residualsOf(pixels: FitPixels, { x }: { readonly x: Float64Array }): readonly Float64Array[] {
  const { count, values, u, v, waves, shapes, contrast, clipped } = pixels;
  const n = shapes.length;
  const a = n + values.length;
  const terms = new Float64Array(LIGHT);
  const seen = { value: 0, slope: 1 };
  return values.map((own, f) => {
    const left = new Float64Array(count);
    for (let i = 0; i < count; i++) {
      lightTerms(u[i]!, v[i]!, terms);
      let w = waves[i]! + x[n + f]!;
      for (let k = 0; k < n; k++) w += x[k]! * shapes[k]![i]!;
      let level = 0;
      let amplitude = 0;
      for (let k = 0; k < LIGHT; k++) {
        level += x[a + k]! * terms[k]!;
        amplitude += x[a + LIGHT + k]! * terms[k]!;
      }
      clip(level + amplitude * contrast[i]! * Math.cos(TURN * w), clipped, seen);
      left[i] = own[i]! - seen.value;
    }
    return left;
  });
}

/** Adds what is known before: amounts, light about even, b as uneven as a. Σ of their squares, in units of a value's. */
export function addPriors(pixels: FitPixels, x: Float64Array, normal: NormalMatrix, noise: number): number {
  const n = pixels.shapes.length;
  const a = n + pixels.values.length;
  const b = a + LIGHT;
  const row = new Float64Array(b + LIGHT);
  let squares = 0;
  const hold = (left: number, spread: number): void => {
    const weight = (noise / spread) ** 2;
    normal.add(row, left, weight);
    squares += weight * left * left;
    row.fill(0);
  };
  for (let k = 0; k < n; k++) {
    const spread = pixels.spread[k]!;
    if (spread === Number.POSITIVE_INFINITY) continue;
    row[k] = 1;
    hold(pixels.expected[k]! - x[k]!, spread);
  }
  const level = Math.abs(x[a]!) + 1e-9;
  const amplitude = Math.abs(x[b]!) + 1e-9;
  row[b] = 1 / level;
  hold(VISIBILITY.expected - x[b]! / level, VISIBILITY.spread);
  for (let k = 1; k < LIGHT; k++) {
    row[a + k] = 1 / level;
    hold(-x[a + k]! / level, UNEVEN);
    row[a + k] = -1 / level;
    row[b + k] = 1 / amplitude;
    hold(x[a + k]! / level - x[b + k]! / amplitude, APART);
  }
  return squares;
}
