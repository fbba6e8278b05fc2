/**
 * Least squares of a patch's intensities by I = a + b κ cos 2π(W + Σ amount · shape + φ).
 *
 * a and b are polynomials of degree 2 over the patch: light that is uneven takes b along with a, but for what a prior allows. κ is what finite
 * pixels leave of the contrast. φ is a frame's own piston. Levenberg's damping on the way (Quart. Appl. Math. 2, 164, 1944); covariance
 * from the normal matrix with the priors in it. Source of the bound that it comes near to: D. C. Rife, R. R. Boorstyn, IEEE Trans. Inf.
 * Theory 20, 591 (1974), from memory.
 */
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
}

export interface FringeFit {
  readonly amounts: Float64Array;
  /** Waves, one a frame. */
  readonly pistons: Float64Array;
  /** In the middle of the patch. */
  readonly level: number;
  readonly amplitude: number;
  /** The model's own a and b, in the order of `light`; to go on from. */
  readonly light: Float64Array;
  /** Σ residual² over the used values, and how many there are. */
  readonly squares: number;
  readonly values: number;
  readonly unknowns: number;
  readonly residuals: readonly Float64Array[];
  readonly normal: NormalMatrix;
}

export interface FitStart {
  readonly amounts: ArrayLike<number>;
  /** From an earlier fit of the same patch. */
  readonly pistons?: Float64Array;
  readonly light?: Float64Array;
}

/** Terms of a and of b: 1, u, v, u², uv, v². */
const LIGHT = 6;
/** How far light is uneven over a patch, and how far b goes its own way, as parts of the mean: common practice. */
const UNEVEN = 0.3;
const APART = 0.1;
/** Fringes: a step smaller than this changes nothing. */
const CONVERGED = 1e-5;
const TURN = 2 * Math.PI;

/** `noise`: standard deviation of a value, for the weight of the priors. Undefined where the values tell nothing. */
export function fitFringes(
  pixels: FitPixels,
  start: FitStart,
  noise: number,
  steps: number,
): FringeFit | undefined {
  const frames = pixels.values.length;
  const n = pixels.shapes.length;
  const size = n + frames + 2 * LIGHT;
  const normal = new NormalMatrix(size);
  let x = new Float64Array(size);
  for (let k = 0; k < n; k++) x[k] = start.amounts[k]!;
  if (start.pistons !== undefined && start.light !== undefined) {
    x.set(start.pistons, n);
    x.set(start.light, n + frames);
  } else if (!startLight(pixels, x)) return undefined;
  let damping = 1e-3;
  let squares = assemble(pixels, x, normal, undefined) + addPriors(pixels, x, normal, noise);
  for (let step = 0; step < steps; step++) {
    const by = normal.solve(damping);
    if (by === undefined) return undefined;
    const trial = x.map((value, k) => value + by[k]!);
    const before = { matrix: normal.matrix.slice(), vector: normal.vector.slice() };
    normal.clear();
    const after = assemble(pixels, trial, normal, undefined) + addPriors(pixels, trial, normal, noise);
    if (!(after <= squares * (1 + 1e-12))) {
      normal.matrix.set(before.matrix);
      normal.vector.set(before.vector);
      damping = Math.max(1e-6, damping) * 10;
      if (damping > 1e6) break;
      continue;
    }
    x = trial;
    damping *= 0.1;
    const settled = squares - after < 1e-9 * squares;
    squares = after;
    let largest = 0;
    for (let k = 0; k < n + frames; k++) largest = Math.max(largest, Math.abs(by[k]!));
    if (largest < CONVERGED || (settled && largest < 1e-3)) break;
  }
  const residuals = pixels.values.map(() => new Float64Array(pixels.count));
  normal.clear();
  const left = assemble(pixels, x, normal, residuals);
  addPriors(pixels, x, normal, noise);
  const used = pixels.used.reduce((sum, each) => sum + each, 0);
  const light = x.slice(n + frames);
  return {
    amounts: x.slice(0, n),
    pistons: x.slice(n, n + frames),
    level: light[0]!,
    amplitude: light[LIGHT]!,
    light,
    squares: left,
    values: used * frames,
    unknowns: size,
    residuals,
    normal,
  };
}

/** a, b and the pistons at the given amounts, linear in cosine and sine. False where there is nothing to fit. */
function startLight(pixels: FitPixels, x: Float64Array): boolean {
  const { count, u, v, waves, shapes, contrast, used, values } = pixels;
  const frames = values.length;
  const n = shapes.length;
  let [level, amplitude] = [0, 0];
  const normal = new NormalMatrix(5);
  const row = new Float64Array(5);
  for (let f = 0; f < frames; f++) {
    normal.clear();
    const seen = values[f]!;
    for (let i = 0; i < count; i++) {
      if (used[i] === 0) continue;
      let w = waves[i]!;
      for (let k = 0; k < n; k++) w += x[k]! * shapes[k]![i]!;
      const angle = TURN * w;
      row[0] = 1;
      row[1] = u[i]!;
      row[2] = v[i]!;
      row[3] = contrast[i]! * Math.cos(angle);
      row[4] = -contrast[i]! * Math.sin(angle);
      normal.add(row, seen[i]!);
    }
    // A little damping: near no fringes the cosine is the level.
    const found = normal.solve(1e-6);
    if (found === undefined) return false;
    level += found[0]! / frames;
    amplitude += Math.hypot(found[3]!, found[4]!) / frames;
    x[n + f] = Math.atan2(found[4]!, found[3]!) / TURN;
  }
  x[n + frames] = level;
  x[n + frames + LIGHT] = Math.max(amplitude, 1e-6);
  return level > 0;
}

/** Adds all used values; Σ residual². */
function assemble(
  { count, values, u, v, waves, shapes, contrast, used }: FitPixels,
  x: Float64Array,
  normal: NormalMatrix,
  residuals: readonly Float64Array[] | undefined,
): number {
  const frames = values.length;
  const n = shapes.length;
  const a = n + frames;
  const b = a + LIGHT;
  const size = b + LIGHT;
  const row = new Float64Array(size);
  const terms = new Float64Array(LIGHT);
  const { matrix, vector } = normal;
  let squares = 0;
  for (let i = 0; i < count; i++) {
    const isUsed = used[i] === 1;
    if (!isUsed && residuals === undefined) continue;
    const [p, q] = [u[i]!, v[i]!];
    terms[0] = 1;
    terms[1] = p;
    terms[2] = q;
    terms[3] = p * p;
    terms[4] = p * q;
    terms[5] = q * q;
    let w = waves[i]!;
    for (let k = 0; k < n; k++) w += x[k]! * shapes[k]![i]!;
    let [level, amplitude] = [0, 0];
    for (let k = 0; k < LIGHT; k++) {
      level += x[a + k]! * terms[k]!;
      amplitude += x[b + k]! * terms[k]!;
    }
    for (let f = 0; f < frames; f++) {
      const angle = TURN * (w + x[n + f]!);
      const cosine = contrast[i]! * Math.cos(angle);
      const left = values[f]![i]! - level - amplitude * cosine;
      if (residuals !== undefined) residuals[f]![i] = left;
      if (!isUsed) continue;
      squares += left * left;
      const perWave = -TURN * amplitude * contrast[i]! * Math.sin(angle);
      for (let k = 0; k < n; k++) row[k] = perWave * shapes[k]![i]!;
      for (let k = 0; k < frames; k++) row[n + k] = k === f ? perWave : 0;
      for (let k = 0; k < LIGHT; k++) {
        row[a + k] = terms[k]!;
        row[b + k] = cosine * terms[k]!;
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

/** What is known before: amounts about 0, light about even, b as uneven as a. Σ of their squares, in units of a value's. */
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
