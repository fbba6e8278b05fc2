/**
 * What a part may do that no reading shows, as a mechanic would say it: moves along directions and turns about axes, in the
 * part frame, mm and radians, instead of the arbitrary basis that a null space comes in.
 */
import { singularValues } from '../../algebra/singular-values.ts';
import { cross, dot, length, scale, subtract, type Vec3 } from '../../geometry/vector.ts';
import { observedOf } from './unobserved.ts';

/** A small motion δ = T + θ × r. */
interface Motion {
  readonly translation: Vec3;
  readonly rotation: Vec3;
}

interface FreeMotion extends Motion {
  /** `to move along x` or `to turn about z`. */
  readonly words: string;
}

export interface FreeMotions {
  readonly motions: readonly FreeMotion[];
  /** Orthonormal basis of them, as six numbers whose rotations are in mm at the part's size. */
  readonly basis: readonly Float64Array[];
  /** In the order x, y, z, rx, ry, rz: whether the degree has a figure in spite of what is free. */
  readonly observed: readonly boolean[];
}

/** Components of the null space below this, against 1, are rounding. */
const ROUNDING = 1e-6;

/**
 * From the unobserved combinations of unknowns, of which the first six are x, y, z (mm) and rx, ry, rz (times `size`, mm).
 */
export function freeMotionsOf(unobserved: readonly Float64Array[], size: number): FreeMotions {
  // What is left of the null space when the references' slides are looked away from.
  const { values, directions } = singularValues(
    Float64Array.from(unobserved.flatMap((v) => [...v.subarray(0, 6)])),
    6,
  );
  const basis = directions.filter((_, k) => values[k]! > ROUNDING);
  const motions = canonical(basis).map((v): FreeMotion => {
    const motion = motionOf(v, size);
    return { ...motion, words: wordsFor(motion, size) };
  });
  return { motions, basis, observed: observedOf(basis, 6) };
}

/** A motion from six numbers whose rotations are in mm at the part's size. */
export const motionOf = (six: ArrayLike<number>, size: number): Motion => {
  return {
    translation: [six[0]!, six[1]!, six[2]!],
    rotation: [six[3]! / size, six[4]! / size, six[5]! / size],
  };
};

/** Which of x, y, z, rx, ry, rz a motion is mostly made of, rotations counted at the part's size. */
export function motionDegrees({ translation, rotation }: Motion, size: number): readonly boolean[] {
  const six = [...translation, ...rotation.map((angle) => angle * size)];
  const whole = Math.sqrt(six.reduce((sum, part) => sum + part * part, 0));
  return six.map((part) => Math.abs(part) > MOSTLY_OF_DEGREE * whole);
}

/** Less than this of a motion in a degree is not worth naming there. */
const MOSTLY_OF_DEGREE = 0.1;

/** What a motion is, in words: `to move along y`, `to turn about an axis along z through x = 3 mm, …`. */
export function wordsFor(motion: Motion, size: number): string {
  const { translation, rotation } = motion;
  if (isMove(motion, size)) return `to move along ${directionWords(translation)}`;
  const turn = length(rotation);
  const axis = scale(rotation, 1 / turn);
  const through = scale(cross(rotation, translation), 1 / (turn * turn));
  const pitch = dot(translation, axis) / turn;
  const where =
    length(through) <= ON_ORIGIN * size
      ? `the part's ${axisWords(axis)}`
      : `an axis along ${directionWords(axis)} through ${placeWords(through)}`;
  const screw =
    Math.abs(pitch) <= ON_ORIGIN * size ? '' : `, going ${rounded(pitch)} mm along it for each radian`;
  return `to turn about ${where}${screw}`;
}

/** Whether a motion is called a move, and not a turn. */
export const isMove = ({ translation, rotation }: Motion, size: number): boolean =>
  length(rotation) * size <= MOSTLY_ALONG * length(translation);

/**
 * The same space by a basis as near to the axes as it goes: row reduction over the given columns, the largest pivot first;
 * rows come back in the order of their pivots' columns, each with a 1 there.
 */
export function reducedToAxes(given: readonly (readonly number[])[], columns: readonly number[]): number[][] {
  const rows = given.map((row) => [...row]);
  const pivots = new Map<number, number[]>();
  for (;;) {
    let best: { row: number[]; column: number } | undefined;
    for (const row of rows) {
      if ([...pivots.values()].includes(row)) continue;
      for (const column of columns) {
        if (pivots.has(column)) continue;
        if (best === undefined || Math.abs(row[column]!) > Math.abs(best.row[best.column]!))
          best = { row, column };
      }
    }
    if (best === undefined) break;
    const { row, column } = best;
    const pivot = row[column]!;
    for (let k = 0; k < row.length; k++) row[k]! /= pivot;
    for (const other of rows) {
      if (other === row) continue;
      const factor = other[column]!;
      for (let k = 0; k < row.length; k++) other[k]! -= factor * row[k]!;
    }
    pivots.set(column, row);
  }
  return columns.flatMap((column) => {
    const row = pivots.get(column);
    return row === undefined ? [] : [row.map((entry) => (Math.abs(entry) < ROUNDING ? 0 : entry))];
  });
}

/** A motion with less turning than this, against its translation, both as lengths, is called a move. */
const MOSTLY_ALONG = 1e-3;
/** Axes that pass the origin at less than this part of the part's size go through it. */
const ON_ORIGIN = 1e-6;

/** Pure translations first, then rotations with no translation to spare, each set brought to the axes as far as it goes. */
function canonical(basis: readonly Float64Array[]): readonly number[][] {
  if (basis.length === 0) return [];
  // Combinations of the basis whose rotations cancel: the null space of their rotation parts.
  const rotations = [3, 4, 5].flatMap((row) => basis.map((v) => v[row]!));
  const { values, directions } = singularValues(Float64Array.from(rotations), basis.length);
  const combine = (weights: Float64Array): number[] =>
    Array.from({ length: 6 }, (_, k) => basis.reduce((sum, v, b) => sum + weights[b]! * v[k]!, 0));
  const turning = directions.filter((_, k) => values[k]! > ROUNDING).map(combine);
  const moving = directions.filter((_, k) => !(values[k]! > ROUNDING)).map(combine);
  for (const vector of turning) {
    for (const move of moving) {
      const share = vector.slice(0, 3).reduce((sum, entry, k) => sum + entry * move[k]!, 0);
      for (let k = 0; k < 3; k++) vector[k]! -= share * move[k]!;
    }
  }
  return [...reducedToAxes(moving, [0, 1, 2]), ...reducedToAxes(turning, [3, 4, 5])];
}

function axisWords(axis: Vec3): string {
  const name = axisName(axis);
  return name === undefined ? `axis along ${directionWords(axis)} through its origin` : `${name} axis`;
}

/** `z`, or `(0, 0.6, 0.8)` for a direction that is no axis. */
export function directionWords(direction: Vec3): string {
  const along = scale(direction, 1 / length(direction));
  return axisName(along) ?? `(${along.map((entry) => rounded(entry)).join(', ')})`;
}

const placeWords = ([x, y, z]: Vec3): string =>
  `x = ${rounded(x)} mm, y = ${rounded(y)} mm, z = ${rounded(z)} mm`;

/** The name of the axis that a unit vector lies along, either way. */
function axisName(along: Vec3): string | undefined {
  const unitVectors: readonly (readonly [string, Vec3])[] = [
    ['x', [1, 0, 0]],
    ['y', [0, 1, 0]],
    ['z', [0, 0, 1]],
  ];
  return unitVectors.find(
    ([, v]) => length(subtract(scale(v, Math.sign(dot(along, v))), along)) < MOSTLY_ALONG,
  )?.[0];
}

/** Three decimals, no trailing zeros, no -0. */
const rounded = (value: number): string => String(Number(value.toFixed(3)) + 0);
