/** Where in a frame the edges of lit outlines are, along the normal at each of their points, near to where a place says. Pixels. */
import type { Vec2 } from '../../geometry/vector.ts';
import type { CameraFrame } from '../../scenario/camera-frame.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import type { EdgePoint, LitOutline } from './lit-outlines.ts';
import { type Aperture, type Place, pictureCoordinates, seenAt } from './place-model.ts';
import { bendOf, edgeOf, fringesOf, type ProfileEdge, type ProfileShape } from './profile-edge.ts';

/** One edge point that was seen. */
export interface EdgeCrossing extends ProfileEdge {
  /** Number of the outline. */
  readonly outline: number;
  /** (u, v) of the point on the pattern. */
  readonly at: Vec2;
  /** Direction out of the region in the frame, a unit vector: right and down. */
  readonly outward: Vec2;
}

interface SeenEdges {
  readonly crossings: readonly EdgeCrossing[];
  /** Points where there is an edge, but farther off than may be. */
  readonly missed: number;
}

export interface EdgeReach extends ProfileShape {
  /** How far off the edge may be. */
  readonly most: number;
  /** Of an outline's width that may be looked at: a profile keeps off the other side. */
  readonly deepest: number;
}

/** Fewer samples than these on one side tell no level. */
const LEAST_SIDE = 3;
/** Step outward by which (u, v) finds its direction in the frame. */
const AHEAD = 1e-4;
/** Pixels side by side in each sample: three, and what interpolation takes in. */
const SIDE_BY_SIDE = 1;
const VARIANCE_OF_SAMPLE = 0.2;
/** Edge points to each side whose fringes are taken to be as close. */
const NEIGHBOURS = 3;

export function edgeCrossings(
  frame: CameraFrame,
  outlines: readonly LitOutline[],
  aperture: Aperture,
  orientation: CameraOrientation,
  place: Place,
  noise: number,
  reach: EdgeReach,
): SeenEdges {
  let missed = 0;
  const scale = Math.hypot(place[2]!, place[3]!) / aperture.radius;
  const variance = VARIANCE_OF_SAMPLE * noise ** 2;
  const crossings = outlines.flatMap(({ edge, width }, outline): EdgeCrossing[] => {
    const inward = Math.min(reach.inward, Math.floor(reach.deepest * width * scale));
    const transition = Math.min(reach.transition, inward - LEAST_SIDE);
    if (transition < 1) return [];
    const shape: ProfileShape = { inward, outward: reach.outward, transition };
    const length = inward + 1 + reach.outward;
    const room = new Float64Array(edge.length * length);
    const profiles: Profile[] = [];
    for (const point of edge) {
      const { at, pixel, outward } = seenEdge(point, aperture, orientation, place);
      const samples = room.subarray(profiles.length * length, (profiles.length + 1) * length);
      if (profileAlong(frame, pixel, outward, inward, samples))
        profiles.push({ at, outward, samples, bend: bendOf(samples, shape, variance) });
    }
    return profiles.flatMap(({ at, outward, samples }, k): EdgeCrossing[] => {
      let [covariance, own] = [0, 0];
      const last = Math.min(profiles.length - 1, k + NEIGHBOURS);
      for (let near = Math.max(0, k - NEIGHBOURS); near <= last; near++) {
        covariance += profiles[near]!.bend[0];
        own += profiles[near]!.bend[1];
      }
      const found = edgeOf(samples, shape, fringesOf(covariance, own), Math.sqrt(variance));
      if (found === undefined) return [];
      if (Math.abs(found.offset) <= reach.most) return [{ outline, at, outward, ...found }];
      missed++;
      return [];
    });
  });
  return { crossings, missed };
}

interface Profile {
  readonly at: Vec2;
  readonly outward: Vec2;
  readonly samples: Float64Array;
  readonly bend: readonly [covariance: number, variance: number];
}

interface SeenEdge {
  readonly at: Vec2;
  readonly pixel: Vec2;
  readonly outward: Vec2;
}

function seenEdge(
  { at, outward }: EdgePoint,
  aperture: Aperture,
  orientation: CameraOrientation,
  place: Place,
): SeenEdge {
  const here = pictureCoordinates(orientation, aperture, at);
  const step = AHEAD * aperture.radius;
  const ahead = pictureCoordinates(orientation, aperture, [
    at[0] + step * outward[0],
    at[1] + step * outward[1],
  ]);
  const pixel = seenAt(place, ...here);
  const [column, row] = seenAt(place, ...ahead);
  const length = Math.hypot(column - pixel[0], row - pixel[1]);
  return { at: here, pixel, outward: [(column - pixel[0]) / length, (row - pixel[1]) / length] };
}

/** Samples from `inward` pixels inside on into `samples`; false where the profile leaves the frame. */
function profileAlong(
  { width, height, values }: CameraFrame,
  [column, row]: Vec2,
  [right, down]: Vec2,
  inward: number,
  samples: Float64Array,
): boolean {
  // All samples are in the frame if those at the four corners are.
  for (const t of [-inward, samples.length - 1 - inward])
    for (const side of [-SIDE_BY_SIDE, SIDE_BY_SIDE]) {
      const left = Math.floor(column + t * right - side * down);
      const top = Math.floor(row + t * down + side * right);
      if (left < 0 || top < 0 || left + 1 >= width || top + 1 >= height) return false;
    }
  for (let i = 0; i < samples.length; i++) {
    const t = i - inward;
    let sum = 0;
    for (let side = -SIDE_BY_SIDE; side <= SIDE_BY_SIDE; side++) {
      const x = column + t * right - side * down;
      const y = row + t * down + side * right;
      const left = x | 0;
      const top = y | 0;
      const at = top * width + left;
      const a = x - left;
      const b = y - top;
      sum +=
        (1 - b) * ((1 - a) * values[at]! + a * values[at + 1]!) +
        b * ((1 - a) * values[at + width]! + a * values[at + width + 1]!);
    }
    samples[i] = sum / (2 * SIDE_BY_SIDE + 1);
  }
  return true;
}
