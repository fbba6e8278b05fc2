/**
 * A polynomial for a patch's phase: Φ = Σ c_ij · u^i · v^j, u = (x − x₀)/unitRadius, v likewise, waves at order 1.
 *
 * The lowest degree is taken whose worst residual over the whole patch is under the bound. The worst is looked for between
 * the fitted points: on a second, denser and offset set with the boundary, then climbed to by a compass search. A roof has a crease and stays
 * out of the polynomial; a tilt is part of it. Fitted by Householder QR (algebra/least-squares.ts), never by normal equations.
 */
import { solveLeastSquares } from '../algebra/least-squares.ts';
import { contains } from '../geometry/contains.ts';
import { largestDistanceFrom } from '../geometry/extent.ts';
import { boundaryPoints, interiorGrid, joined, type Points, spacingFor } from '../geometry/sampling.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { accumulateBias } from '../optics/bias.ts';
import type { Pattern } from './pattern.ts';

/** Worst residual allowed anywhere in the patch, waves. */
export const FIT_BOUND = 1e-3;
/** Past this degree the powers of u lose more digits than they win. */
const HIGHEST_DEGREE = 20;
/**
 * A power that comes to no more than this anywhere in the patch stays out: across a sliver the high ones vanish, and a coefficient
 * of theirs would be noise of any size.
 */
const LEAST_POWER = 1e-12;
/** The fit aims at a part of the bound, so that what the search for the worst place may miss is still inside it. */
const AIM = 0.5;

export interface PhaseFit {
  readonly centre: Vec2;
  /** mm: |u|, |v| ≤ 1 in the patch. */
  readonly unitRadius: number;
  readonly degree: number;
  readonly terms: readonly PolynomialTerm[];
  /** Worst |residual| and root mean square over the patch, waves. */
  readonly residual: {
    readonly worst: number;
    readonly worstAt: Vec2;
    readonly pv: number;
    readonly rms: number;
  };
}

interface PolynomialTerm {
  readonly i: number;
  readonly j: number;
  /** Waves at order 1. */
  readonly coefficient: number;
}

const known = new WeakMap<Pattern, PhaseFit>();

/** Fitted once a patch: the rule asks for it and the tables do. */
export function fitPhase(patch: Pattern): PhaseFit {
  const fit = known.get(patch) ?? lowestFit(patch);
  known.set(patch, fit);
  return fit;
}

function lowestFit(patch: Pattern): PhaseFit {
  const frame = { centre: patch.centre, unitRadius: largestDistanceFrom(patch.outline, patch.centre) };
  // A degree that leaves too much at its own points leaves it somewhere: the patch is not searched then, unless none does better.
  return (
    lowestDegree(patch, frame, (atItsPoints) => atItsPoints <= AIM * FIT_BOUND) ??
    lowestDegree(patch, frame, () => true)!
  );
}

/** Of the degrees worth a search by their worst residual at the fitted points, the first under the bound, else the best. */
function lowestDegree(
  patch: Pattern,
  frame: FitFrame,
  isWorth: (atItsPoints: number) => boolean,
): PhaseFit | undefined {
  let best: PhaseFit | undefined;
  for (let degree = 2; degree <= HIGHEST_DEGREE; degree++) {
    const { terms, worst } = fitOfDegree(patch, frame, degree);
    if (!isWorth(worst)) continue;
    const residual = residualOf(patch, frame, terms, degree);
    if (best === undefined || residual.worst < best.residual.worst)
      best = { ...frame, degree, terms, residual };
    if (best.residual.worst <= AIM * FIT_BOUND) break;
  }
  return best;
}

/** Φ of the fitted polynomial at each point, waves; without the roof. */
export function polynomialPhases(
  fit: Pick<PhaseFit, 'centre' | 'unitRadius' | 'terms'>,
  xs: Float64Array,
  ys: Float64Array,
): Float64Array {
  const out = new Float64Array(xs.length);
  const degree = fit.terms.reduce((most, { i, j }) => Math.max(most, i, j), 0);
  // Powers by products, not by Math.pow, of which the last digit is the machine's own.
  const [u, v] = [new Float64Array(degree + 1), new Float64Array(degree + 1)];
  for (let k = 0; k < xs.length; k++) {
    fillPowers((xs[k] - fit.centre[0]) / fit.unitRadius, u);
    fillPowers((ys[k] - fit.centre[1]) / fit.unitRadius, v);
    let sum = 0;
    for (const { i, j, coefficient } of fit.terms) sum += coefficient * u[i] * v[j];
    out[k] = sum;
  }
  return out;
}

/** The phase that the polynomial stands for: all of it but a roof. */
export function smoothPhases(patch: Pattern, xs: Float64Array, ys: Float64Array): Float64Array {
  const phases = patch.phase.phases(xs, ys);
  if (patch.bias?.shape !== 'roof') return phases;
  const roof = new Float64Array(xs.length);
  accumulateBias(patch.bias, xs, ys, roof, xs.length);
  return phases.map((phase, i) => phase - roof[i]);
}

type FitFrame = Pick<PhaseFit, 'centre' | 'unitRadius'>;

/** Powers by total degree, then by falling power of u: the order of the table's rows. */
function powersUpTo(degree: number): { i: number; j: number }[] {
  const powers = [];
  for (let total = 0; total <= degree; total++)
    for (let j = 0; j <= total; j++) powers.push({ i: total - j, j });
  return powers;
}

function fitOfDegree(
  patch: Pattern,
  frame: FitFrame,
  degree: number,
): { readonly terms: readonly PolynomialTerm[]; readonly worst: number } {
  const powers = powersUpTo(degree);
  const { xs, ys } = samples(patch, 3 * powers.length, 8 * (degree + 1));
  const target = smoothPhases(patch, xs, ys);
  const us = Array.from(xs, (x) => powersOf((x - frame.centre[0]) / frame.unitRadius, degree));
  const vs = Array.from(ys, (y) => powersOf((y - frame.centre[1]) / frame.unitRadius, degree));
  const told = powers.filter(({ i, j }) => us.some((u, k) => Math.abs(u[i] * vs[k][j]) > LEAST_POWER));
  const matrix = new Float64Array(xs.length * told.length);
  for (let k = 0; k < xs.length; k++) {
    told.forEach(({ i, j }, column) => {
      matrix[k * told.length + column] = us[k][i] * vs[k][j];
    });
  }
  const { solution, residuals } = solveLeastSquares(matrix, told.length, target);
  const coefficients = new Map(told.map((power, column) => [power, solution[column]]));
  return {
    terms: powers.map((power) => ({ ...power, coefficient: coefficients.get(power) ?? 0 })),
    worst: residuals.reduce((most, residual) => Math.max(most, Math.abs(residual)), 0),
  };
}

const powersOf = (value: number, degree: number): Float64Array => {
  const powers = new Float64Array(degree + 1);
  fillPowers(value, powers);
  return powers;
};

/** 1, value, value², … */
function fillPowers(value: number, powers: Float64Array): void {
  powers[0] = 1;
  for (let k = 1; k < powers.length; k++) powers[k] = powers[k - 1] * value;
}

function samples(patch: Pattern, inside: number, along: number): Points {
  return joined(
    interiorGrid(patch.outline, spacingFor(patch.outline, inside)),
    boundaryPoints(patch.outline, along),
  );
}

function residualOf(
  patch: Pattern,
  frame: FitFrame,
  terms: readonly PolynomialTerm[],
  degree: number,
): PhaseFit['residual'] {
  const { xs, ys } = samples(patch, 901 + 13 * degree * degree, 45 * (degree + 1) + 1);
  const fit = { ...frame, terms };
  const errors = differences(patch, fit, xs, ys);
  let [low, high, squares, worst] = [0, 0, 0, 0];
  errors.forEach((error, k) => {
    low = Math.min(low, error);
    high = Math.max(high, error);
    squares += error * error;
    if (Math.abs(error) > Math.abs(errors[worst])) worst = k;
  });
  const climbed = climb(patch, fit, [xs[worst], ys[worst]], frame.unitRadius / (degree + 2));
  return {
    worst: climbed.value,
    worstAt: climbed.at,
    pv: Math.max(high - low, climbed.value),
    rms: Math.sqrt(squares / errors.length),
  };
}

function differences(
  patch: Pattern,
  fit: Pick<PhaseFit, 'centre' | 'unitRadius' | 'terms'>,
  xs: Float64Array,
  ys: Float64Array,
): Float64Array {
  const fitted = polynomialPhases(fit, xs, ys);
  return smoothPhases(patch, xs, ys).map((phase, k) => phase - fitted[k]);
}

/** From the worst sample to the worst place near it. */
function climb(
  patch: Pattern,
  fit: Pick<PhaseFit, 'centre' | 'unitRadius' | 'terms'>,
  start: Vec2,
  reach: number,
): { at: Vec2; value: number } {
  const error = (at: Vec2): number =>
    Math.abs(differences(patch, fit, Float64Array.of(at[0]), Float64Array.of(at[1]))[0]);
  let [at, value] = [start, error(start)];
  for (let step = reach / 4; step > reach / 1024; step /= 2) {
    for (const [dx, dy] of [
      [1, 0],
      [-1, 0],
      [0, 1],
      [0, -1],
    ]) {
      const next: Vec2 = [at[0] + dx * step, at[1] + dy * step];
      if (!contains(patch.outline, next)) continue;
      const there = error(next);
      if (there > value) [at, value] = [next, there];
    }
  }
  return { at, value };
}
