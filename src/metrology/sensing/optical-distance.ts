/**
 * How far off a reference stands as the fringes of its patch tell it, mm. In air, for an outline about the patch's centre, that is their
 * distance s; through glass after the pattern a fringe is worth less than that, and an outline beside the centre sees from where it is.
 *
 * A move q along ê changes W by 2û(P)·ê q/λ to first order (Welford, Aberrations of Optical Systems, on paths between two points), û(P)
 * the direction in air of the light from P. In air û·ê falls by 1/s for each mm along ê, and û·û₀ by ρ²/(2s²): so s is taken from the
 * differences of û, whatever the light has crossed.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { boundsOf } from '../../geometry/extent.ts';
import { dot, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import { BiasPhase } from '../../optics/bias.ts';
import type { Eikonal } from '../../optics/eikonal.ts';

/** Of the differences, mm: (STEP/s)² is what they leave out, and far from rounding. */
const STEP = 0.25;
/** An outline is about the centre where its middle is this near to it, mm. */
const SAME_PLACE = 1e-9;

/** One for each of the patch's senses; of a patch that brings its light to a point or a line. */
export function opticalDistances(design: Design, patch: DesignedPatch): readonly number[] {
  return distancesSeen(design, patch, (places) => airDirections(design, patch, places));
}

/** The same at the patch's centre, of a patch's tilts alone, their mean: what its light spreads over. */
export function opticalDistanceAhead(design: Design, patch: DesignedPatch): number {
  const tilts = patch.lineDirection === undefined ? 2 : 1;
  const ahead = distancesSeen(design, patch, (places) => airDirections(design, patch, places), patch.centre);
  return ahead.slice(0, tilts).reduce((sum, each) => sum + each, 0) / tilts;
}

/** What the distances are told by: the patch's place, what it senses, and û at places of the pattern. */
type Seeing = Pick<DesignedPatch, 'centre' | 'outline' | 'distance' | 'senses' | 'lineDirection'>;
type Directions = (places: readonly Vec2[]) => readonly Vec3[];

/** As opticalDistances, of a patch that need not be designed: `leaving` is the wave that it would send out, E_out without a bias. */
export const opticalDistancesOf = (
  design: Pick<Design, 'glass'>,
  seen: Seeing,
  leaving: Eikonal,
): readonly number[] =>
  distancesSeen(design, seen, (places) => {
    const { xs, ys } = columnsOf(places);
    const [px, py] = [new Float64Array(xs.length), new Float64Array(xs.length)];
    leaving.accumulateGradient(xs, ys, 1, px, py, xs.length);
    return directionsFrom(px, py);
  });

function distancesSeen(
  { glass: { thickness, side } }: Pick<Design, 'glass'>,
  patch: Seeing,
  directionsAt: Directions,
  middle: Vec2 = middleOf(patch),
): readonly number[] {
  if (middle === patch.centre && (thickness === 0 || side === 'before'))
    return patch.senses.map(() => patch.distance);
  const steps = sensedSteps(patch);
  const directions = directionsAt([middle, ...steps.flatMap((step) => beside(middle, step))]);
  const [ahead] = directions as [Vec3];
  const pair = (k: number): readonly [Vec3, Vec3] => [directions[1 + 2 * k]!, directions[2 + 2 * k]!];
  const falls = (k: number, sense: Vec3): number => {
    const [back, forth] = pair(k);
    return (dot(back, sense) - dot(forth, sense)) / (2 * STEP);
  };
  const bends = (sense: Vec3): number => {
    const each = steps.map((_, k) => {
      const [back, forth] = pair(k);
      return (2 * dot(ahead, sense) - dot(back, sense) - dot(forth, sense)) / (STEP * STEP);
    });
    return each.reduce((sum, bend) => sum + bend, 0) / each.length;
  };
  return patch.senses.map((sense, k) =>
    k < steps.length ? 1 / falls(k, sense) : 1 / Math.sqrt(bends(sense)),
  );
}

/** The middle of the patch's area: its centre, but for an outline given beside it, such as a sector. */
export function middleOf({ outline, centre }: Pick<DesignedPatch, 'outline' | 'centre'>): Vec2 {
  const { minX, maxX, minY, maxY } = boundsOf(outline);
  const [x, y] = [(minX + maxX) / 2, (minY + maxY) / 2];
  return Math.hypot(x - centre[0], y - centre[1]) < SAME_PLACE ? centre : [x, y];
}

/** For each direction sensed as tilt, the step in the pattern that goes 1 mm along it and none along the other. */
export function sensedSteps({
  senses,
  lineDirection,
}: Pick<DesignedPatch, 'senses' | 'lineDirection'>): readonly Vec2[] {
  const [first, second] = senses as readonly [Vec3, Vec3];
  if (lineDirection !== undefined) return [patternStep(first, lineDirection)];
  return [patternStep(first, second), patternStep(second, first)];
}

/** The step in the pattern that goes 1 mm along `direction` and none along `square`, both square to the chief ray. */
function patternStep(direction: Vec3, square: Vec3): Vec2 {
  const determinant = direction[0] * square[1] - direction[1] * square[0];
  return [square[1] / determinant, -square[0] / determinant];
}

const beside = ([x, y]: Vec2, [dx, dy]: Vec2): readonly [Vec2, Vec2] => [
  [x - STEP * dx, y - STEP * dy],
  [x + STEP * dx, y + STEP * dy],
];

/** û at places of the pattern: its lateral cosines ∇E_in + mλ∇Φ, without the bias, are kept by the plane faces of the glass. */
function airDirections(design: Design, patch: DesignedPatch, places: readonly Vec2[]): readonly Vec3[] {
  const { xs, ys } = columnsOf(places);
  const { gx, gy } = patch.phase.gradients(xs, ys);
  if (patch.bias !== undefined) {
    const without = { ...patch.bias, amplitude: -patch.bias.amplitude };
    new BiasPhase(without).accumulateGradient(xs, ys, gx, gy, xs.length);
  }
  const perWave = patch.order * design.light.wavelength;
  const [px, py] = [gx.map((g) => g * perWave), gy.map((g) => g * perWave)];
  design.beam.eikonal.accumulateGradient(xs, ys, 1, px, py, xs.length);
  return directionsFrom(px, py);
}

const columnsOf = (places: readonly Vec2[]) => ({
  xs: Float64Array.from(places, ([x]) => x),
  ys: Float64Array.from(places, ([, y]) => y),
});

const directionsFrom = (px: Float64Array, py: Float64Array): readonly Vec3[] =>
  Array.from(px, (x, i): Vec3 => [x, py[i]!, Math.sqrt(1 - x ** 2 - py[i]! ** 2)]);
