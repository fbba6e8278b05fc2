/**
 * Sums over a patch's values of what the normal matrix of its fit (fringe-model.ts) has in the rows of a's and b's terms: 1, u, v, u², uv, v².
 *
 * Pixels come row by row, and v is the same all along a row: only powers of u are summed value by value, and once a row they are
 * multiplied by those of v. The 78 products of two terms of light are 15 sums a value then, those of a phase and the 12 terms six.
 */
import type { NormalMatrix } from './normal-matrix.ts';

/** Terms of a and of b. */
export const LIGHT = 6;
/** Powers of u and of v in them. */
const U = [0, 1, 0, 2, 1, 0] as const;
const V = [0, 0, 1, 0, 1, 2] as const;
/** Products of two terms have powers up to 4: u^i v^j, i + j ≤ 4, v's after each other. */
const POWERS = 5;
const MOMENTS = 15;
const momentOf = (i: number, j: number): number => i * POWERS - (i * (i - 1)) / 2 + j;

/** Where in a row's sums those of what is left begin, and those of the first phase. */
export const LEFT = 3 * POWERS;
export const PHASES = LEFT + LIGHT;

export class LightSums {
  /**
   * Of the row so far, with c = κ cos: Σ s² u^i, Σ s² c u^i, Σ s² c² u^i, five each, where s is the slope of a clipped value; from LEFT on
   * Σ left s u^i, Σ left s c u^i, three each; from PHASES on the like of each phase's derivative in place of what is left.
   */
  readonly row: Float64Array;
  readonly #moments = new Float64Array(3 * MOMENTS);
  readonly #terms: Float64Array;

  constructor(phases: number) {
    this.row = new Float64Array(PHASES + phases * LIGHT);
    this.#terms = new Float64Array(2 * LIGHT * (1 + phases));
  }

  /** Ends a row of pixels. */
  close(v: number): void {
    const row = this.row;
    const moments = this.#moments;
    const terms = this.#terms;
    for (let from = 0, at = 0; from < LEFT; from += POWERS)
      for (let i = 0; i < POWERS; i++) {
        let sum = row[from + i]!;
        for (let j = i; j < POWERS; j++, at++) {
          moments[at]! += sum;
          sum *= v;
        }
      }
    for (let from = LEFT, at = 0; from < row.length; from += 3, at += LIGHT) {
      const even = row[from]!;
      const tilted = row[from + 1]!;
      const bent = row[from + 2]!;
      terms[at]! += even;
      terms[at + 1]! += tilted;
      terms[at + 2]! += even * v;
      terms[at + 3]! += bent;
      terms[at + 4]! += tilted * v;
      terms[at + 5]! += even * v * v;
    }
    row.fill(0);
  }

  /** Adds all that was summed to a matrix whose unknowns are the phases, a's terms and b's; nothing is left of it here. */
  addTo({ size, matrix, vector }: NormalMatrix): void {
    const moments = this.#moments;
    const terms = this.#terms;
    const a = size - 2 * LIGHT;
    const b = a + LIGHT;
    for (let r = 0; r < LIGHT; r++) {
      for (let c = 0; c < LIGHT; c++) {
        const at = momentOf(U[r]! + U[c]!, V[r]! + V[c]!);
        matrix[(b + r) * size + a + c]! += moments[MOMENTS + at]!;
        if (c > r) continue;
        matrix[(a + r) * size + a + c]! += moments[at]!;
        matrix[(b + r) * size + b + c]! += moments[2 * MOMENTS + at]!;
      }
      vector[a + r]! += terms[r]!;
      vector[b + r]! += terms[LIGHT + r]!;
      for (let k = 0, at = 2 * LIGHT + r; k < a; k++, at += 2 * LIGHT) {
        matrix[(a + r) * size + k]! += terms[at]!;
        matrix[(b + r) * size + k]! += terms[at + LIGHT]!;
      }
    }
    moments.fill(0);
    terms.fill(0);
  }
}
