/**
 * The discrete Fourier transform of complex samples, in place, for lengths that are powers of two.
 *
 *   X_k = Σ_n x_n exp(−2πi kn/N)      (forward; the inverse has exp(+2πi kn/N) and the factor 1/N)
 * Real and imaginary parts lie in arrays of their own. Frequencies come in the usual order: 0, 1, … N/2 − 1, −N/2, … −1
 * steps of 1/(N·spacing). Source: J. W. Cooley, J. W. Tukey, Math. Comput. 19, 297 (1965).
 */

/** Complex samples, real and imaginary parts apart. */
export interface ComplexArray {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

export const complexArray = (length: number): ComplexArray => ({
  re: new Float64Array(length),
  im: new Float64Array(length),
});

/** The transform of one length, its roots of unity worked out once. */
export class FourierPlan {
  readonly length: number;
  readonly #cosines: Float64Array;
  readonly #sines: Float64Array;
  readonly #reversed: Uint32Array;

  /** Throws a RangeError unless the length is a power of two, 2 at least. */
  constructor(length: number) {
    if (!(length >= 2) || 2 ** Math.round(Math.log2(length)) !== length) {
      throw new RangeError(
        `a transform of ${length} samples; their number must be a power of two, 2 at least`,
      );
    }
    this.length = length;
    this.#cosines = Float64Array.from({ length: length / 2 }, (_, k) => Math.cos((2 * Math.PI * k) / length));
    this.#sines = Float64Array.from({ length: length / 2 }, (_, k) => Math.sin((2 * Math.PI * k) / length));
    this.#reversed = new Uint32Array(length);
    for (let i = 1; i < length; i++)
      this.#reversed[i] = (this.#reversed[i >> 1] >> 1) | (i & 1 ? length / 2 : 0);
  }

  /** Transforms the `length` samples from `start` on, in place. */
  forward(data: ComplexArray, start = 0): void {
    this.#transform(data.re, data.im, start);
  }

  /** Undoes `forward`. */
  inverse(data: ComplexArray, start = 0): void {
    // With real and imaginary parts exchanged the forward transform is the inverse one, but for 1/N.
    this.#transform(data.im, data.re, start);
    const factor = 1 / this.length;
    for (let i = start; i < start + this.length; i++) {
      data.re[i] *= factor;
      data.im[i] *= factor;
    }
  }

  #transform(re: Float64Array, im: Float64Array, start: number): void {
    const n = this.length;
    for (let i = 0; i < n; i++) {
      const j = this.#reversed[i];
      if (j > i) {
        exchange(re, start + i, start + j);
        exchange(im, start + i, start + j);
      }
    }
    for (let half = 1; half < n; half *= 2) {
      const stride = n / (2 * half);
      for (let k = 0; k < half; k++) {
        const c = this.#cosines[k * stride];
        const s = this.#sines[k * stride];
        for (let i = start + k; i < start + n; i += 2 * half) {
          const j = i + half;
          const productRe = c * re[j] + s * im[j];
          const productIm = c * im[j] - s * re[j];
          re[j] = re[i] - productRe;
          im[j] = im[i] - productIm;
          re[i] += productRe;
          im[i] += productIm;
        }
      }
    }
  }
}

/** Transforms along x: each of the `rows` rows of plan.length samples. */
export function transformRows(
  plan: FourierPlan,
  data: ComplexArray,
  rows: number,
  way: 'forward' | 'inverse',
): void {
  for (let row = 0; row < rows; row++) plan[way](data, row * plan.length);
}

/** Transforms along y: each of the `columns` columns of plan.length samples, row-major. */
export function transformColumns(
  plan: FourierPlan,
  data: ComplexArray,
  columns: number,
  way: 'forward' | 'inverse',
): void {
  const column = complexArray(plan.length);
  for (let x = 0; x < columns; x++) {
    for (let y = 0; y < plan.length; y++) {
      column.re[y] = data.re[y * columns + x];
      column.im[y] = data.im[y * columns + x];
    }
    plan[way](column);
    for (let y = 0; y < plan.length; y++) {
      data.re[y * columns + x] = column.re[y];
      data.im[y * columns + x] = column.im[y];
    }
  }
}

/** The frequency of sample k of N, in cycles per unit of `spacing`. */
export const frequencyOf = (k: number, length: number, spacing: number): number =>
  (k < length / 2 ? k : k - length) / (length * spacing);

function exchange(values: Float64Array, i: number, j: number): void {
  const kept = values[i];
  values[i] = values[j];
  values[j] = kept;
}
