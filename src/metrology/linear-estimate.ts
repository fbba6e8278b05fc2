/**
 * Estimates from readings that are linear in their unknowns: covariance, what is not observed, and what each term of the
 * budget adds. By SVD for rank and QR for the estimate, never by the normal equations.
 *
 * Errors common to several readings are carried as unknowns of their own with a row that says they are 0 ± u: the estimate is
 * then the best one for correlated readings, and every row (a reading or such a row) is one independent error, so that the
 * variance is the sum of the rows' shares, each booked to its term. An error of one reading alone only widens that reading's
 * uncertainty, which comes to the same; its part of the row's share is booked to its own term.
 */
import { solveLeastSquares } from '../algebra/least-squares.ts';
import { singularValues } from '../algebra/singular-values.ts';
import { type ErrorSource, isFelt, type Term } from './error-source.ts';

export interface LinearProblem {
  /** Row-major, a row for each reading, in mm of the reading for one unit of each unknown; unknowns in like units (mm). */
  readonly rows: Float64Array;
  readonly unknowns: number;
  /** Standard uncertainty of each reading by itself, mm. */
  readonly u: Float64Array;
  /** The term that each reading's own uncertainty is booked to. */
  readonly terms: readonly Term[];
  readonly sources: readonly ErrorSource[];
}

export interface LinearEstimate {
  /** n × n row-major, with no part along what is not observed. */
  readonly covariance: Float64Array;
  /** Orthonormal combinations of the unknowns that no reading sees. */
  readonly unobserved: readonly Float64Array[];
  /** Variance of each unknown by term; together, the diagonal of the covariance. */
  readonly variances: ReadonlyMap<Term, Float64Array>;
  /** n × m row-major: what the estimate makes of each reading. */
  readonly gains: Float64Array;
}

/** A combination seen this much more weakly than the best turns a micrometre into ten metres: it is not seen at all. */
const RANK_TOLERANCE = 1e-7;

/** No reading is taken as better than this, mm: a picometre. */
const LEAST_UNCERTAINTY = 1e-9;

export function estimate({ rows, unknowns: n, u: given, terms, sources }: LinearProblem): LinearEstimate {
  const own = given.map((value) => Math.max(value, LEAST_UNCERTAINTY));
  const m = own.length;
  const { values, directions } = singularValues(rows, n);
  const rank = values.filter((value) => value > RANK_TOLERANCE * values[0]!).length;
  const seen = directions.slice(0, rank);
  const unobserved = directions.slice(rank);
  const { shared: felt, alone } = parted(sources.filter(isFelt), m);
  const u = own.map((value, row) => Math.hypot(value, ...alone[row]!.map(({ size }) => size)));

  const width = rank + felt.length;
  const total = m + felt.length;
  const weighted = new Float64Array(total * width);
  for (let row = 0; row < m; row++) {
    for (let k = 0; k < rank; k++) {
      let sum = 0;
      for (let j = 0; j < n; j++) sum += rows[row * n + j]! * seen[k]![j]!;
      weighted[row * width + k] = sum / u[row]!;
    }
    felt.forEach((source, k) => {
      weighted[row * width + rank + k] = (source.effects[row]! * source.u) / u[row]!;
    });
  }
  felt.forEach((_, k) => {
    weighted[(m + k) * width + rank + k] = 1;
  });

  const covariance = new Float64Array(n * n);
  const gains = new Float64Array(n * m);
  const variances = new Map<Term, Float64Array>();
  if (rank > 0) {
    const { covarianceFactor } = solveLeastSquares(weighted, width, new Float64Array(total), {
      rankTolerance: 0,
    });
    for (let row = 0; row < total; row++) {
      const share = unknownsFrom(seen, shareOf(covarianceFactor, width, weighted, row), n);
      const whole = row < m ? terms[row]! : felt[row - m]!.term;
      const parts = row < m ? alone[row]! : [];
      const rest = row < m ? (own[row]! / u[row]!) ** 2 : 1;
      book(variances, whole, share, rest);
      for (const { term, size } of parts) book(variances, term, share, (size / u[row]!) ** 2);
      for (let i = 0; i < n; i++) {
        if (row < m) gains[i * m + row] = share[i]! / u[row]!;
        for (let j = 0; j < n; j++) covariance[i * n + j]! += share[i]! * share[j]!;
      }
    }
  }
  return { covariance, unobserved, variances, gains };
}

/** An error that one reading alone feels: by how much, mm of the reading. */
interface Alone {
  readonly term: Term;
  readonly size: number;
}

/** Sources that several of the m readings feel, and by reading those that no other one does. */
function parted(felt: readonly ErrorSource[], m: number): { shared: ErrorSource[]; alone: Alone[][] } {
  const alone: Alone[][] = Array.from({ length: m }, () => []);
  const shared = felt.filter(({ effects, term, u }) => {
    const first = effects.findIndex((effect) => effect !== 0);
    if (effects.some((effect, k) => k > first && effect !== 0)) return true;
    alone[first]!.push({ term, size: Math.abs(effects[first]! * u) });
    return false;
  });
  return { shared, alone };
}

/** Adds a part of a row's share, squared, to a term's variances. */
function book(variances: Map<Term, Float64Array>, term: Term, share: Float64Array, part: number): void {
  const booked = variances.get(term) ?? new Float64Array(share.length);
  variances.set(term, booked);
  for (let i = 0; i < share.length; i++) booked[i]! += share[i]! * share[i]! * part;
}

/** F Fᵀ a for one weighted row a: what a unit error of that row makes of the unknowns. */
function shareOf(factor: Float64Array, width: number, weighted: Float64Array, row: number): Float64Array {
  const inner = new Float64Array(width);
  for (let i = 0; i < width; i++) {
    const a = weighted[row * width + i]!;
    if (a !== 0) for (let k = 0; k < width; k++) inner[k]! += factor[i * width + k]! * a;
  }
  return inner.map((_, i) => {
    let sum = 0;
    for (let k = 0; k < width; k++) sum += factor[i * width + k]! * inner[k]!;
    return sum;
  });
}

function unknownsFrom(seen: readonly Float64Array[], parts: Float64Array, n: number): Float64Array {
  const unknowns = new Float64Array(n);
  seen.forEach((direction, k) => {
    for (let j = 0; j < n; j++) unknowns[j]! += parts[k]! * direction[j]!;
  });
  return unknowns;
}
