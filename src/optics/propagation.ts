/**
 * Scalar waves carried through free space in the paraxial (Fresnel) approximation, without loss of energy.
 *
 * mm; a wave of eikonal E has the phase exp(+2πiE/λ). Over a length L each spatial frequency f (cycles/mm) turns by
 *   H(f) = exp(−iπ λL f²)
 * the common factor exp(2πiL/λ) left out (Goodman, Introduction to Fourier Optics, §4.2.3). What is carried is a wave's deviation from
 * a plane wave, or from a spherical or cylindrical one: a wave that converges to a centre s away is, after the length z and in
 * coordinates that shrink by 1 − z/s, its deviation carried over z·s/(s − z) (A. E. Siegman, Lasers, §20.4; V. I. Talanov,
 * JETP Lett. 11, 199, 1970). So no field need resolve the steep phase of a focused wave.
 * The samples repeat: light that leaves on one side of the grid comes in at the other.
 */
import {
  type ComplexArray,
  complexArray,
  FourierPlan,
  frequencyOf,
  transformColumns,
  transformRows,
} from '../algebra/fourier.ts';

/** Complex samples on an even grid about the origin, row-major: sample (i, j) lies at ((i − columns/2)·spacingX, (j − rows/2)·spacingY). */
export interface Field extends ComplexArray {
  /** Powers of two; rows may be 1 for a field of one dimension. */
  readonly columns: number;
  readonly rows: number;
  readonly spacingX: number;
  readonly spacingY: number;
}

export function emptyField(columns: number, rows: number, spacingX: number, spacingY: number): Field {
  return { ...complexArray(columns * rows), columns, rows, spacingX, spacingY };
}

/** Place of sample i of n along an axis. */
export const sampleAt = (i: number, n: number, spacing: number): number => (i - n / 2) * spacing;

/** The field at any place of the grid, by the plane through its four neighbours; 0 outside the grid. */
export function valueAt(field: Field, x: number, y: number): readonly [re: number, im: number] {
  const { columns, rows } = field;
  const [column, row] = [x / field.spacingX + columns / 2, y / field.spacingY + rows / 2];
  const [i, j] = [Math.floor(column), Math.floor(row)];
  if (!(i >= 0 && j >= 0 && i < columns - 1 && j < rows - 1)) return [0, 0];
  const [right, up] = [column - i, row - j];
  const between = (values: Float64Array): number => {
    const at = j * columns + i;
    const lower = values[at] * (1 - right) + values[at + 1] * right;
    const upper = values[at + columns] * (1 - right) + values[at + columns + 1] * right;
    return lower * (1 - up) + upper * up;
  };
  return [between(field.re), between(field.im)];
}

/** The length in which a wave converging to s changes as a plane one would over z: z·s/(s − z). s negative: diverging. */
export const convergentLength = (z: number, s: number): number => (z * s) / (s - z);

interface Propagation {
  readonly wavelength: number;
  /** Length along x and along y, mm; 0 leaves that axis alone. They differ for a wave focused along one axis only. */
  readonly lengthX: number;
  readonly lengthY: number;
  /**
   * Light that leaves the grid is dropped instead of coming in again on the other side: frequencies above reach/(λL) are cut,
   * where `reach` is how far light may run sideways (mm). Default: none is dropped.
   */
  readonly reachX?: number;
  readonly reachY?: number;
}

/** Carries the field on, in place. */
export function propagate(field: Field, { wavelength, lengthX, lengthY, reachX, reachY }: Propagation): void {
  const { columns, rows, spacingX, spacingY } = field;
  if (lengthX !== 0) {
    filterRows(field, transferOf(columns, spacingX, wavelength * lengthX, reachX));
  }
  if (lengthY !== 0 && rows > 1) {
    const turns = transferOf(rows, spacingY, wavelength * lengthY, reachY);
    filterColumns(field, turns);
  }
}

/**
 * Moves the field by (x, y) mm, in place, between samples as the Fourier series has it. A field that leaves the grid is lost: by half
 * the grid and more, it leaves nothing in its middle.
 */
export function shift(field: Field, x: number, y: number): void {
  const { columns, rows, spacingX, spacingY } = field;
  if (Math.abs(x) >= (columns * spacingX) / 2 || Math.abs(y) >= (rows * spacingY) / 2) {
    field.re.fill(0);
    field.im.fill(0);
    return;
  }
  if (x !== 0) filterRows(field, shiftTurns(columns, spacingX, x));
  if (y !== 0) filterColumns(field, shiftTurns(rows, spacingY, y));
}

function shiftTurns(n: number, spacing: number, distance: number): ComplexArray {
  const turns = complexArray(n);
  for (let k = 0; k < n; k++) {
    const angle = -2 * Math.PI * frequencyOf(k, n, spacing) * distance;
    turns.re[k] = Math.cos(angle);
    turns.im[k] = Math.sin(angle);
  }
  return turns;
}

/**
 * The field in the focus of the wave that it deviates from, along one axis, at the distance s: there sample i of n lies at
 * sampleAt(i, n, λs/(n·spacing)). Energy is kept; a constant phase and the focal plane's own curvature are left out. The
 * samples are transformed in place; the returned field has them with the new spacing.
 */
export function toFocus(field: Field, wavelength: number, s: number, axis: 'x' | 'y'): Field {
  return transformToFocus(field, wavelength, s, axis, 'forward');
}

/** Undoes toFocus: from the focus back to the plane s before it, or on to the one behind, upside down. */
export function fromFocus(field: Field, wavelength: number, s: number, axis: 'x' | 'y'): Field {
  return transformToFocus(field, wavelength, s, axis, 'inverse');
}

function transformToFocus(
  field: Field,
  wavelength: number,
  s: number,
  axis: 'x' | 'y',
  way: 'forward' | 'inverse',
): Field {
  const { columns, rows } = field;
  const n = axis === 'x' ? columns : rows;
  const old = axis === 'x' ? field.spacingX : field.spacingY;
  const spacing = (wavelength * s) / (n * old);
  const plan = new FourierPlan(n);
  // exp(∓iπi) before and after puts the origin of both planes in the middle of the grid.
  chequer(field, axis, 1);
  if (axis === 'x') transformRows(plan, field, rows, way);
  else transformColumns(plan, field, columns, way);
  const factor = (way === 'forward' ? old : n * old) / Math.sqrt(wavelength * s);
  chequer(field, axis, factor);
  return { ...field, ...(axis === 'x' ? { spacingX: spacing } : { spacingY: spacing }) };
}

/** Multiplies by `factor`, and by −1 at every other place along the axis. */
function chequer(field: Field, axis: 'x' | 'y', factor: number): void {
  for (let i = 0; i < field.re.length; i++) {
    const place = axis === 'x' ? i % field.columns : Math.floor(i / field.columns);
    const sign = place % 2 === 1 ? -factor : factor;
    field.re[i] *= sign;
    field.im[i] *= sign;
  }
}

/** H at each frequency of n samples; 0 beyond the frequency that runs sideways by more than `reach`. */
function transferOf(n: number, spacing: number, wavelengthLength: number, reach = Infinity): ComplexArray {
  const turns = complexArray(n);
  const highest = reach / Math.abs(wavelengthLength);
  for (let k = 0; k < n; k++) {
    const f = frequencyOf(k, n, spacing);
    if (Math.abs(f) > highest) continue;
    const angle = -Math.PI * wavelengthLength * f * f;
    turns.re[k] = Math.cos(angle);
    turns.im[k] = Math.sin(angle);
  }
  return turns;
}

function filterRows(field: Field, turns: ComplexArray): void {
  const { rows, columns } = field;
  const plan = new FourierPlan(columns);
  transformRows(plan, field, rows, 'forward');
  multiply(field, (i) => i % columns, turns);
  transformRows(plan, field, rows, 'inverse');
}

function filterColumns(field: Field, turns: ComplexArray): void {
  const { rows, columns } = field;
  const plan = new FourierPlan(rows);
  transformColumns(plan, field, columns, 'forward');
  multiply(field, (i) => Math.floor(i / columns), turns);
  transformColumns(plan, field, columns, 'inverse');
}

function multiply(field: ComplexArray, which: (index: number) => number, by: ComplexArray): void {
  const { re, im } = field;
  for (let i = 0; i < re.length; i++) {
    const k = which(i);
    const real = re[i] * by.re[k] - im[i] * by.im[k];
    im[i] = re[i] * by.im[k] + im[i] * by.re[k];
    re[i] = real;
  }
}
