/**
 * Polynomials in the level through the values at six Chebyshev–Lobatto levels of a range; waves.
 * Source of the nodes and their error: L. N. Trefethen, Approximation Theory and Approximation Practice (SIAM 2013), chapters 2 to 8.
 */

export const NODES = 6;
/** Where such a polynomial strays most: half way, in the Chebyshev angle, between two nodes. */
export const CHECKED = [0.5, 2.5, 4.5] as const;

export class LevelPolynomial {
  readonly levels = new Float64Array(NODES);
  /** Lagrange's, at the level last given to `weigh`. */
  readonly weights = new Float64Array(NODES);
  #from = 0;
  #to = 0;

  span(from: number, to: number): void {
    this.#from = from;
    this.#to = to;
    for (let j = 0; j < NODES; j++) this.levels[j] = j === NODES - 1 ? to : this.levelAt(j);
  }

  /** The level at a position from 0 to NODES − 1 in equal steps of the Chebyshev angle. */
  levelAt(position: number): number {
    return this.#from + ((this.#to - this.#from) * (1 - Math.cos((Math.PI * position) / (NODES - 1)))) / 2;
  }

  weigh(level: number): void {
    const { levels, weights } = this;
    for (let j = 0; j < NODES; j++) {
      let weight = 1;
      for (let m = 0; m < NODES; m++) if (m !== j) weight *= (level - levels[m]!) / (levels[j]! - levels[m]!);
      weights[j] = weight;
    }
  }

  /** The value at the level weighed, from those at the nodes, which stand in `values` from `start` on. */
  value(values: Float64Array, start = 0): number {
    let sum = 0;
    for (let j = 0; j < NODES; j++) sum += this.weights[j]! * values[start + j]!;
    return sum;
  }
}
