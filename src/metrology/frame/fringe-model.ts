/**
 * The intensities of a patch's pixels, I = a + b κ cos 2π(W + Σ amount · shape + φ), as normal equations of a fit: of the values, and of what
 * is known before. The unknowns in their order: an amount a shape, φ of each frame (waves), a's terms, b's terms.
 *
 * a and b are polynomials of degree 2 over the patch: light that is uneven takes b along with a, but for what a prior allows. κ is what finite
 * pixels leave of the contrast.
 */
import { cosineAndSine } from '../../algebra/turns.ts';
import { clip } from './clipped-value.ts';
import { LEFT, LIGHT, LightSums, PHASES } from './light-sums.ts';
import type { NormalMatrix } from './normal-matrix.ts';

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

/**
 * All of a fit's pixels are made here, field by field in one order and with lists of one kind: an engine makes code that sums over them anew for
 * each other form that they come in, which takes longer than to read a patch.
 */
export const fitPixels = (own: FitPixels): FitPixels => ({
  count: own.count,
  values: listed(own.values),
  u: own.u,
  v: own.v,
  waves: own.waves,
  shapes: listed(own.shapes),
  expected: own.expected,
  spread: own.spread,
  contrast: own.contrast,
  used: own.used,
  clipped: own.clipped,
});

/** Grown one by one: what `map` makes is of another kind in optimised code. */
function listed(arrays: readonly Float64Array[]): readonly Float64Array[] {
  const list: Float64Array[] = [];
  for (const each of arrays) list.push(each);
  return list;
}

/** How far light is uneven over a patch, and how far b goes its own way, as parts of the mean: common practice. */
export const UNEVEN = 0.15;
const APART = 0.05;
/** b/a: where a picture has less than a fringe, only its product with the fringes is seen. Common practice. */
const VISIBILITY = { expected: 0.6, spread: 0.3 } as const;
const TURN = 2 * Math.PI;

/** Adds all used values; Σ residual². `sums`: room for it, empty before and after. */
export function assemble(
  pixels: FitPixels,
  x: Float64Array,
  normal: NormalMatrix,
  sums = new LightSums(pixels.shapes.length + pixels.values.length),
): number {
  const { count, values, u, v, waves, shapes, contrast, used, clipped } = pixels;
  const { size, matrix, vector } = normal;
  const frames = values.length;
  const n = shapes.length;
  const a = n + frames;
  const b = a + LIGHT;
  const { row } = sums;
  const byShape = new Float64Array(n);
  const turned = new Float64Array(2);
  const seen = { value: 0, slope: 1 };
  let squares = 0;
  let q = Number.NaN;
  // a and b along the row: 1, u and u².
  let a0 = 0;
  let a1 = 0;
  let b0 = 0;
  let b1 = 0;
  const a2 = x[a + 3]!;
  const b2 = x[b + 3]!;
  for (let i = 0; i < count; i++) {
    if (used[i] === 0) continue;
    if (v[i] !== q) {
      if (!Number.isNaN(q)) sums.close(q);
      q = v[i]!;
      a0 = x[a]! + q * (x[a + 2]! + q * x[a + 5]!);
      a1 = x[a + 1]! + q * x[a + 4]!;
      b0 = x[b]! + q * (x[b + 2]! + q * x[b + 5]!);
      b1 = x[b + 1]! + q * x[b + 4]!;
    }
    const p = u[i]!;
    const pp = p * p;
    const level = a0 + p * (a1 + p * a2);
    const amplitude = b0 + p * (b1 + p * b2);
    let w = waves[i]!;
    for (let k = 0; k < n; k++) w += x[k]! * shapes[k]![i]!;
    for (let f = 0; f < frames; f++) {
      cosineAndSine(w + x[n + f]!, turned);
      const cosine = contrast[i]! * turned[0]!;
      clip(level + amplitude * cosine, clipped, seen);
      const { slope } = seen;
      const left = values[f]![i]! - seen.value;
      squares += left * left;
      const s2 = slope * slope;
      const s2c = s2 * cosine;
      const s2cc = s2c * cosine;
      row[0]! += s2;
      row[1]! += s2 * p;
      row[2]! += s2 * pp;
      row[3]! += s2 * pp * p;
      row[4]! += s2 * pp * pp;
      row[5]! += s2c;
      row[6]! += s2c * p;
      row[7]! += s2c * pp;
      row[8]! += s2c * pp * p;
      row[9]! += s2c * pp * pp;
      row[10]! += s2cc;
      row[11]! += s2cc * p;
      row[12]! += s2cc * pp;
      row[13]! += s2cc * pp * p;
      row[14]! += s2cc * pp * pp;
      const s = slope;
      const sp = s * p;
      const spp = s * pp;
      const c = slope * cosine;
      const cp = c * p;
      const cpp = c * pp;
      row[LEFT]! += left * s;
      row[LEFT + 1]! += left * sp;
      row[LEFT + 2]! += left * spp;
      row[LEFT + 3]! += left * c;
      row[LEFT + 4]! += left * cp;
      row[LEFT + 5]! += left * cpp;
      const perWave = -TURN * amplitude * contrast[i]! * turned[1]! * slope;
      for (let k = 0; k < n; k++) byShape[k] = perWave * shapes[k]![i]!;
      // The shapes, then the frame's own piston: those of the others do nothing to its values.
      for (let k = 0; k <= n; k++) {
        const derivative = k < n ? byShape[k]! : perWave;
        const phase = k < n ? k : n + f;
        const at = PHASES + phase * LIGHT;
        row[at]! += derivative * s;
        row[at + 1]! += derivative * sp;
        row[at + 2]! += derivative * spp;
        row[at + 3]! += derivative * c;
        row[at + 4]! += derivative * cp;
        row[at + 5]! += derivative * cpp;
        vector[phase]! += derivative * left;
        const start = phase * size;
        const before = k < n ? k + 1 : n;
        for (let m = 0; m < before; m++) matrix[start + m]! += derivative * byShape[m]!;
      }
      matrix[(n + f) * (size + 1)]! += perWave * perWave;
    }
  }
  if (!Number.isNaN(q)) sums.close(q);
  sums.addTo(normal);
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
  const turned = new Float64Array(2);
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
      cosineAndSine(w, turned);
      clip(level + amplitude * contrast[i]! * turned[0]!, clipped, seen);
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
