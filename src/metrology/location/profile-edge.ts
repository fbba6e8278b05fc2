/**
 * Where along a profile the light changes from a lit region's to the even surround's. t in pixels along the profile, 0 where the edge is
 * thought to be, positive outside.
 *
 * With B the level outside and P(t) the light inside, carried on, the edge is off by e where Σ I = Σ P + Σ B + e (P(0) − B) over the samples
 * next to it: free of bias by any even blur. Inside are fringes, P = c + d cos κt + f sin κt, with κ from P″ = −κ² (P − c).
 */

export interface ProfileShape {
  /** Samples inside and outside; that at t = 0 besides. */
  readonly inward: number;
  readonly outward: number;
  /** Those of each side next to the edge that count to no level. */
  readonly transition: number;
}

export interface ProfileEdge {
  /** Pixels by which the edge is farther out. */
  readonly offset: number;
  /** Standard, pixels. */
  readonly uncertainty: number;
}

/** Samples apart by which a profile's second difference is taken. */
const APART = 2;
/** Fringes are seen in a profile whose variance is this many times that of the noise. */
const FRINGED = 2;
/** Fewer samples inside than this are carried on by a line. */
const LEAST_FOR_FRINGES = 6;
/** A step is told from noise where it is this many of its standard deviations. */
const CLEAR_STEP = 5;
/** Steps smaller than this part of the fringes' swing depend on how the fringes go on. */
const STEP_OF_SWING = 0.4;
/** Of the swing: error of the light that is carried on. */
const CARRIED_ON = 0.05;
/** Pixels: what pixels and blur leave of one edge point at best. */
const LEAST_UNCERTAINTY = 0.1;
/** An 8-bit grey level's own rounding, part of full scale. */
const QUANTUM = 1e-3;

/**
 * Covariance of a profile's inside with its own second difference, and its variance, noise (a sample's variance) taken off:
 * for fringes their ratio is −(2 − 2 cos κ·APART).
 */
export function bendOf(
  profile: Float64Array,
  { inward, transition }: ProfileShape,
  noise: number,
): readonly [covariance: number, variance: number] {
  const [from, to] = [APART, inward - transition - APART];
  const count = to - from;
  if (count < 2) return [0, 0];
  let [level, bend, product, square] = [0, 0, 0, 0];
  for (let i = from; i < to; i++) {
    const value = profile[i]!;
    const second = profile[i - APART]! + profile[i + APART]! - 2 * value;
    level += value;
    bend += second;
    product += value * second;
    square += value * value;
  }
  const variance = square - (level * level) / count;
  if (variance < FRINGED * noise * count) return [0, 0];
  return [product - (level * bend) / count + 2 * noise * count, variance - noise * count];
}

/** Radians a pixel, from sums over like profiles. */
export function fringesOf(covariance: number, variance: number): number {
  if (!(variance > 0)) return 0;
  return Math.acos(Math.min(1, Math.max(-1, 1 + covariance / variance / 2))) / APART;
}

/** Undefined where no step is told. `noise` is the standard deviation of a sample. */
export function edgeOf(
  profile: Float64Array,
  shape: ProfileShape,
  fringes: number,
  noise: number,
): ProfileEdge | undefined {
  const { inward, transition } = shape;
  const outside = levelOf(profile, inward + transition + 1, profile.length);
  const carried = carriedOn(profile, shape, fringes);
  const step = carried.atEdge - outside.level;
  const own = Math.max(noise, QUANTUM, outside.scatter);
  const swing = carried.swing;
  const least = Math.max(CLEAR_STEP * own * carried.atEdgeNoise, STEP_OF_SWING * swing);
  if (!(Math.abs(step) >= least)) return undefined;
  let area = 0;
  for (let t = -transition; t <= transition; t++) area += profile[inward + t]!;
  const offset = (area - carried.overTransition - (transition + 0.5) * outside.level) / step;
  const scatter = Math.hypot(
    own * Math.sqrt(2 * transition + 1 + carried.overTransitionNoise ** 2),
    CARRIED_ON * swing * (transition + 0.5),
  );
  return { offset, uncertainty: Math.hypot(LEAST_UNCERTAINTY, scatter / step) };
}

interface CarriedOn {
  /** The light inside at t = 0, and its sum from −transition to 0, half of the last. */
  readonly atEdge: number;
  readonly overTransition: number;
  /** Standard deviations of those for samples' of 1. */
  readonly atEdgeNoise: number;
  readonly overTransitionNoise: number;
  /** From the darkest to the brightest sample. */
  readonly swing: number;
}

/** By least squares over the samples inside, on 1, sin κt/κ and (1 − cos κt)/κ²: a parabola where κ is 0. */
function carriedOn(profile: Float64Array, { inward, transition }: ProfileShape, fringes: number): CarriedOn {
  const count = inward - transition;
  const curved = count >= LEAST_FOR_FRINGES;
  const middle = -(inward + transition + 1) / 2;
  // Gram–Schmidt on the three functions, sampled; the third left out where the samples are few. From the last sample on they are carried on.
  if (slope.length <= inward) [slope, bend] = [new Float64Array(inward + 1), new Float64Array(inward + 1)];
  sampled(fringes, -inward - middle, inward + 1);
  let [bendMean, slopes, cross] = [0, 0, 0];
  let slopeMean = 0;
  for (let i = 0; i < count; i++) {
    slopeMean += slope[i]! / count;
    bendMean += bend[i]! / count;
  }
  for (let i = 0; i < count; i++) {
    slope[i]! -= slopeMean;
    slopes += slope[i]! ** 2;
    cross += slope[i]! * bend[i]!;
  }
  const ratio = cross / slopes;
  let bends = 0;
  for (let i = 0; i < count; i++) {
    bend[i]! -= bendMean + ratio * slope[i]!;
    bends += bend[i]! ** 2;
  }
  let [overSlope, overBend] = [0, 0];
  let [edgeSlope, edgeBend] = [0, 0];
  for (let t = -transition; t <= 0; t++) {
    const s = slope[inward + t]! - slopeMean;
    const b = bend[inward + t]! - bendMean - ratio * s;
    const weight = t === 0 ? 0.5 : 1;
    overSlope += weight * s;
    overBend += weight * b;
    edgeSlope = s;
    edgeBend = b;
  }
  let [level, alongSlope, alongBend] = [0, 0, 0];
  let [least, most] = [profile[0]!, profile[0]!];
  for (let i = 0; i < count; i++) {
    const value = profile[i]!;
    level += value / count;
    alongSlope += (value * slope[i]!) / slopes;
    alongBend += (value * bend[i]!) / bends;
    least = Math.min(least, value);
    most = Math.max(most, value);
  }
  const over = transition + 0.5;
  const useBend = curved && bends > 0 ? 1 : 0;
  return {
    atEdge: level + edgeSlope * alongSlope + (useBend === 0 ? 0 : edgeBend * alongBend),
    overTransition: over * level + overSlope * alongSlope + (useBend === 0 ? 0 : overBend * alongBend),
    atEdgeNoise: Math.sqrt(1 / count + edgeSlope ** 2 / slopes + (useBend * edgeBend ** 2) / (bends || 1)),
    overTransitionNoise: Math.sqrt(
      over ** 2 / count + overSlope ** 2 / slopes + (useBend * overBend ** 2) / (bends || 1),
    ),
    swing: most - least,
  };
}

/** Below this κ a parabola is the same to rounding. */
const STRAIGHT = 1e-3;

/** Used over and over. */
let slope = new Float64Array(0);
let bend = new Float64Array(0);

/** sin κx/κ and (1 − cos κx)/κ² at x and every 1 on into the two, each from the one before by the angles' sum. */
function sampled(fringes: number, x: number, count: number): void {
  if (fringes < STRAIGHT) {
    for (let i = 0; i < count; i++) {
      slope[i] = x + i;
      bend[i] = (x + i) ** 2 / 2;
    }
    return;
  }
  const [stepCosine, stepSine] = [Math.cos(fringes), Math.sin(fringes)];
  let [cosine, sine] = [Math.cos(fringes * x), Math.sin(fringes * x)];
  for (let i = 0; i < count; i++) {
    slope[i] = sine / fringes;
    bend[i] = (1 - cosine) / fringes ** 2;
    const next = cosine * stepCosine - sine * stepSine;
    sine = sine * stepCosine + cosine * stepSine;
    cosine = next;
  }
}

function levelOf(profile: Float64Array, from: number, to: number): { level: number; scatter: number } {
  let [sum, squares] = [0, 0];
  for (let i = from; i < to; i++) {
    sum += profile[i]!;
    squares += profile[i]! ** 2;
  }
  const count = to - from;
  const level = sum / count;
  return {
    level,
    scatter: Math.sqrt(Math.max(0, squares - count * level * level) / Math.max(1, count - 1)),
  };
}
