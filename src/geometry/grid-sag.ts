/**
 * A sag given by its heights on a square grid, joined by a bicubic spline: C², through every height, its ends by the not-a-knot condition
 * (de Boor, A Practical Guide to Splines, ch. IV), so that it is of the fourth order up to the edge. mm.
 */
import type { Sag } from './sag.ts';

export interface SagGrid {
  /** Place of the first node: the least x and y. */
  readonly x: number;
  readonly y: number;
  readonly spacing: number;
  readonly columns: number;
  readonly rows: number;
  /** Row by row, y upward; x upward within a row. */
  readonly heights: Float64Array;
}

/** Nodes along a side: a cubic takes four. */
export const LEAST_NODES = 4;

/** The surface ends at the outermost nodes. */
export function gridSag({ x: left, y: low, spacing, columns, rows, heights }: SagGrid): Sag {
  const [across, up] = [columns + 2, rows + 2];
  // Along each row, then along each column of what that gave.
  const half = new Float64Array(across * rows);
  for (let j = 0; j < rows; j++) coefficients(heights, j * columns, 1, columns, half, j * across, 1);
  const spline = new Float64Array(across * up);
  for (let i = 0; i < across; i++) coefficients(half, i, across, rows, spline, i, across);
  const [us, vs] = [new Float64Array(12), new Float64Array(12)];
  return {
    isRound: false,
    isPieced: true,
    at(x, y, out) {
      const [u, v] = [(x - left) / spacing, (y - low) / spacing];
      if (!(u >= -ROUNDING && v >= -ROUNDING && u <= columns - 1 + ROUNDING && v <= rows - 1 + ROUNDING))
        return false;
      const i = Math.min(columns - 2, Math.max(0, Math.floor(u)));
      const j = Math.min(rows - 2, Math.max(0, Math.floor(v)));
      basis(u - i, us);
      basis(v - j, vs);
      out.fill(0);
      for (let b = 0; b < 4; b++) {
        let [value, slope, bend] = [0, 0, 0];
        for (let a = 0; a < 4; a++) {
          const c = spline[(j + b) * across + i + a]!;
          value += c * us[a]!;
          slope += c * us[4 + a]!;
          bend += c * us[8 + a]!;
        }
        out[0]! += value * vs[b]!;
        out[1]! += slope * vs[b]!;
        out[2]! += value * vs[4 + b]!;
        out[3]! += bend * vs[b]!;
        out[4]! += slope * vs[4 + b]!;
        out[5]! += value * vs[8 + b]!;
      }
      for (let k = 1; k < 6; k++) out[k]! /= k < 3 ? spacing : spacing * spacing;
      return true;
    },
  };
}

/** Of a place on the edge, in spacings. */
const ROUNDING = 1e-9;

/** The four cubic B-splines that are not 0 at `t` of an interval, 0 to 1, then their first and second derivatives. */
function basis(t: number, out: Float64Array): void {
  const s = 1 - t;
  out[0] = (s * s * s) / 6;
  out[1] = (3 * t * t * t - 6 * t * t + 4) / 6;
  out[2] = (3 * s * s * s - 6 * s * s + 4) / 6;
  out[3] = (t * t * t) / 6;
  out[4] = (-s * s) / 2;
  out[5] = (3 * t * t - 4 * t) / 2;
  out[6] = (4 * s - 3 * s * s) / 2;
  out[7] = (t * t) / 2;
  out[8] = s;
  out[9] = 3 * t - 2;
  out[10] = 3 * s - 2;
  out[11] = t;
}

/**
 * B-spline coefficients c_−1 … c_n of n values f_0 … f_n−1: (c_k−1 + 4c_k + c_k+1)/6 = f_k. Not-a-knot says that the second differences of
 * c run straight through the second node, so that the one there is that of f, and c_1 = f_1 − δ²f_1/6; the same at the far end. What lies
 * between is tridiagonal.
 */
function coefficients(
  from: Float64Array,
  start: number,
  stride: number,
  n: number,
  into: Float64Array,
  first: number,
  step: number,
): void {
  const f = (k: number): number => from[start + k * stride]!;
  const known = (k: number): number => f(k) - (f(k - 1) - 2 * f(k) + f(k + 1)) / 6;
  const c = new Float64Array(n + 2);
  c[2] = known(1);
  c[n - 1] = known(n - 2);
  // Thomas' algorithm for c_2 … c_n−3; c[k + 1] is c_k.
  const upper = new Float64Array(n);
  const right = new Float64Array(n);
  for (let k = 2; k <= n - 3; k++) {
    const before = k === 2 ? 0 : upper[k - 1]!;
    const pivot = 4 - before;
    upper[k] = 1 / pivot;
    right[k] = (6 * f(k) - (k === 2 ? c[2] : right[k - 1]!)) / pivot;
  }
  for (let k = n - 3; k >= 2; k--) c[k + 1] = right[k]! - upper[k]! * c[k + 2]!;
  c[1] = 6 * f(1) - 4 * c[2] - c[3]!;
  c[0] = 6 * f(0) - 4 * c[1] - c[2];
  c[n] = 6 * f(n - 2) - 4 * c[n - 1]! - c[n - 2]!;
  c[n + 1] = 6 * f(n - 1) - 4 * c[n]! - c[n - 1]!;
  for (let k = 0; k < n + 2; k++) into[first + k * step] = c[k]!;
}
