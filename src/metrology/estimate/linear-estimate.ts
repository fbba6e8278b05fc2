/**
 * Estimates from readings that are linear in their unknowns: covariance, what is not observed, and what each term of the
 * budget adds. By SVD for rank and QR for the estimate, never by the normal equations.
 *
 * The estimate is the best one for correlated readings, V = diag(u²) + Σ e eᵀ over the errors e that several readings share. Readings
 * are divided by their u; then each shared error in turn, now a column c of an otherwise white system, is whitened away by
 * (I + c cᵀ)^(−1/2) = I − β c cᵀ, β = 1/(ρ² + ρ), ρ² = 1 + cᵀc (this is the Householder reflection that eliminates an unknown with a
 * row saying that it is 0 ± 1). Errors that touch few readings go first and leave their trace only where they touch, so that the work
 * grows with the readings and not with their square or cube. Back through the same steps, what the estimate makes of a deviate
 * of each reading and of each error is known, and the variance is the sum of their squares, each booked to its term. An error of
 * one reading alone only widens that reading's uncertainty, which comes to the same; its part of the share is booked to its own term.
 */
import { solveLeastSquares } from '../../algebra/least-squares.ts';
import { singularValues } from '../../algebra/singular-values.ts';
import { type ErrorSource, isFelt, type Term } from '../budget/error-source.ts';

interface LinearProblem {
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
  const { shared, alone } = parted(sources.filter(isFelt), m);
  const u = own.map((value, row) => Math.hypot(value, ...alone[row]!.map(({ size }) => size)));
  const covariance = new Float64Array(n * n);
  const gains = new Float64Array(n * m);
  const variances = new Map<Term, Float64Array>();
  if (rank === 0) return { covariance, unobserved, variances, gains };

  const columns = seen.map((direction) =>
    u.map((size, row) => {
      let sum = 0;
      for (let j = 0; j < n; j++) sum += rows[row * n + j]! * direction[j]!;
      return sum / size;
    }),
  );
  const removed = whitened(columns, shared, u);
  // From here on `columns` holds, for each combination seen, what the estimate makes of a unit deviate of each white reading.
  toShares(columns);
  const book = (term: Term, share: Float64Array, part: number): void => {
    const booked = variances.get(term) ?? new Float64Array(n);
    variances.set(term, booked);
    for (let i = 0; i < n; i++) booked[i]! += share[i]! * share[i]! * part;
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) covariance[i * n + j]! += share[i]! * share[j]! * part;
  };
  const unknownsFrom = (part: (column: number) => number): Float64Array => {
    const unknowns = new Float64Array(n);
    seen.forEach((direction, k) => {
      const size = part(k);
      for (let j = 0; j < n; j++) unknowns[j]! += size * direction[j]!;
    });
    return unknowns;
  };
  for (const { source, at, by, rho } of removed.toReversed()) {
    const through = columns.map((column) => dotAt(column, at, by));
    const beta = 1 / (rho * rho + rho);
    columns.forEach((column, k) => {
      for (let i = 0; i < at.length; i++) column[at[i]!]! -= beta * through[k]! * by[i]!;
    });
    book(
      source.term,
      unknownsFrom((k) => through[k]! / rho),
      1,
    );
  }
  for (let row = 0; row < m; row++) {
    const share = unknownsFrom((k) => columns[k]![row]!);
    book(terms[row]!, share, (own[row]! / u[row]!) ** 2);
    for (const { term, size } of alone[row]!) book(term, share, (size / u[row]!) ** 2);
    for (let i = 0; i < n; i++) gains[i * m + row] = share[i]! / u[row]!;
  }
  return { covariance, unobserved, variances, gains };
}

/** A shared error as it was when its turn came: its effect `by` on the half-whitened readings `at`, and ρ. */
interface Removed {
  readonly source: ErrorSource;
  readonly at: readonly number[];
  readonly by: readonly number[];
  readonly rho: number;
}

/** Whitens the sources away in `columns`, in place, those of the fewest readings first. */
function whitened(
  columns: readonly Float64Array[],
  sources: readonly ErrorSource[],
  u: Float64Array,
): readonly Removed[] {
  const order = sources.toSorted((a, b) => a.effects.at.length - b.effects.at.length);
  const left = order.map(
    ({ effects, u: size }) => new Map(effects.at.map((row, k) => [row, (effects.by[k]! * size) / u[row]!])),
  );
  // For each reading, the sources still to come that shift it.
  const shifting = Array.from(u, (): Set<number> => new Set());
  left.forEach((column, s) => {
    for (const row of column.keys()) shifting[row]!.add(s);
  });
  return order.map((source, s): Removed => {
    const at = [...left[s]!.keys()];
    const by = [...left[s]!.values()];
    left[s]!.clear();
    const rho = Math.sqrt(by.reduce((sum, entry) => sum + entry * entry, 1));
    const beta = 1 / (rho * rho + rho);
    for (const column of columns) {
      const factor = beta * dotAt(column, at, by);
      for (let i = 0; i < at.length; i++) column[at[i]!]! -= factor * by[i]!;
    }
    // Where this one was, the later ones that it overlaps now all are.
    const later = new Set<number>();
    for (const those of new Set(at.map((row) => shifting[row]!))) for (const t of those) later.add(t);
    later.delete(s);
    for (const t of later) {
      const column = left[t]!;
      const factor = beta * at.reduce((sum, row, i) => sum + (column.get(row) ?? 0) * by[i]!, 0);
      at.forEach((row, i) => {
        column.set(row, (column.get(row) ?? 0) - factor * by[i]!);
      });
    }
    for (const row of at) shifting[row] = later;
    return { source, at, by, rho };
  });
}

const dotAt = (column: Float64Array, at: readonly number[], by: readonly number[]): number => {
  let sum = 0;
  for (let i = 0; i < at.length; i++) sum += column[at[i]!]! * by[i]!;
  return sum;
};

/** In place, white columns A to A (AᵀA)⁻¹: what the estimate makes of a unit deviate of each row. */
function toShares(columns: readonly Float64Array[]): void {
  const rank = columns.length;
  const m = columns[0]!.length;
  const matrix = new Float64Array(m * rank);
  columns.forEach((column, k) => {
    for (let row = 0; row < m; row++) matrix[row * rank + k] = column[row]!;
  });
  const { covarianceFactor } = solveLeastSquares(matrix, rank, new Float64Array(m), { rankTolerance: 0 });
  for (let row = 0; row < m; row++) {
    const share = shareOf(covarianceFactor, rank, matrix, row);
    columns.forEach((column, k) => {
      column[row] = share[k]!;
    });
  }
}

/** An error that one reading alone feels: by how much, mm of the reading. */
interface Alone {
  readonly term: Term;
  readonly size: number;
}

/** Sources that several of the m readings feel, and by reading those that no other one does. */
function parted(felt: readonly ErrorSource[], m: number): { shared: ErrorSource[]; alone: Alone[][] } {
  const alone: Alone[][] = Array.from({ length: m }, () => []);
  const shared = felt.filter(({ effects: { at, by }, term, u }) => {
    if (at.length > 1) return true;
    alone[at[0]!]!.push({ term, size: Math.abs(by[0]! * u) });
    return false;
  });
  return { shared, alone };
}

/** F Fᵀ a for one row a: what a unit error of that row makes of the unknowns. */
function shareOf(factor: Float64Array, width: number, matrix: Float64Array, row: number): Float64Array {
  const inner = new Float64Array(width);
  for (let i = 0; i < width; i++) {
    const a = matrix[row * width + i]!;
    if (a !== 0) for (let k = 0; k < width; k++) inner[k]! += factor[i * width + k]! * a;
  }
  return inner.map((_, i) => {
    let sum = 0;
    for (let k = 0; k < width; k++) sum += factor[i * width + k]! * inner[k]!;
    return sum;
  });
}
