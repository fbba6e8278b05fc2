/**
 * Where in a frame the edges of lit outlines are, along the normal at each of their points, near to where a place says.
 *
 * Outside the edge the light is even; inside it follows a parabola over the few pixels that count. With B the level outside, P the parabola,
 * the edge is where ∫ (I − B) over the profile is ∫ (P − B) over what lies within: free of bias by any even blur.
 */
import type { CameraFrame } from '../../scenario/camera-frame.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import type { LitOutline } from './lit-outlines.ts';
import { type Aperture, type Place, pictureCoordinates, seenAt } from './place-model.ts';

/** One edge point that was seen. */
export interface EdgeCrossing {
  /** Number of the outline. */
  readonly outline: number;
  /** (u, v) of the point on the pattern. */
  readonly at: readonly [number, number];
  /** Direction out of the region in the frame, a unit vector: right and down. */
  readonly outward: readonly [number, number];
  /** Pixels by which the edge is farther out than the place has it. */
  readonly offset: number;
  /** Standard, pixels. */
  readonly uncertainty: number;
}

export interface ProfileReach {
  /** Pixels to each side of the edge that are looked at. */
  readonly inward: number;
  readonly outward: number;
  /** Those next to the edge that are left out of both levels. */
  readonly transition: number;
  /** How far off the edge may be. */
  readonly most: number;
}

/** Fewer pixels than these on one side tell no level. */
const LEAST_SIDE = 3;
/** A step is told from noise where it is this many of its standard deviations. */
const CLEAR_STEP = 5;
/** Pixels: what pixels, fringes and blur leave of an edge's place at best. */
const LEAST_UNCERTAINTY = 0.1;
/** Step along the edge by which (u, v) finds its direction in the frame. */
const ALONG = 1e-4;

export function edgeCrossings(
  frame: CameraFrame,
  outlines: readonly LitOutline[],
  aperture: Aperture,
  orientation: CameraOrientation,
  place: Place,
  noise: number,
  profile: ProfileReach,
): readonly EdgeCrossing[] {
  const scale = Math.hypot(place[2]!, place[3]!);
  const crossings: EdgeCrossing[] = [];
  outlines.forEach(({ edge, width }, outline) => {
    const inward = Math.min(profile.inward, Math.floor((DEEPEST * width * scale) / aperture.radius));
    const transition = Math.min(profile.transition, inward - LEAST_SIDE);
    if (transition < 1) return;
    const within = new Float64Array(inward + 1 + profile.outward);
    const weights = profileWeights(inward, transition);
    for (const { at, outward } of edge) {
      const here = pictureCoordinates(orientation, aperture, at);
      const ahead = pictureCoordinates(orientation, aperture, [
        at[0] + ALONG * aperture.radius * outward[0],
        at[1] + ALONG * aperture.radius * outward[1],
      ]);
      const [column, row] = seenAt(place, ...here);
      const [aheadColumn, aheadRow] = seenAt(place, ...ahead);
      const length = Math.hypot(aheadColumn - column, aheadRow - row);
      const normal = [(aheadColumn - column) / length, (aheadRow - row) / length] as const;
      if (!profileAlong(frame, column, row, normal, inward, within)) continue;
      const found = edgeIn(within, weights, noise);
      if (found === undefined || Math.abs(found.offset) > profile.most) continue;
      crossings.push({ outline, at: here, outward: normal, ...found });
    }
  });
  return crossings;
}

/** Of an outline's width: a profile keeps off the other side. */
const DEEPEST = 0.45;

/** Means of three pixels side by side, from `inward` pixels within to the profile's end. False where it leaves the frame. */
function profileAlong(
  { width, height, values }: CameraFrame,
  column: number,
  row: number,
  [right, down]: readonly [number, number],
  inward: number,
  out: Float64Array,
): boolean {
  for (let i = 0; i < out.length; i++) {
    const t = i - inward;
    let sum = 0;
    for (let side = -1; side <= 1; side++) {
      const x = column + t * right - side * down;
      const y = row + t * down + side * right;
      const left = Math.floor(x);
      const top = Math.floor(y);
      if (left < 0 || top < 0 || left + 1 >= width || top + 1 >= height) return false;
      const at = top * width + left;
      const [a, b] = [x - left, y - top];
      sum +=
        (1 - b) * ((1 - a) * values[at]! + a * values[at + 1]!) +
        b * ((1 - a) * values[at + width]! + a * values[at + width + 1]!);
    }
    out[i] = sum / 3;
  }
  return true;
}

/** What a profile's samples count for the edge about t = 0, where t runs from −inward to `outward` pixels. */
interface ProfileWeights {
  readonly inward: number;
  readonly transition: number;
  /** Of the inside samples, −inward to −transition − 1, in the light carried on to t = 0, and in the sum of it over −transition to 0. */
  readonly atEdge: Float64Array;
  readonly overTransition: Float64Array;
  /** Root sums of squares of those. */
  readonly atEdgeNoise: number;
  readonly overTransitionNoise: number;
}

/** The light inside is carried on by a parabola, or by a line where the samples are few. */
function profileWeights(inward: number, transition: number): ProfileWeights {
  const count = inward - transition;
  const middle = -(inward + transition + 1) / 2;
  const at = (i: number): number => i - inward - middle;
  let [squares, fourths] = [0, 0];
  for (let i = 0; i < count; i++) {
    squares += at(i) ** 2;
    fourths += at(i) ** 4;
  }
  const bend = fourths - squares ** 2 / count;
  const weightAt = (t: number, i: number): number => {
    const [x, x0] = [at(i), t - middle];
    const line = 1 / count + (x * x0) / squares;
    if (count < LEAST_FOR_PARABOLA) return line;
    return line + ((x ** 2 - squares / count) * (x0 ** 2 - squares / count)) / bend;
  };
  const atEdge = Float64Array.from({ length: count }, (_, i) => weightAt(0, i));
  const overTransition = Float64Array.from({ length: count }, (_, i) => {
    let sum = atEdge[i]! / 2;
    for (let t = -transition; t < 0; t++) sum += weightAt(t, i);
    return sum;
  });
  const [atEdgeNoise, overTransitionNoise] = [Math.hypot(...atEdge), Math.hypot(...overTransition)];
  return { inward, transition, atEdge, overTransition, atEdgeNoise, overTransitionNoise };
}

const LEAST_FOR_PARABOLA = 20;

function edgeIn(
  profile: Float64Array,
  weights: ProfileWeights,
  noise: number,
): Pick<EdgeCrossing, 'offset' | 'uncertainty'> | undefined {
  const { inward, transition, atEdge, overTransition } = weights;
  const outside = levelOf(profile, inward + transition + 1, profile.length);
  let [level, expected] = [0, 0];
  for (let i = 0; i < atEdge.length; i++) {
    level += atEdge[i]! * profile[i]!;
    expected += overTransition[i]! * profile[i]!;
  }
  const step = level - outside.level;
  const own = Math.max(noise / Math.sqrt(3), QUANTUM, outside.scatter);
  let [least, most] = [profile[0]!, profile[0]!];
  for (let i = 1; i < atEdge.length; i++) {
    least = Math.min(least, profile[i]!);
    most = Math.max(most, profile[i]!);
  }
  const swing = most - least;
  if (Math.abs(step) < Math.max(CLEAR_STEP * own * weights.atEdgeNoise, STEP_OF_SWING * swing))
    return undefined;
  let area = 0;
  for (let t = -transition; t <= transition; t++) area += profile[inward + t]!;
  // The pixel at the edge itself counts half to either side.
  const offset = (area - expected - (transition + 0.5) * outside.level) / step;
  const counted = 2 * transition + 1;
  const scatter = Math.hypot(
    own * Math.sqrt(counted + weights.overTransitionNoise ** 2),
    CARRIED_ON * swing * (transition + 0.5),
  );
  return { offset, uncertainty: Math.hypot(LEAST_UNCERTAINTY, scatter / step) };
}

/** Where fringes swing by more than the step is a part of, the step depends on how they go on. */
const STEP_OF_SWING = 1;
/** Of the swing: error of the light that is carried on to the edge. */
const CARRIED_ON = 0.2;

/** An 8-bit grey level's own rounding, part of full scale. */
const QUANTUM = 1e-3;

function levelOf(profile: Float64Array, from: number, to: number): { level: number; scatter: number } {
  let [sum, squares] = [0, 0];
  for (let i = from; i < to; i++) {
    sum += profile[i]!;
    squares += profile[i]! ** 2;
  }
  const count = to - from;
  const level = sum / count;
  return { level, scatter: Math.sqrt(Math.max(0, squares - count * level * level) / Math.max(1, count - 1)) };
}
