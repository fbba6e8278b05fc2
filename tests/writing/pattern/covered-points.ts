/**
 * How often each of many points is covered by polygons that come one after the other: even-odd, a ray in +x from each point. No polygon
 * is kept; a side looks at the points within its own range of y, which stand sorted.
 */
export class CoveredPoints {
  readonly #xs: Float64Array;
  readonly #ys: Float64Array;
  /** Where each stands among those given. */
  readonly #from: Uint32Array;
  readonly #odd: Uint8Array;
  readonly #touched: number[] = [];
  readonly #strip: number;
  /** The first of the points in each strip of y, and after the last. */
  readonly #starts: Uint32Array;

  constructor(points: readonly (readonly [number, number])[]) {
    this.#from = Uint32Array.from(points.keys()).sort((a, b) => points[a]![1] - points[b]![1]);
    this.#xs = Float64Array.from(this.#from, (k) => points[k]![0]);
    this.#ys = Float64Array.from(this.#from, (k) => points[k]![1]);
    this.#odd = new Uint8Array(points.length);
    const strips = 8 * points.length;
    this.#strip = (this.#ys.at(-1)! - this.#ys[0]!) / strips || 1;
    this.#starts = new Uint32Array(strips + 1);
    for (let s = 0, k = 0; s <= strips; s++) {
      while (k < points.length && this.#ys[k]! < this.#ys[0]! + s * this.#strip) k++;
      this.#starts[s] = k;
    }
  }

  /** Adds 1 to `times` of every point that the polygon (x, y by turns) holds. */
  add(xy: ArrayLike<number>, count: number, times: Uint8Array): void {
    const [xs, ys, odd] = [this.#xs, this.#ys, this.#odd];
    let [px, py] = [xy[2 * count - 2]!, xy[2 * count - 1]!];
    for (let i = 0; i < 2 * count; i += 2) {
      const [qx, qy] = [xy[i]!, xy[i + 1]!];
      const [low, high] = py < qy ? [py, qy] : [qy, py];
      for (let k = this.#firstFrom(low); k < ys.length && ys[k]! < high; k++)
        if (xs[k]! < px + ((ys[k]! - py) / (qy - py)) * (qx - px)) {
          odd[k]! ^= 1;
          this.#touched.push(k);
        }
      [px, py] = [qx, qy];
    }
    for (const k of this.#touched) {
      if (odd[k] === 1) times[this.#from[k]!]!++;
      odd[k] = 0;
    }
    this.#touched.length = 0;
  }

  /** The first point at or above y. */
  #firstFrom(y: number): number {
    const ys = this.#ys;
    const strip = Math.floor((y - ys[0]!) / this.#strip);
    if (strip >= this.#starts.length) return ys.length;
    // A strip earlier, for the rounding of the quotient.
    let k = strip < 1 ? 0 : this.#starts[strip - 1]!;
    while (k < ys.length && ys[k]! < y) k++;
    return k;
  }
}
