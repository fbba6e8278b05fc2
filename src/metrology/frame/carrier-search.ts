/**
 * Where a fit starts: the amounts whose fringes match a patch's picture best, whatever its piston. Of one tilt a search along it, of two a
 * Fourier transform for each power that is tried. Fringes; explained is the part of the picture's variance that a cosine at those amounts
 * takes: 1 for an ideal picture. Source: the maximum of the periodogram, Rife & Boorstyn 1974, from memory.
 */
import { complexArray, FourierPlan } from '../../algebra/fourier.ts';
import { cosineAndSine } from '../../algebra/turns.ts';
import { MOST_FRINGES_PER_PIXEL } from '../sensing/camera-pixels.ts';
import { endsOf } from './seen-pixels.ts';

/** What is searched: phases are of the design place. */
interface SearchPixels {
  readonly count: number;
  readonly column: Float64Array;
  readonly row: Float64Array;
  readonly waves: Float64Array;
  readonly shapes: readonly Float64Array[];
  readonly part: Uint8Array;
  /** The picture less its background. */
  readonly values: Float64Array;
}

interface Candidate {
  readonly amounts: number[];
  readonly explained: number;
}

const TURN = 2 * Math.PI;
/** Fringes from edge to edge between two that are tried: no more than 0.8 of the amplitude is lost between them. */
const TILT_STEP = 0.35;
/** Of power, from the middle to the edge. */
const POWER_STEP = 0.7;
/** Enough of a picture to look no further. */
const PLAIN = 0.5;
const KEPT = 4;

/** Of one read amount, a line focus's. The second, where there is one, parts the two halves of a roof. */
export function searchLine(pixels: SearchPixels): Candidate[] {
  const { count, column, row, waves, shapes, part, values } = pixels;
  const shape = shapes[0]!;
  const [gc, gr] = slopes(column, row, shape);
  const most = MOST_FRINGES_PER_PIXEL / Math.max(1e-6, Math.hypot(gc, gr));
  const steps = Math.ceil(most / TILT_STEP);
  // Turned by one step at a time from the one end to the other.
  const [zr, zi] = [new Float64Array(count), new Float64Array(count)];
  const [turnR, turnI] = [new Float64Array(count), new Float64Array(count)];
  const turned = new Float64Array(2);
  const sums = new Float64Array(4);
  let power = 0;
  for (let i = 0; i < count; i++) {
    cosineAndSine(steps * TILT_STEP * shape[i]! - waves[i]!, turned);
    zr[i] = values[i]! * turned[0]!;
    zi[i] = values[i]! * turned[1]!;
    cosineAndSine(-TILT_STEP * shape[i]!, turned);
    turnR[i] = turned[0]!;
    turnI[i] = turned[1]!;
    power += values[i]! ** 2;
  }
  const found: Candidate[] = [];
  const scores = new Float64Array(2 * steps + 1);
  const phases = new Float64Array(2 * steps + 1);
  for (let k = 0; k <= 2 * steps; k++) {
    sums.fill(0);
    for (let i = 0; i < count; i++) {
      const a = zr[i]!;
      const b = zi[i]!;
      const at = 2 * part[i]!;
      sums[at]! += a;
      sums[at + 1]! += b;
      zr[i] = a * turnR[i]! - b * turnI[i]!;
      zi[i] = a * turnI[i]! + b * turnR[i]!;
    }
    const sizes = [Math.hypot(sums[0]!, sums[1]!), Math.hypot(sums[2]!, sums[3]!)];
    scores[k] = (sizes[0]! + sizes[1]!) ** 2;
    phases[k] = (Math.atan2(sums[1]!, sums[0]!) - Math.atan2(sums[3]!, sums[2]!)) / TURN;
  }
  const apart = shapes[1] === undefined ? 0 : meanOver(shapes[1], part, 0) - meanOver(shapes[1], part, 1);
  const perScore = 2 / (count * power || 1);
  for (let k = 0; k <= 2 * steps; k++) {
    if (scores[k]! < (scores[k - 1] ?? 0) || scores[k]! < (scores[k + 1] ?? 0)) continue;
    const offset = between(scores[k - 1], scores[k]!, scores[k + 1]);
    const amounts = shapes.map(() => 0);
    amounts[0] = (k - steps + offset) * TILT_STEP;
    if (Math.abs(apart) > 0.1) amounts[1] = (phases[k]! - Math.round(phases[k]!)) / apart;
    found.push({ amounts, explained: scores[k]! * perScore });
  }
  return found.sort((a, b) => b.explained - a.explained).slice(0, KEPT);
}

/** Where a parabola through three neighbours is highest, in steps from the middle one. */
function between(before: number | undefined, at: number, after: number | undefined): number {
  if (before === undefined || after === undefined) return 0;
  const bend = before - 2 * at + after;
  return bend < 0 ? Math.max(-0.5, Math.min(0.5, (before - after) / (2 * bend))) : 0;
}

function meanOver(values: Float64Array, part: Uint8Array, which: number): number {
  let [sum, count] = [0, 0];
  for (let i = 0; i < values.length; i++) {
    if (part[i] !== which) continue;
    sum += values[i]!;
    count++;
  }
  return count === 0 ? 0 : sum / count;
}

/** Slopes of the plane through values at columns and rows. */
function slopes(column: Float64Array, row: Float64Array, values: Float64Array): [number, number] {
  const n = values.length;
  let [mc, mr, mv] = [0, 0, 0];
  for (let i = 0; i < n; i++) {
    mc += column[i]! / n;
    mr += row[i]! / n;
    mv += values[i]! / n;
  }
  let [cc, cr, rr, cv, rv] = [0, 0, 0, 0, 0];
  for (let i = 0; i < n; i++) {
    const c = column[i]! - mc;
    const r = row[i]! - mr;
    const v = values[i]! - mv;
    cc += c * c;
    cr += c * r;
    rr += r * r;
    cv += c * v;
    rv += r * v;
  }
  const determinant = cc * rr - cr * cr || 1;
  return [(cv * rr - rv * cr) / determinant, (rv * cc - cv * cr) / determinant];
}

/** Pixels or bins a side of the transform, and how many of them the patch takes at most. */
const LATTICE = 64;
const FILLED = 48;
const FINEST = 256;

/** Of two tilts and a power, the first three amounts. */
export function searchPlane(pixels: SearchPixels): Candidate[] {
  const across = Math.max(rangeOf(pixels.column), rangeOf(pixels.row)) + 1;
  const bin = Math.max(1, Math.ceil(across / FILLED));
  const coarse = searchLattice(pixels, bin, LATTICE);
  if (bin === 1 || (coarse[0]?.explained ?? 0) > PLAIN) return coarse;
  const size = Math.min(FINEST, 2 ** Math.ceil(Math.log2(across * 1.2)));
  const fine = searchLattice(pixels, Math.ceil(across / size), size);
  return (fine[0]?.explained ?? 0) > (coarse[0]?.explained ?? 0) ? fine : coarse;
}

function rangeOf(values: Float64Array): number {
  const [least, most] = endsOf(values);
  return most - least;
}

function searchLattice(pixels: SearchPixels, bin: number, size: number): Candidate[] {
  const { count, column, row, waves, shapes, values } = pixels;
  const [first, second, bow] = shapes as [Float64Array, Float64Array, Float64Array];
  const plan = planOf(size);
  const [[left], [top]] = [endsOf(column), endsOf(row)];
  const cells = new Uint32Array(count);
  let power = 0;
  for (let i = 0; i < count; i++) {
    cells[i] = Math.floor((row[i]! - top) / bin) * size + Math.floor((column[i]! - left) / bin);
    power += values[i]! ** 2;
  }
  const ways = [slopes(column, row, first), slopes(column, row, second)] as const;
  const determinant = ways[0][0] * ways[1][1] - ways[0][1] * ways[1][0];
  const perScore = 2 / (count * power || 1);
  const across = Math.max(rangeOf(column), rangeOf(row)) + 1;
  // Fringes at the edge stand as close as 4 · power over the width.
  const most = (MOST_FRINGES_PER_PIXEL * across) / 4 / Math.max(0.2, rangeOf(bow));
  const isEven = rangeOf(waves) < 0.05;
  const turned = new Float64Array(2);
  const found: Candidate[] = [];
  for (let k = 0; k * POWER_STEP <= most; k++) {
    for (const sign of k === 0 || isEven ? [1] : [1, -1]) {
      const bowed = sign * k * POWER_STEP;
      const data = complexArray(size * size);
      for (let i = 0; i < count; i++) {
        cosineAndSine(-waves[i]! - bowed * bow[i]!, turned);
        data.re[cells[i]!]! += values[i]! * turned[0]!;
        data.im[cells[i]!]! += values[i]! * turned[1]!;
      }
      transformSquare(data, plan, size);
      for (const [kx, ky, score] of peaks(data, size)) {
        const [fc, fr] = [kx / size / bin, ky / size / bin];
        const amounts = shapes.map(() => 0);
        amounts[0] = (fc * ways[1][1] - fr * ways[1][0]) / determinant;
        amounts[1] = (ways[0][0] * fr - ways[0][1] * fc) / determinant;
        amounts[2] = bowed;
        found.push({ amounts, explained: score * perScore });
      }
    }
    if (found.some(({ explained }) => explained > PLAIN)) break;
  }
  return found.sort((a, b) => b.explained - a.explained).slice(0, KEPT);
}

const plans = new Map<number, FourierPlan>();
const planOf = (size: number): FourierPlan => {
  const plan = plans.get(size) ?? new FourierPlan(size);
  plans.set(size, plan);
  return plan;
};

type Samples = ReturnType<typeof complexArray>;

/** Rows, then columns by way of the transpose, and back. */
export function transformSquare({ re, im }: Samples, plan: FourierPlan, size: number): void {
  for (let pass = 0; pass < 2; pass++) {
    for (let k = 0; k < size; k++) plan.forward({ re, im }, k * size);
    for (let a = 0; a < size; a++)
      for (let b = 0; b < a; b++) {
        exchange(re, a * size + b, b * size + a);
        exchange(im, a * size + b, b * size + a);
      }
  }
}

function exchange(values: Float64Array, one: number, other: number): void {
  const kept = values[one]!;
  values[one] = values[other]!;
  values[other] = kept;
}

/** The highest two that do not touch: steps of frequency along columns and rows, and |·|². */
function peaks({ re, im }: Samples, size: number): [number, number, number][] {
  const best: [number, number, number][] = [];
  for (let pass = 0; pass < 2; pass++) {
    let most = -1;
    let at = 0;
    for (let i = 0; i < size * size; i++) {
      const score = re[i]! ** 2 + im[i]! ** 2;
      if (score <= most) continue;
      const kx = signed(i % size, size);
      const ky = signed(Math.floor(i / size), size);
      if (isTouched(best, kx, ky)) continue;
      most = score;
      at = i;
    }
    best.push([signed(at % size, size), signed(Math.floor(at / size), size), most]);
  }
  return best;
}

const isTouched = (best: readonly (readonly [number, number, number])[], kx: number, ky: number): boolean =>
  best.some(([bx, by]) => Math.abs(bx - kx) <= 2 && Math.abs(by - ky) <= 2);

const signed = (k: number, size: number): number => (k < size / 2 ? k : k - size);
