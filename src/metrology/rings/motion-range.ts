/**
 * How far off the hologram, or the part, may be in each degree and a ring still answer. mm, radians.
 *
 * Of a return ring the light turns at the pattern itself and comes back where it left: fringes too close for the camera end the range.
 * Of a datum feature a motion also throws light beside the ring, as a ball's does (capture-range.ts).
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { directionToParent } from '../../geometry/frame.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { movedSurface } from '../../optics/datum-surface.ts';
import { FATES, type TracedReference, traceRoundTrip } from '../../optics/round-trip.ts';
import { DEGREES, type Degree } from '../../scenario/scenario.ts';
import { benchState } from '../camera/fringe-picture-displacements.ts';
import { MOST_COUNTABLE_PER_PIXEL, MOST_FRINGES_PER_PIXEL } from '../sensing/camera-pixels.ts';
import { biasDensity, densityAt, moveToDensity, rangeOf, shareTracer } from '../sensing/capture-range.ts';
import { tracedPatch } from '../sensing/null-fringes.ts';
import { countedPoints, motionIn, STEP } from './return-ring.ts';

/** For each degree; undefined where no motion of a bench ends the fringes: those that the ring does not see. */
export type DegreeRanges = Readonly<Record<Degree, number | undefined>>;

interface MotionRanges {
  /** A quarter of the light comes back, and the camera resolves the fringes. */
  readonly capture: DegreeRanges;
  /** An eye can count them. */
  readonly readable: DegreeRanges;
}

/** No bench is farther off than this: what is still seen then is not lost. */
const MOST = { move: 100, turn: 0.1 } as const;

/** Of the hologram in the substrate frame or of the part in its own, about the frame's origin; undefined for a patch that is no ring. */
export function motionRanges(design: Design, patch: DesignedPatch): MotionRanges | undefined {
  const densities = densitiesOf(design, patch);
  if (densities === undefined) return undefined;
  const share = sharesOf(design, patch);
  const capture = eachDegree((degree, most) => {
    const byPixels = Math.min(most, densities(degree, MOST_FRINGES_PER_PIXEL));
    return rangeOf(byPixels, (amount) => share(degree, amount));
  });
  const readable = eachDegree((degree, most) =>
    Math.min(capture[degree] ?? most, densities(degree, MOST_COUNTABLE_PER_PIXEL)),
  );
  return { capture, readable };
}

const turns = (degree: Degree): boolean => degree.startsWith('r');

function eachDegree(range: (degree: Degree, most: number) => number): DegreeRanges {
  const all = DEGREES.map((degree) => {
    const most = turns(degree) ? MOST.turn : MOST.move;
    const found = range(degree, most);
    return [degree, found < most ? found : undefined];
  });
  return Object.fromEntries(all) as DegreeRanges;
}

type InDegree = (degree: Degree, amount: number) => number;

/** The amount of a motion that brings so many fringes to a pixel, where on the ring they are closest. */
function densitiesOf(design: Design, patch: DesignedPatch): InDegree | undefined {
  const slopes = slopesOf(design, patch);
  if (slopes === undefined) return undefined;
  const bias = biasDensity(patch);
  const perUnit = new Map(
    DEGREES.map((degree) => {
      const step = turns(degree) ? STEP.turn : STEP.move;
      const { x, y } = slopes(...motionIn(degree, step));
      return [degree, { x: x.map((slope) => slope / step), y: y.map((slope) => slope / step) }] as const;
    }),
  );
  return (degree, perPixel) => {
    const limit = densityAt(design, perPixel);
    const { x, y } = perUnit.get(degree)!;
    return x.reduce(
      (least, slope, i) => Math.min(least, moveToDensity(bias, [slope, y[i]!], limit)),
      Number.POSITIVE_INFINITY,
    );
  };
}

interface Slopes {
  /** Fringes per mm of the pattern, beyond those at the design place. */
  readonly x: readonly number[];
  readonly y: readonly number[];
}

function slopesOf(design: Design, patch: DesignedPatch): ((move: Vec3, turn: Vec3) => Slopes) | undefined {
  const { xs, ys } = countedPoints(patch);
  const { wavelength } = design.light;
  if (isReadBy(patch.reference, 'alignment')) {
    return (translation, rotation) => {
      const { incident } = benchState(design, { hologram: { translation, rotation } });
      const [x, y] = [new Float64Array(xs.length), new Float64Array(xs.length)];
      incident.accumulateGradient(xs, ys, 2 / wavelength, x, y, xs.length);
      design.beam.eikonal.accumulateGradient(xs, ys, -2 / wavelength, x, y, xs.length);
      return { x: [...x], y: [...y] };
    };
  }
  const moved = movedFeature(design, patch);
  if (moved === undefined) return undefined;
  const trace = (move: Vec3, turn: Vec3) =>
    traceRoundTrip(tracedPatch(design, patch), moved(move, turn), xs, ys);
  const rest = trace([0, 0, 0], [0, 0, 0]);
  return (move, turn) => {
    const { fate, slopeX, slopeY } = trace(move, turn);
    const seen = [...fate.keys()].filter((i) => fate[i] === RETURNED && rest.fate[i] === RETURNED);
    return {
      x: seen.map((i) => (slopeX[i]! - rest.slopeX[i]!) / wavelength),
      y: seen.map((i) => (slopeY[i]! - rest.slopeY[i]!) / wavelength),
    };
  };
}

const RETURNED = FATES.indexOf('returned');

/** The share of the light that comes back to the ring. */
function sharesOf(design: Design, patch: DesignedPatch): InDegree {
  const moved = movedFeature(design, patch);
  if (moved === undefined) return () => 1;
  const share = shareTracer(design, patch);
  return (degree, amount) => share(moved(...motionIn(degree, amount)));
}

function movedFeature(
  { scenario: { part } }: Design,
  { normalIncidence }: DesignedPatch,
): ((move: Vec3, turn: Vec3) => TracedReference) | undefined {
  if (normalIncidence === undefined) return undefined;
  const { frame } = part;
  return (move, turn) => {
    const [by, about] = [directionToParent(frame, move), directionToParent(frame, turn)];
    return { kind: 'surface', surface: movedSurface(normalIncidence.surface, by, about, frame.origin) };
  };
}
