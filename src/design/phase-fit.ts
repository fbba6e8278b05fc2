/**
 * A polynomial for a pattern's phase: Φ = Σ c_ij · u^i · v^j, u = (x − x₀)/unitRadius, v likewise, waves at order 1. Of a pattern whose
 * phase is the same all round its centre, the radial form Φ = Σ c_i · ρ^(2i), ρ² = u² + v², where that is good enough: it is always shorter.
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
import { BiasPhase } from '../optics/bias.ts';
import type { Pattern } from './pattern.ts';

/** Worst residual allowed anywhere in the patch, waves. */
export const FIT_BOUND = 1e-3;
/** Past this power of a variable (u, v or ρ²) its powers lose more digits than they win. */
const HIGHEST_POWER = 20;
/**
 * A power that comes to no more than this anywhere in the patch stays out: across a sliver the high ones vanish, and a coefficient
 * of theirs would be noise of any size.
 */
const LEAST_POWER = 1e-12;
/** The fit aims at a part of the bound, so that what the search for the worst place may miss is still inside it. */
const AIM = 0.5;

/** `xy`: u^i v^j; `radial`: ρ^(2i), j 0. */
export type FitBasis = 'xy' | 'radial';

export interface PhaseFit {
  readonly basis: FitBasis;
  readonly centre: Vec2;
  /** mm: |u|, |v| ≤ 1 in the patch. */
  readonly unitRadius: number;
  /** Of the polynomial in x and y: of ρ^(2i) it is 2i. */
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
  const { centre, outline } = patch;
  const frame: FitFrame = { basis: 'xy', centre, unitRadius: largestDistanceFrom(outline, centre) };
  if (patch.isRound === true) {
    const radial = lowestPower(
      patch,
      { ...frame, basis: 'radial' },
      (atItsPoints) => atItsPoints <= AIM * FIT_BOUND,
    );
    if (radial !== undefined && radial.residual.worst <= FIT_BOUND) return radial;
  }
  // A degree that leaves too much at its own points leaves it somewhere: the patch is not searched then, unless none does better.
  return (
    lowestPower(patch, frame, (atItsPoints) => atItsPoints <= AIM * FIT_BOUND) ??
    lowestPower(patch, frame, () => true)!
  );
}

/** Of the powers worth a search by their worst residual at the fitted points, the first under the bound, else the best. */
function lowestPower(
  patch: Pattern,
  frame: FitFrame,
  isWorth: (atItsPoints: number) => boolean,
): PhaseFit | undefined {
  let best: PhaseFit | undefined;
  for (let power = LOWEST_POWER[frame.basis]; power <= HIGHEST_POWER; power++) {
    const { terms, worst } = fitOfPower(patch, frame, power);
    if (!isWorth(worst)) continue;
    const degree = frame.basis === 'radial' ? 2 * power : power;
    const residual = residualOf(patch, frame, terms, degree);
    if (best === undefined || residual.worst < best.residual.worst)
      best = { ...frame, degree, terms, residual };
    if (best.residual.worst <= AIM * FIT_BOUND) break;
  }
  return best;
}

/** Φ of the fitted polynomial at each point, waves; without the roof. */
export function polynomialPhases(fit: FittedForm, xs: Float64Array, ys: Float64Array): Float64Array {
  const out = new Float64Array(xs.length);
  const degree = fit.terms.reduce((most, { i, j }) => Math.max(most, i, j), 0);
  // Powers by products, not by Math.pow, of which the last digit is the machine's own.
  const [u, v] = [new Float64Array(degree + 1), new Float64Array(degree + 1)];
  for (let k = 0; k < xs.length; k++) {
    const [first, second] = variables(fit, xs[k], ys[k]);
    fillPowers(first, u);
    fillPowers(second, v);
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
  new BiasPhase(patch.bias).accumulate(xs, ys, roof, xs.length);
  return phases.map((phase, i) => phase - roof[i]);
}

type FitFrame = Pick<PhaseFit, 'basis' | 'centre' | 'unitRadius'>;
type FittedForm = FitFrame & Pick<PhaseFit, 'terms'>;

const LOWEST_POWER: Readonly<Record<FitBasis, number>> = { xy: 2, radial: 1 };

/** What stands under the powers i and j: u and v, or ρ² alone. */
function variables({ basis, centre, unitRadius }: FitFrame, x: number, y: number): Vec2 {
  const [u, v] = [(x - centre[0]) / unitRadius, (y - centre[1]) / unitRadius];
  return basis === 'radial' ? [u * u + v * v, 0] : [u, v];
}

/** Powers by total degree, then by falling power of u: the order of the table's rows. */
function powersUpTo(basis: FitBasis, power: number): { i: number; j: number }[] {
  const powers = [];
  for (let total = 0; total <= power; total++)
    for (let j = 0; j <= (basis === 'radial' ? 0 : total); j++) powers.push({ i: total - j, j });
  return powers;
}

function fitOfPower(
  patch: Pattern,
  frame: FitFrame,
  power: number,
): { readonly terms: readonly PolynomialTerm[]; readonly worst: number } {
  const powers = powersUpTo(frame.basis, power);
  const { xs, ys } = samples(patch, 3 * powers.length, 8 * (power + 1));
  const target = smoothPhases(patch, xs, ys);
  const places = Array.from(xs, (x, k) => variables(frame, x, ys[k]));
  const us = places.map(([u]) => powersOf(u, power));
  const vs = places.map(([, v]) => powersOf(v, power));
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

const powersOf = (value: number, highest: number): Float64Array => {
  const powers = new Float64Array(highest + 1);
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

function differences(patch: Pattern, fit: FittedForm, xs: Float64Array, ys: Float64Array): Float64Array {
  const fitted = polynomialPhases(fit, xs, ys);
  return smoothPhases(patch, xs, ys).map((phase, k) => phase - fitted[k]);
}

/** From the worst sample to the worst place near it. */
function climb(patch: Pattern, fit: FittedForm, start: Vec2, reach: number): { at: Vec2; value: number } {
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
