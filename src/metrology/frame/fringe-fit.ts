/**
 * Least squares of a patch's intensities by I = a + b κ cos 2π(W + Σ amount · shape + φ).
 *
 * a and b are polynomials of degree 2 over the patch: light that is uneven takes b along with a, but for what a prior allows. κ is what finite
 * pixels leave of the contrast. φ is a frame's own piston. Levenberg's damping on the way (Quart. Appl. Math. 2, 164, 1944); covariance
 * from the normal matrix with the priors in it. Source of the bound that it comes near to: D. C. Rife, R. R. Boorstyn, IEEE Trans. Inf.
 * Theory 20, 591 (1974), from memory.
 */
import { clip } from './clipped-value.ts';
import { NormalMatrix } from './normal-matrix.ts';

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

export interface FringeFit {
  /** All unknowns: amounts, pistons, a, b. */
  readonly x: Float64Array;
  readonly amounts: Float64Array;
  /** Waves, one a frame. */
  readonly pistons: Float64Array;
  /** In the middle of the patch. */
  readonly level: number;
  readonly amplitude: number;
  /** Σ residual² over the used values, and how many there are. */
  readonly squares: number;
  readonly values: number;
  /** Of the values alone, without what is known before. */
  readonly normal: NormalMatrix;
}

/** Terms of a and of b: 1, u, v, u², uv, v². */
const LIGHT = 6;
/** How far light is uneven over a patch, and how far b goes its own way, as parts of the mean: common practice. */
const UNEVEN = 0.3;
const APART = 0.1;
/** Fringes: a step smaller than this changes nothing. */
const CONVERGED = 1e-4;
/** Squares in units of the variance: a step that gains less moves nothing by more than a fraction of its uncertainty. */
const SETTLED = 0.02;
const TURN = 2 * Math.PI;

export const unknownsOf = ({ shapes, values }: FitPixels): number =>
  shapes.length + values.length + 2 * LIGHT;

/** All unknowns with the given amounts, the others as they fit best beside them; undefined where there is nothing to fit. */
export function startAt(pixels: FitPixels, amounts: ArrayLike<number>): Float64Array | undefined {
  const { count, u, v, waves, shapes, contrast, used, values } = pixels;
  const frames = values.length;
  const n = shapes.length;
  const x = new Float64Array(unknownsOf(pixels));
  for (let k = 0; k < n; k++) x[k] = amounts[k]!;
  let level = 0;
  let amplitude = 0;
  const row = new Float64Array(5);
  for (let f = 0; f < frames; f++) {
    const normal = new NormalMatrix(5);
    const seen = values[f]!;
    for (let i = 0; i < count; i++) {
      if (used[i] === 0) continue;
      let w = waves[i]!;
      for (let k = 0; k < n; k++) w += x[k]! * shapes[k]![i]!;
      row[0] = 1;
      row[1] = u[i]!;
      row[2] = v[i]!;
      row[3] = contrast[i]! * Math.cos(TURN * w);
      row[4] = -contrast[i]! * Math.sin(TURN * w);
      normal.add(row, seen[i]!);
    }
    const found = normal.solve(STIFF);
    if (found === undefined) return undefined;
    level += found[0]! / frames;
    amplitude += Math.hypot(found[3]!, found[4]!) / frames;
    x[n + f] = Math.atan2(found[4]!, found[3]!) / TURN;
  }
  x[n + frames] = level;
  x[n + frames + LIGHT] = Math.max(amplitude, 1e-6);
  return level > 0 ? x : undefined;
}

/** Of the diagonal: where there are next to no fringes the cosine is one with the level. */
const STIFF = 1e-6;

/** From all unknowns `start`. `noise`: standard deviation of a value, for the weight of what is known before. Undefined where the values tell nothing. */
export function fitFringes(
  pixels: FitPixels,
  start: Float64Array,
  noise: number,
  steps: number,
): FringeFit | undefined {
  const phases = pixels.shapes.length + pixels.values.length;
  let x = start;
  let normal = new NormalMatrix(x.length);
  let own = assemble(pixels, x, normal);
  let held = normal.copy();
  let squares = own + addPriors(pixels, x, held, noise);
  let damping = 1e-3;
  for (let step = 0; step < steps; step++) {
    const by = held.solve(damping);
    if (by === undefined) return undefined;
    const trial = x.map((value, k) => value + by[k]!);
    const next = new NormalMatrix(x.length);
    const nextOwn = assemble(pixels, trial, next);
    const nextHeld = next.copy();
    const after = nextOwn + addPriors(pixels, trial, nextHeld, noise);
    if (!(after <= squares * (1 + 1e-9))) {
      damping = Math.max(1e-4, damping) * 10;
      if (damping > 1e4) break;
      continue;
    }
    let largest = 0;
    for (let k = 0; k < phases; k++) largest = Math.max(largest, Math.abs(by[k]!));
    const isSettled = squares - after < SETTLED * noise * noise;
    [x, normal, held, own, squares] = [trial, next, nextHeld, nextOwn, after];
    damping *= 0.1;
    if (largest < CONVERGED || isSettled) break;
  }
  return fitAt(pixels, x, normal, own);
}

function fitAt(pixels: FitPixels, x: Float64Array, normal: NormalMatrix, squares: number): FringeFit {
  const n = pixels.shapes.length;
  const phases = n + pixels.values.length;
  let used = 0;
  for (let i = 0; i < pixels.count; i++) used += pixels.used[i]!;
  return {
    ...{ x, normal, squares },
    amounts: x.subarray(0, n),
    pistons: x.subarray(n, phases),
    level: x[phases]!,
    amplitude: x[phases + LIGHT]!,
    values: used * pixels.values.length,
  };
}

/** The fit with what is known before in its true weight: amounts, and the first `count` rows and columns of (JᵀJ + priors)⁻¹. */
export function heldBy(
  pixels: FitPixels,
  { x, normal }: FringeFit,
  noise: number,
  count: number,
): { readonly amounts: Float64Array; readonly inverse: Float64Array } | undefined {
  const held = normal.copy();
  addPriors(pixels, x, held, noise);
  const by = held.solve();
  const inverse = held.inverse(count);
  if (by === undefined || inverse === undefined) return undefined;
  return { amounts: x.slice(0, count).map((amount, k) => amount + by[k]!), inverse };
}

/** Adds all used values; Σ residual². */
function assemble(pixels: FitPixels, x: Float64Array, normal: NormalMatrix): number {
  const { count, values, u, v, waves, shapes, contrast, used, clipped } = pixels;
  const frames = values.length;
  const n = shapes.length;
  const a = n + frames;
  const b = a + LIGHT;
  const size = b + LIGHT;
  const row = new Float64Array(size);
  const terms = new Float64Array(LIGHT);
  const seen = { value: 0, slope: 1 };
  const { matrix, vector } = normal;
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
      for (let k = 0; k < n; k++) row[k] = perWave * shapes[k]![i]!;
      for (let k = 0; k < frames; k++) row[n + k] = k === f ? perWave : 0;
      for (let k = 0; k < LIGHT; k++) {
        row[a + k] = slope * terms[k]!;
        row[b + k] = slope * cosine * terms[k]!;
      }
      // NormalMatrix.add written out: this runs for each pixel in each step.
      for (let r = 0; r < size; r++) {
        const d = row[r]!;
        vector[r]! += d * left;
        for (let c = 0, at = r * size; c <= r; c++, at++) matrix[at]! += d * row[c]!;
      }
    }
  }
  return squares;
}

function lightTerms(p: number, q: number, terms: Float64Array): void {
  terms[0] = 1;
  terms[1] = p;
  terms[2] = q;
  terms[3] = p * p;
  terms[4] = p * q;
  terms[5] = q * q;
}

/** Value less model for each pixel of each frame. */
export function residualsOf(pixels: FitPixels, { x }: FringeFit): readonly Float64Array[] {
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

/** What is known before: amounts, light about even, b as uneven as a. Σ of their squares, in units of a value's. */
function addPriors(pixels: FitPixels, x: Float64Array, normal: NormalMatrix, noise: number): number {
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
  for (let k = 1; k < LIGHT; k++) {
    row[a + k] = 1 / level;
    hold(-x[a + k]! / level, UNEVEN);
    row[a + k] = -1 / level;
    row[b + k] = 1 / amplitude;
    hold(x[a + k]! / level - x[b + k]! / amplitude, APART);
  }
  return squares;
}
