/**
 * The rigid motion that carries places nearest to others, unweighted, by steps of the linear problem in six unknowns from the motion of three
 * of the places; and the same with a seventh unknown, how far all places go along directions of their own. mm and radians.
 */
import { fitted } from './equations.ts';
import { plainCovariance } from './normal-equations.ts';
import { minus, normed, type Vector } from './ray.ts';

interface RigidFit {
  /** Sum of squares of the distances left, mm². */
  readonly squares: number;
  /** The seventh unknown, 0 without directions, and its standard uncertainty where each coordinate has `u`. */
  readonly along: number;
  readonly uAlong: number;
}

export function rigidFit(
  from: readonly Vector[],
  to: readonly Vector[],
  directions?: readonly Vector[],
  u = 1,
): RigidFit {
  const [a, b] = [axesOf(from), axesOf(to)];
  let turn = [0, 1, 2].map((i) => [0, 1, 2].map((j) => sum3((k) => b[k]![i]! * a[k]![j]!)));
  let shift = minus(to[0]!, times(turn, from[0]!));
  let along = 0;
  let rows: number[][] = [];
  let left: number[] = [];
  for (let step = 0; step < 30; step++) {
    const places = from.map((p, k) => plus(p, directions?.[k] ?? [0, 0, 0], along));
    const turned = places.map((p) => times(turn, p));
    left = to.flatMap((p, k) => [0, 1, 2].map((i) => p[i]! - turned[k]![i]! - shift[i]!));
    rows = turned.flatMap(([x, y, z], k) => {
      const out = directions === undefined ? [] : times(turn, directions[k]!);
      return [
        [1, 0, 0, 0, z, -y],
        [0, 1, 0, -z, 0, x],
        [0, 0, 1, y, -x, 0],
      ].map((row, i) => (directions === undefined ? row : [...row, out[i]!]));
    });
    const [x, y, z, rx, ry, rz, more = 0] = fitted(rows, left);
    shift = [shift[0] + x!, shift[1] + y!, shift[2] + z!];
    turn = product(turnBy([rx!, ry!, rz!]), turn);
    along += more;
    if (Math.hypot(x!, y!, z!, 1e3 * rx!, 1e3 * ry!, 1e3 * rz!, more) < 1e-12) break;
  }
  const uAlong =
    directions === undefined
      ? Number.NaN
      : Math.sqrt(plainCovariance(rows.map((row) => ({ row, u })))[6]![6]!);
  return { squares: left.reduce((sum, e) => sum + e * e, 0), along, uAlong };
}

const sum3 = (of: (k: number) => number): number => of(0) + of(1) + of(2);
const plus = (p: Vector, q: Vector, by: number): Vector => [
  p[0] + by * q[0],
  p[1] + by * q[1],
  p[2] + by * q[2],
];
const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const times = (m: readonly (readonly number[])[], p: Vector): Vector => {
  const row = (i: number): number => sum3((k) => m[i]![k]! * p[k]!);
  return [row(0), row(1), row(2)];
};
const product = (a: number[][], b: number[][]): number[][] =>
  a.map((row) => [0, 1, 2].map((j) => sum3((k) => row[k]! * b[k]![j]!)));

/** Square axes by the first three places. */
function axesOf([p, q, r]: readonly Vector[]): readonly [Vector, Vector, Vector] {
  const first = normed(minus(q!, p!));
  const third = normed(cross(first, minus(r!, p!)));
  return [first, cross(third, first), third];
}

/** Rodrigues' formula. */
function turnBy(w: Vector): number[][] {
  const angle = Math.hypot(...w);
  if (angle === 0) return [0, 1, 2].map((i) => [0, 1, 2].map((j) => +(i === j)));
  const [x, y, z] = w.map((each) => each / angle) as unknown as Vector;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const v = 1 - c;
  return [
    [c + x * x * v, x * y * v - z * s, x * z * v + y * s],
    [y * x * v + z * s, c + y * y * v, y * z * v - x * s],
    [z * x * v - y * s, z * y * v + x * s, c + z * z * v],
  ];
}
