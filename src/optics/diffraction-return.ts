/**
 * The true picture of a patch: its field carried to the reference, turned round there, carried back and sent through the
 * pattern again, as scalar waves. The geometric return (round-trip.ts) is its limit at a large Fresnel number.
 *
 * mm, waves; coordinates square to the chief ray, origin at the patch's centre: u along ê, v along the line ℓ̂ (for a point
 * focus ê₁ and ê₂), displacements as [u, v, along û]. Fields are deviations: 1 is the beam's own wave sent straight back, as
 * geometry has it for a reference in its place and no bias.
 * - A ball reflects the converging wave where it is R/s of its size at the patch: out and back it changes as a plane wave does
 *   over 2s(s − R)/R, in both coordinates. A ball out of its place adds the path 2(R − ρ) where ρ is the distance from the
 *   design place to its surface along each ray.
 * - A cube on a line focus inverts the wave in the plane of its apex. Along the line the wave is plane: it runs on over 2s and
 *   comes back upside down. Across the line it passes the focus, which turns it round as the cube does, so that it comes back the
 *   right way up; with the pattern's cylinder crossed twice and 2s of air between, the ray matrix has B = −2s: the deviation changes
 *   as a plane wave's does over −2s, and is no more an image of the patch than along the line. A cube out of its place by δ sends the
 *   light back as from 2δ, and beside where it left by 2δ.
 * Source: Goodman, Introduction to Fourier Optics, §4.2 and §5.2; the reflection of the deviation follows from propagation.ts.
 */
import type { Vec3 } from '../geometry/vector.ts';
import {
  convergentLength,
  emptyField,
  type Field,
  fromFocus,
  propagate,
  sampleAt,
  shift,
  toFocus,
} from './propagation.ts';

export interface DiffractedPatch {
  readonly wavelength: number;
  readonly order: number;
  /** Patch centre to the ball's centre or the cube's apex. */
  readonly distance: number;
  readonly reference:
    | { readonly kind: 'ball'; readonly radius: number }
    /** `loses`: whether light that arrives at (q, v) from the apex, q across the line, is lost. Default: none is. */
    | { readonly kind: 'cube'; readonly loses?: (q: number, v: number) => boolean };
  /** Largest |u| and |v| in the patch. */
  readonly halfWidths: readonly [u: number, v: number];
  readonly contains: (u: number, v: number) => boolean;
  /** B, waves at order 1. */
  readonly bias?: (u: number, v: number) => number;
  /** Of the reference from its place. */
  readonly displacement?: Vec3;
}

export interface DiffractedReturn {
  /** The wave that the camera gets, on a grid that reaches well beyond the patch; 0 outside the patch. */
  readonly field: Field;
  /** How much of each sample's cell belongs to the patch, 0 to 1. */
  readonly coverage: Float64Array;
}

/**
 * Samples across the patch. The fringes of its edges reach the frequency a/(λL) = (Fresnel number)/a in its middle, so that this
 * many show them up to Fresnel numbers of a quarter of it; beyond, the finest are smoothed away, as by a camera's pixels.
 */
export const SAMPLES_ACROSS = 128;

/** The field after the round trip, with `samples` (a power of two) across the patch in either direction. */
export function diffractedReturn(patch: DiffractedPatch, samples = SAMPLES_ACROSS): DiffractedReturn {
  const [a, b] = patch.halfWidths;
  const across = samples * GRID_PER_PATCH;
  const start = emptyField(across, across, (2 * a) / samples, (2 * b) / samples);
  const coverage = coverageOf(patch, start);
  start.re.set(coverage);
  crossPattern(patch, start);
  const field = patch.reference.kind === 'ball' ? throughBall(patch, start) : throughCube(patch, start);
  for (let i = 0; i < coverage.length; i++) {
    field.re[i] *= coverage[i];
    field.im[i] *= coverage[i];
  }
  crossPattern(patch, field);
  return { field, coverage };
}

/** The phase of the same field by geometry, in waves, to first order in the ray's miss of its target. */
export function geometricReturn(patch: DiffractedPatch, u: number, v: number): number {
  const bias = patch.bias ?? none;
  const [moveU, moveV] = patch.displacement ?? STILL;
  if (patch.reference.kind === 'ball') {
    return 2 * patch.order * bias(u, v) + ballScreen(patch, patch.reference.radius, u, v) / patch.wavelength;
  }
  return (
    patch.order * (bias(u, v) + bias(u - 2 * moveU, 2 * moveV - v)) + lineMove(patch, u) / patch.wavelength
  );
}

function throughBall(patch: DiffractedPatch, field: Field): Field {
  const { wavelength, distance: s } = patch;
  const radius = patch.reference.kind === 'ball' ? patch.reference.radius : 0;
  const length = convergentLength(s - radius, s);
  const [reachX, reachY] = patch.halfWidths.map((half) => half * HALF_REACH);
  const half = { wavelength, lengthX: length, lengthY: length, reachX, reachY };
  propagate(field, half);
  turnPhase(field, (u, v) => ballScreen(patch, radius, u, v) / wavelength);
  propagate(field, half);
  return field;
}

function throughCube(patch: DiffractedPatch, field: Field): Field {
  const { wavelength, distance: s, reference } = patch;
  const [moveU, moveV] = patch.displacement ?? STILL;
  const [reachX, reachY] = patch.halfWidths.map((half) => half * HALF_REACH);
  propagate(field, { wavelength, lengthX: 0, lengthY: s, reachY });
  let back = field;
  if (reference.kind === 'cube' && reference.loses !== undefined) {
    back = toFocus(field, wavelength, s, 'x');
    dropLost(patch, back, reference.loses);
    back = fromFocus(back, wavelength, s, 'x');
  }
  // What the focus loses it loses by spatial frequency, as the way there and back counts: the whole of it may follow at once.
  propagate(back, { wavelength, lengthX: -2 * s, lengthY: s, reachX: 2 * reachX, reachY });
  upsideDown(back);
  shift(back, 2 * moveU, 2 * moveV);
  turnPhase(back, (u) => lineMove(patch, u) / wavelength);
  return back;
}

/** Path (mm) that a ball's move adds for the ray at (u, v): twice its radius less the way from its place to its surface. */
function ballScreen(patch: DiffractedPatch, radius: number, u: number, v: number): number {
  const [du, dv, dw] = patch.displacement ?? STILL;
  const s = patch.distance;
  const along = (s * dw - u * du - v * dv) / Math.sqrt(s * s + u * u + v * v);
  const square = du * du + dv * dv + dw * dw;
  return 2 * (radius + along - Math.sqrt(radius * radius + along * along - square));
}

/** E_out(A) − E_out(A + 2δ) of a line, mm. */
function lineMove(patch: DiffractedPatch, u: number): number {
  const [du, , dw] = patch.displacement ?? STILL;
  const s = patch.distance;
  return Math.sqrt((u - 2 * du) ** 2 + (s + 2 * dw) ** 2) - Math.sqrt(u * u + s * s);
}

function crossPattern(patch: DiffractedPatch, field: Field): void {
  const { bias, order } = patch;
  if (bias !== undefined) turnPhase(field, (u, v) => order * bias(u, v));
}

/** Multiplies by exp(2πi · waves(u, v)). */
function turnPhase(field: Field, waves: (u: number, v: number) => number): void {
  eachSample(field, (i, u, v) => {
    if (field.re[i] === 0 && field.im[i] === 0) return;
    const angle = 2 * Math.PI * waves(u, v);
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const re = field.re[i] * c - field.im[i] * s;
    field.im[i] = field.re[i] * s + field.im[i] * c;
    field.re[i] = re;
  });
}

function dropLost(patch: DiffractedPatch, field: Field, loses: (q: number, v: number) => boolean): void {
  const [du, dv] = patch.displacement ?? STILL;
  eachSample(field, (i, q, v) => {
    if (!loses(q - du, v - dv)) return;
    field.re[i] = 0;
    field.im[i] = 0;
  });
}

function upsideDown(field: Field): void {
  const { columns, rows } = field;
  for (const values of [field.re, field.im]) {
    for (let j = 1; j < rows / 2; j++) {
      const upper = values.slice((rows - j) * columns, (rows - j + 1) * columns);
      values.copyWithin((rows - j) * columns, j * columns, (j + 1) * columns);
      values.set(upper, j * columns);
    }
  }
}

function coverageOf(patch: DiffractedPatch, field: Field): Float64Array {
  const coverage = new Float64Array(field.re.length);
  const [a, b] = patch.halfWidths;
  const { spacingX, spacingY } = field;
  const offsets = Array.from({ length: SUBSAMPLES }, (_, k) => (k + 0.5) / SUBSAMPLES - 0.5);
  eachSample(field, (i, u, v) => {
    if (Math.abs(u) > a + spacingX || Math.abs(v) > b + spacingY) return;
    let inside = 0;
    for (const x of offsets) {
      for (const y of offsets) if (patch.contains(u + x * spacingX, v + y * spacingY)) inside++;
    }
    coverage[i] = inside / SUBSAMPLES ** 2;
  });
  return coverage;
}

function eachSample(field: Field, visit: (index: number, x: number, y: number) => void): void {
  for (let j = 0; j < field.rows; j++) {
    const y = sampleAt(j, field.rows, field.spacingY);
    for (let i = 0; i < field.columns; i++) {
      visit(j * field.columns + i, sampleAt(i, field.columns, field.spacingX), y);
    }
  }
}

/** The grid is this much wider than the patch, so that light has room to leave it; a focus has eight samples from zero to zero. */
const GRID_PER_PATCH = 4;
/** Half widths by which light may run sideways on each half of the trip: then it comes back on neither side of the grid. */
const HALF_REACH = GRID_PER_PATCH - 1;
/** Points a side by which a cell's share of the patch is counted; even, so that an edge through the cell's middle halves it. */
const SUBSAMPLES = 4;
const STILL: Vec3 = [0, 0, 0];
const none = (): number => 0;
