/**
 * What readings at the references tell of the part's place, fast enough to be asked for every candidate patch.
 *
 * Each reference gathers Σ d dᵀ/u² (3 × 3, mm⁻²) of its readings; what it may slide along is taken out (Schur's complement);
 * δ = T + θ × r then carries it to the part's six degrees, as in metrology/estimate/pose-estimate.ts. Summing squares loses half of the
 * digits, which ranks candidates well enough; what is reported of a plan comes from that file's QR. mm, radians, part frame.
 */
import type { Design } from '../design/design.ts';
import { placeFromParent, rotateBack } from '../geometry/frame.ts';
import type { Vec3 } from '../geometry/vector.ts';
import { holdOf } from '../metrology/budget/hold.ts';
import { COMMON_PRACTICE } from '../metrology/budget/practice.ts';
import { largestOffset, RECTANGULAR } from '../metrology/budget/reference-errors.ts';
import { SETTING } from '../metrology/estimate/unobserved.ts';
import { motionMaps } from '../metrology/null/motion-maps.ts';
import { DEGREES, type Reference, type Wanted, wishedDegrees } from '../scenario/scenario.ts';

/** Upper triangle of a symmetric 3 × 3: xx, xy, xz, yy, yz, zz. */
export type Symmetric3 = Float64Array;

export const noInformation = (): Symmetric3 => new Float64Array(6);

/** Adds `weight` times d dᵀ. */
export function addReading(sum: Symmetric3, [x, y, z]: Vec3, weight: number): void {
  sum[0]! += weight * x * x;
  sum[1]! += weight * x * y;
  sum[2]! += weight * x * z;
  sum[3]! += weight * y * y;
  sum[4]! += weight * y * z;
  sum[5]! += weight * z * z;
}

/** Adds `weight` times row rowᵀ of a reading of the six degrees to `into`, 6 × 6 row-major. */
export function addRow(into: Float64Array, row: readonly number[], weight: number): void {
  for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) into[i * 6 + j]! += weight * row[i]! * row[j]!;
}

/** A reference as the part carries it. */
export interface Carried {
  readonly at: Vec3;
  readonly slides: readonly Vec3[];
  /** Variance of what stands between its patches' readings and the part, along each axis, mm²: apex, form, seat. */
  readonly offset: number;
}

export const carriedBy = (design: Design, reference: Reference): Carried => {
  const { frame } = design.scenario.part;
  return {
    at: placeFromParent(frame, reference.at),
    slides: holdOf(design, reference).slides.map((slide) => rotateBack(frame.rotation, slide)),
    offset: offsetVariance(reference),
  };
};

/** As metrology/budget/reference-errors.ts and mounting-errors.ts have it; what a touch adds along its normal counts along each axis. */
function offsetVariance(reference: Reference): number {
  const { given, form, nest } = reference;
  const own = largestOffset(reference, COMMON_PRACTICE);
  const seat = given === 'touches' ? (form ?? COMMON_PRACTICE.form) : (nest ?? COMMON_PRACTICE.nest);
  return (own * own + seat * seat) * RECTANGULAR * RECTANGULAR;
}

/** Adds what one reference's readings tell of the six degrees to `into` (6 × 6 row-major). The hot loop: no arrays are made. */
export function addToPose(
  into: Float64Array,
  information: Symmetric3,
  { at, slides, offset }: Carried,
): void {
  blur(information, offset);
  for (const slide of slides) takeOutSlide(HELD, slide);
  const [x, y, z] = at;
  // The columns of −[r]×, e_j × r, after those of I.
  LEVER[3] = 0;
  LEVER[4] = z;
  LEVER[5] = -y;
  LEVER[9] = -z;
  LEVER[10] = 0;
  LEVER[11] = x;
  LEVER[15] = y;
  LEVER[16] = -x;
  LEVER[17] = 0;
  for (let j = 0; j < 6; j++) {
    const [a, b, c] = [LEVER[j]!, LEVER[6 + j]!, LEVER[12 + j]!];
    const p = HELD[0]! * a + HELD[1]! * b + HELD[2]! * c;
    const q = HELD[1]! * a + HELD[3]! * b + HELD[4]! * c;
    const s = HELD[2]! * a + HELD[4]! * b + HELD[5]! * c;
    for (let i = 0; i <= j; i++) {
      const value = LEVER[i]! * p + LEVER[6 + i]! * q + LEVER[12 + i]! * s;
      into[i * 6 + j]! += value;
      if (i !== j) into[j * 6 + i]! += value;
    }
  }
}

const HELD = new Float64Array(6);
/** [I, −[r]×], 3 × 6 row-major; its right half is written anew for each reference. */
const LEVER = Float64Array.of(1, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0);

/** (M⁻¹ + vI)⁻¹ = M (I + vM)⁻¹ into HELD: readings at a reference that is off by the variance v along each axis. */
function blur(m: Symmetric3, v: number): void {
  const [a, b, c] = [1 + v * m[0]!, v * m[1]!, v * m[2]!];
  const [d, e, f] = [1 + v * m[3]!, v * m[4]!, 1 + v * m[5]!];
  // Cofactors of the symmetric I + vM.
  const [aa, ab, ac] = [d * f - e * e, c * e - b * f, b * e - c * d];
  const [bb, bc, cc] = [a * f - c * c, b * c - a * e, a * d - b * b];
  const determinant = a * aa + b * ab + c * ac;
  HELD[0] = (m[0]! * aa + m[1]! * ab + m[2]! * ac) / determinant;
  HELD[1] = (m[0]! * ab + m[1]! * bb + m[2]! * bc) / determinant;
  HELD[2] = (m[0]! * ac + m[1]! * bc + m[2]! * cc) / determinant;
  HELD[3] = (m[1]! * ab + m[3]! * bb + m[4]! * bc) / determinant;
  HELD[4] = (m[1]! * ac + m[3]! * bc + m[4]! * cc) / determinant;
  HELD[5] = (m[2]! * ac + m[4]! * bc + m[5]! * cc) / determinant;
}

/** M − M s sᵀM/(sᵀM s), or M itself where the slide is not seen. Slides one after another are eliminated exactly. */
function takeOutSlide(m: Symmetric3, [x, y, z]: Vec3): void {
  const a = m[0]! * x + m[1]! * y + m[2]! * z;
  const b = m[1]! * x + m[3]! * y + m[4]! * z;
  const c = m[2]! * x + m[4]! * y + m[5]! * z;
  const weight = a * x + b * y + c * z;
  if (!(weight > 0)) return;
  m[0]! -= (a * a) / weight;
  m[1]! -= (a * b) / weight;
  m[2]! -= (a * c) / weight;
  m[3]! -= (b * b) / weight;
  m[4]! -= (b * c) / weight;
  m[5]! -= (c * c) / weight;
}

/** How a pose stands to what is wanted. */
export interface PoseScore {
  /** The largest σ over its wish, or what misalignment leaves over what `test.figure` allows. */
  readonly worst: number;
  /** A smooth stand-in for it that every wish has a say in. */
  readonly smooth: number;
}

/** Weights of the six degrees, 1/wish², 0 where nothing is wished; `size` is the lever of the prior's rotations, mm. */
export interface Wishes {
  readonly inverse: Float64Array;
  readonly size: number;
  /** Variance of each degree that comes from elsewhere than the readings: the rest of the budget. mm², rad². */
  readonly besides: Float64Array;
  /** What is asked of the measured figure, if anything. */
  readonly figure: FigureWish | undefined;
}

interface FigureWish {
  /** R of what motions leave (metrology/null/motion-maps.ts), 6 × 6 row-major, over what is allowed; rotations at `size`. */
  readonly factor: Float64Array;
  /** Of the square over what is allowed: what comes from elsewhere than the readings. */
  besides: number;
}

/** Where nothing is wished at all: what a good bench reaches, so that degrees can be weighed against each other. */
const COMMON_WISH: Required<Wanted> = { x: 0.02, y: 0.02, z: 0.1, rx: 1e-4, ry: 1e-4, rz: 1e-4 };

export function wishesOf(wanted: Wanted, size: number, figure?: FigureWish): Wishes {
  const asked = figure !== undefined || wishedDegrees(wanted).length > 0 ? wanted : COMMON_WISH;
  return {
    inverse: Float64Array.from(DEGREES, (degree) => 1 / (asked[degree] ?? Infinity)),
    size,
    besides: new Float64Array(6),
    figure,
  };
}

/** Undefined where the scenario asks nothing of the figure. */
export function figureWishOf(design: Design, size: number): FigureWish | undefined {
  const allowed = design.scenario.test?.figure;
  const maps = allowed === undefined ? undefined : motionMaps(design);
  if (allowed === undefined || maps === undefined) return undefined;
  const factor = maps.factor.map((entry, at) => entry / (allowed * (at % 6 < 3 ? 1 : size)));
  return { factor, besides: 0 };
}

/**
 * The score of a pose by its information. The smooth measure is the norm of order 8: high enough that the worst wish rules,
 * low enough that others are still felt; by products and roots, since this is asked for every candidate. What no reading sees is still within reach of setting by eye, as in
 * metrology/estimate/unobserved.ts.
 */
export function poseScore(information: Float64Array, wishes: Wishes): PoseScore {
  const { inverse, besides, figure } = wishes;
  const variances = variancesOf(information, wishes);
  let [worst, total] = [0, 0];
  for (let degree = 0; degree < 6; degree++) {
    if (inverse[degree] === 0) continue;
    const square = (variances[degree]! + besides[degree]!) * inverse[degree]! * inverse[degree]!;
    worst = Math.max(worst, square);
    total += square * square * square * square;
  }
  if (figure !== undefined) {
    const square = leftInFigure(figure) + figure.besides;
    worst = Math.max(worst, square);
    total += square * square * square * square;
  }
  return { worst: Math.sqrt(worst), smooth: Math.sqrt(Math.sqrt(Math.sqrt(total))) };
}

/** tr(C M) over what is allowed, for the covariance C that variancesOf has just factored, by the readings alone: Σ (L⁻¹ r)² over the rows r of R. */
function leftInFigure({ factor }: FigureWish): number {
  let sum = 0;
  for (let row = 0; row < 6; row++) sum += solvedSquare(factor, row * 6, row);
  return sum;
}

/** What the readings leave in the figure, of the square over what is allowed; 0 where nothing is asked of it. */
export function figureSquareOf(information: Float64Array, wishes: Wishes): number {
  if (wishes.figure === undefined) return 0;
  variancesOf(information, wishes);
  return leftInFigure(wishes.figure);
}

/** |y|² of L y = v, for the six parts of v from `at` on in `values`, which are 0 before the `first`. */
function solvedSquare(values: Float64Array, at: number, first: number): number {
  const l = SCRATCH;
  let square = 0;
  for (let i = first; i < 6; i++) {
    let sum = values[at + i]!;
    for (let k = first; k < i; k++) sum -= l[i * 6 + k]! * Y[k]!;
    Y[i] = sum / l[i * 6 + i]!;
    square += Y[i]! * Y[i]!;
  }
  return square;
}

/** Of the six degrees by the readings alone, mm² and rad²; the array is used again by the next call. */
export function variancesOf(information: Float64Array, { inverse, size }: Wishes): Float64Array {
  const l = SCRATCH;
  const prior = 1 / (SETTING * SETTING);
  // Cholesky of the information with the prior, rotations scaled by the size; then σ² = Σ (L⁻¹)².
  for (let i = 0; i < 6; i++) {
    const scaleI = i < 3 ? 1 : size;
    for (let j = 0; j <= i; j++) {
      let sum = information[i * 6 + j]! / (scaleI * (j < 3 ? 1 : size)) + (i === j ? prior : 0);
      for (let k = 0; k < j; k++) sum -= l[i * 6 + k]! * l[j * 6 + k]!;
      l[i * 6 + j] = i === j ? Math.sqrt(Math.max(sum, prior * 1e-6)) : sum / l[j * 6 + j]!;
    }
  }
  for (let degree = 0; degree < 6; degree++) {
    VARIANCES[degree] = 0;
    if (inverse[degree] === 0) continue;
    VARIANCES[degree] = solvedSquare(UNIT, degree * 6, degree) / (degree < 3 ? 1 : size * size);
  }
  return VARIANCES;
}

const VARIANCES = new Float64Array(6);
/** L of the factored information. */
const SCRATCH = new Float64Array(36);
const UNIT = Float64Array.from({ length: 36 }, (_, at) => (at % 7 === 0 ? 1 : 0));
const Y = new Float64Array(6);
