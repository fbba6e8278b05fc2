/**
 * Normal equations of a fit with a few unknowns and many values, and their solution by Cholesky's factors. Formed a value at a time: a
 * matrix of all values, as algebra/least-squares.ts takes it, would be made and factorised anew in each step. The unknowns are scaled alike
 * by their makers, and each is held by a value or a prior. Source: G. H. Golub, C. F. Van Loan, Matrix Computations, ch. 4.
 */
export class NormalMatrix {
  readonly size: number;
  /** JᵀJ, the lower triangle row by row. */
  readonly matrix: Float64Array;
  /** Jᵀr. */
  readonly vector: Float64Array;
  /** Cholesky's, made anew for each solution. */
  #lower = NO_FACTORS;

  constructor(size: number) {
    this.size = size;
    this.matrix = new Float64Array(size * size);
    this.vector = new Float64Array(size);
  }

  copy(): NormalMatrix {
    const same = new NormalMatrix(this.size);
    same.take(this);
    return same;
  }

  /** Becomes the same as another one of its size. */
  take({ matrix, vector }: NormalMatrix): void {
    this.matrix.set(matrix);
    this.vector.set(vector);
  }

  clear(): void {
    this.matrix.fill(0);
    this.vector.fill(0);
  }

  /** One more value: its derivative by each unknown, and what the model leaves of it. */
  add(derivatives: Float64Array, left: number, weight = 1): void {
    const { size, matrix, vector } = this;
    for (let i = 0; i < size; i++) {
      const d = weight * derivatives[i]!;
      if (d === 0) continue;
      vector[i]! += d * left;
      const start = i * size;
      for (let k = 0; k <= i; k++) matrix[start + k]! += d * derivatives[k]!;
    }
  }

  /** The step that solves (JᵀJ + damping · diagonal) x = Jᵀr; undefined where the matrix is singular. */
  solve(damping = 0): Float64Array | undefined {
    const factor = this.#factor(damping);
    if (factor === undefined) return undefined;
    const { size } = this;
    const x = this.vector.slice();
    for (let i = 0; i < size; i++) {
      let sum = x[i]!;
      for (let k = 0; k < i; k++) sum -= factor[i * size + k]! * x[k]!;
      x[i] = sum / factor[i * size + i]!;
    }
    for (let i = size - 1; i >= 0; i--) {
      let sum = x[i]!;
      for (let k = i + 1; k < size; k++) sum -= factor[k * size + i]! * x[k]!;
      x[i] = sum / factor[i * size + i]!;
    }
    return x;
  }

  /** The first `count` rows and columns of (JᵀJ)⁻¹, row by row; undefined where it is singular. */
  inverse(count: number): Float64Array | undefined {
    const factor = this.#factor(0);
    if (factor === undefined) return undefined;
    const { size } = this;
    // Columns of L⁻¹: (JᵀJ)⁻¹ = L⁻ᵀ L⁻¹.
    const columns: Float64Array[] = [];
    for (let c = 0; c < count; c++) {
      const x = new Float64Array(size);
      for (let i = c; i < size; i++) {
        let sum = i === c ? 1 : 0;
        for (let k = c; k < i; k++) sum -= factor[i * size + k]! * x[k]!;
        x[i] = sum / factor[i * size + i]!;
      }
      columns.push(x);
    }
    const inverse = new Float64Array(count * count);
    for (let a = 0; a < count; a++)
      for (let b = 0; b < count; b++) {
        let sum = 0;
        for (let i = Math.max(a, b); i < size; i++) sum += columns[a]![i]! * columns[b]![i]!;
        inverse[a * count + b] = sum;
      }
    return inverse;
  }

  #factor(damping: number): Float64Array | undefined {
    const { size, matrix } = this;
    if (this.#lower === NO_FACTORS) this.#lower = new Float64Array(size * size);
    const l = this.#lower;
    for (let i = 0; i < size; i++)
      for (let j = 0; j <= i; j++) {
        let sum = matrix[i * size + j]! * (i === j ? 1 + damping : 1);
        const own = sum;
        for (let k = 0; k < j; k++) sum -= l[i * size + k]! * l[j * size + k]!;
        if (i === j) {
          if (!(sum > SINGULAR * own)) return undefined;
          l[i * size + i] = Math.sqrt(sum);
        } else l[i * size + j] = sum / l[j * size + j]!;
      }
    return l;
  }
}

const NO_FACTORS = new Float64Array(0);

/** Of a diagonal entry what is left of it when the unknown lies in the span of others: rounding. */
const SINGULAR = 1e-13;
