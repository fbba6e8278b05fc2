/**
 * The fit of a patch's intensities (fringe-model.ts) by least squares, with Levenberg's damping on the way (Quart. Appl. Math. 2, 164, 1944);
 * covariance from the normal matrix with the priors in it. Source of the bound that it comes near to: D. C. Rife, R. R. Boorstyn, IEEE
 * Trans. Inf. Theory 20, 591 (1974), from memory.
 */
import { cosineAndSine } from '../../algebra/turns.ts';
import { addPriors, assemble, type FitPixels, lightTerms, UNEVEN } from './fringe-model.ts';
import { LIGHT, LightSums } from './light-sums.ts';
import { NormalMatrix } from './normal-matrix.ts';

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

/** Fringes: a step smaller than this changes nothing. */
const CONVERGED = 1e-4;
/** Squares in units of the variance: a step that gains less moves nothing by more than a fraction of its uncertainty, and the next one gains far less. */
const SETTLED = 0.1;
const TURN = 2 * Math.PI;

export const unknownsOf = ({ shapes, values }: FitPixels): number =>
  shapes.length + values.length + 2 * LIGHT;

/** All unknowns with the given amounts, the others as they fit best beside them; undefined where there is nothing to fit. */
export function startAt(pixels: FitPixels, amounts: ArrayLike<number>): Float64Array | undefined {
  const { count, waves, shapes, contrast, used, values } = pixels;
  const frames = values.length;
  const n = shapes.length;
  const x = new Float64Array(unknownsOf(pixels));
  for (let k = 0; k < n; k++) x[k] = amounts[k]!;
  let level = 0;
  let amplitude = 0;
  const row = new Float64Array(3);
  const turned = new Float64Array(2);
  for (let f = 0; f < frames; f++) {
    const normal = new NormalMatrix(3);
    const seen = values[f]!;
    for (let i = 0; i < count; i++) {
      if (used[i] === 0) continue;
      let w = waves[i]!;
      for (let k = 0; k < n; k++) w += x[k]! * shapes[k]![i]!;
      cosineAndSine(w, turned);
      row[0] = 1;
      row[1] = contrast[i]! * turned[0]!;
      row[2] = -contrast[i]! * turned[1]!;
      normal.add(row, seen[i]!);
    }
    const found = normal.solve(STIFF);
    if (found === undefined) return undefined;
    level += found[0]! / frames;
    amplitude += Math.hypot(found[1]!, found[2]!) / frames;
    x[n + f] = Math.atan2(found[2]!, found[1]!) / TURN;
  }
  x[n + frames] = level;
  x[n + frames + LIGHT] = Math.max(amplitude, 1e-6);
  return level > 0 ? x : undefined;
}

/** Of the diagonal: where there are next to no fringes the cosine is one with the level. */
const STIFF = 1e-6;

/** When a fit is over. */
interface FitEnd {
  /** At the latest. */
  readonly steps: number;
  /** Squares that a fit which leads anywhere is below after some steps. */
  readonly hopeless?: number;
}

/** Steps after which a fit that leads to the picture's fringes has most of them. */
const HOPE = 4;

/**
 * From all unknowns `start`. `noise`: standard deviation of a value, for the weight of what is known before. Undefined where the values tell
 * nothing, or it is hopeless.
 */
export function fitFringes(
  pixels: FitPixels,
  start: Float64Array,
  noise: number,
  { steps, hopeless = Number.POSITIVE_INFINITY }: FitEnd,
): FringeFit | undefined {
  const phases = pixels.shapes.length + pixels.values.length;
  const sums = new LightSums(phases);
  let x = start;
  let normal = new NormalMatrix(x.length);
  let own = assemble(pixels, x, normal, sums);
  let held = normal.copy();
  let squares = own + addPriors(pixels, x, held, noise);
  let damping = 1e-3;
  // Those of a step that is tried, which change places with the others where it is taken.
  let next = new NormalMatrix(x.length);
  let nextHeld = new NormalMatrix(x.length);
  for (let step = 0; step < steps; step++) {
    const by = held.solve(damping);
    if (by === undefined || (step === HOPE && squares > hopeless)) return undefined;
    const trial = x.map((value, k) => value + by[k]!);
    next.clear();
    const nextOwn = assemble(pixels, trial, next, sums);
    nextHeld.take(next);
    const after = nextOwn + addPriors(pixels, trial, nextHeld, noise);
    if (!(after <= squares * (1 + 1e-9))) {
      damping = Math.max(1e-4, damping) * 10;
      if (damping > 1e4) break;
      continue;
    }
    let largest = 0;
    for (let k = 0; k < phases; k++) largest = Math.max(largest, Math.abs(by[k]!));
    const isSettled = squares - after < SETTLED * noise * noise;
    [x, own, squares] = [trial, nextOwn, after];
    [normal, next] = [next, normal];
    [held, nextHeld] = [nextHeld, held];
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

/** Σ residual² by which light without fringes, as uneven as it may be, leaves more than the fit does, what is known before counted in. */
export function squaresByFringes(pixels: FitPixels, { x, squares }: FringeFit, noise: number): number {
  const held = squares + addPriors(pixels, x, new NormalMatrix(x.length), noise);
  const { count, u, v, used, values } = pixels;
  const terms = new Float64Array(LIGHT);
  const prior = new Float64Array(LIGHT);
  let flat = 0;
  for (const seen of values) {
    const normal = new NormalMatrix(LIGHT);
    let total = 0;
    let sum = 0;
    let number = 0;
    for (let i = 0; i < count; i++) {
      if (used[i] === 0) continue;
      lightTerms(u[i]!, v[i]!, terms);
      normal.add(terms, seen[i]!);
      total += seen[i]! * seen[i]!;
      sum += seen[i]!;
      number++;
    }
    const level = Math.max(1e-9, sum / Math.max(1, number));
    for (let k = 1; k < LIGHT; k++) {
      prior.fill(0);
      prior[k] = 1 / level;
      normal.add(prior, 0, (noise / UNEVEN) ** 2);
    }
    const by = normal.solve();
    // Least squares leave y·y − x·(Jᵀy).
    flat +=
      by === undefined ? total : total - by.reduce((part, value, k) => part + value * normal.vector[k]!, 0);
  }
  return Math.max(0, flat - held);
}
