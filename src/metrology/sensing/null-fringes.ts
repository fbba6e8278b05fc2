/**
 * The fringes that a patch shows at the design place, by a traced return: out through the pattern and the glass, to the real
 * ball or the cube, back through both, and against the interferometer's own beam. Counted as the bias counts them:
 *   roof  from ridge to edge in each half: half the difference of the two halves' slopes, times the reach
 *   tilt  from edge to edge along its direction: the one slope, times the width
 * Slopes are fitted to W(P*) of rays that come home along the bias's direction, a tilt's beside the curvature. A roof's halves are fitted
 * clear of the ridge, where a ray that leaves on one side of it may come back on the same one. Where too few rays come home in a half
 * more are traced; where still too few do, nothing is counted, and that is said.
 */
import { solveLeastSquares } from '../../algebra/least-squares.ts';
import type { Design, DesignedPatch } from '../../design/design.ts';
import { runAlong } from '../../design/design-patch.ts';
import { covers } from '../../geometry/contains.ts';
import { interiorGrid, type Points, spacingFor } from '../../geometry/sampling.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { isReadBy, kindOf } from '../../kinds/kinds.ts';
import { idealCube } from '../../optics/corner-cube.ts';
import {
  FATES,
  type RoundTripTrace,
  type TracedPatch,
  type TracedReference,
  traceRoundTrip,
} from '../../optics/round-trip.ts';

/** Rays over the whole patch, for what is seen without a bias. */
const RAYS_OVER_PATCH = 64;
/** Rays along the bias's direction, which is where it is counted. */
const RAYS_ALONG = 20;
/** The same for a ring, of whose width only a part is pattern, and where fewer leave a half of a roof without enough. */
const MANY_RAYS_ALONG = 400;
/** Of the reach: nearer to a roof's ridge than this, rays are left out. */
const CLEAR_OF_RIDGE = 0.25;
/** Fewer rays than this, of a half or of all, tell no slope. */
const LEAST_RAYS = 5;

/** The patch as the trace takes it, without its edge: what a bias does is asked of every ray. */
export function tracedPatch(design: Design, patch: DesignedPatch): TracedPatch {
  return {
    order: patch.order,
    wavelength: design.light.wavelength,
    incident: design.beam.eikonal,
    phase: patch.phase,
    glass: design.glass,
  };
}

/** The patch's reference as the trace takes it, a cube without losses; undefined for what sends nothing back. */
export const tracedReference = ({
  reference,
  centre,
  normalIncidence,
}: DesignedPatch): TracedReference | undefined =>
  kindOf(reference).returned(reference, {
    cube: () => idealCube(reference.at, [centre[0], centre[1], 0]),
    surface: normalIncidence?.surface,
  });

/** What a patch shows at the design place: fringes, or why they cannot be counted, in words. */
type AtNull = { readonly fringes: number } | { readonly uncounted: string };

/**
 * Fringes at the design place, as counted above for the patch's bias; without one, the largest difference anywhere.
 * Undefined where they cannot be counted.
 */
export function fringesAtNull(design: Design, patch: DesignedPatch): number | undefined {
  const seen = seenAtNull(design, patch);
  return 'fringes' in seen ? seen.fringes : undefined;
}

export function seenAtNull(design: Design, patch: DesignedPatch): AtNull {
  const seen = seenBy(design, patch, RAYS_ALONG);
  return 'fringes' in seen || patch.bias === undefined ? seen : seenBy(design, patch, MANY_RAYS_ALONG);
}

function seenBy(design: Design, patch: DesignedPatch, count: number): AtNull {
  const direction = patch.bias?.direction ?? [1, 0];
  const { xs, ys } = countedOver(patch, homeAlong(patch, direction), count);
  const rays = returnedRays(design, patch, direction, xs, ys);
  if (rays === undefined) return { uncounted: 'it sends nothing back' };
  if (rays.length < LEAST_RAYS) return { uncounted: tooFew(rays.length, xs.length, 'come back') };
  const { bias } = patch;
  if (bias === undefined) return { fringes: range(rays.map(({ waves }) => waves)) };
  if (bias.shape === 'tilt') return { fringes: tiltSeen(rays, patch) };
  const [rising, falling] = [1, -1].map((side) =>
    rays.filter(({ along }) => along * side > CLEAR_OF_RIDGE * bias.reach),
  ) as [SeenRay[], SeenRay[]];
  const fewer = Math.min(rising.length, falling.length);
  if (fewer < LEAST_RAYS) return { uncounted: tooFew(fewer, xs.length, 'come back in one half of the roof') };
  return { fringes: ((slopeOfLine(rising) - slopeOfLine(falling)) / 2) * bias.reach };
}

const tooFew = (count: number, all: number, where: string): string =>
  `only ${count} of ${all} rays along it ${where}`;

/** Undefined for a screen. A return ring's light turns at the pattern itself: Wλ = 2E_in + mλΦ. */
function returnedRays(
  design: Design,
  patch: DesignedPatch,
  direction: Vec2,
  xs: Float64Array,
  ys: Float64Array,
): SeenRay[] | undefined {
  if (isReadBy(patch.reference, 'alignment')) {
    const waves = patch.phase.phases(xs, ys).map((phase) => phase * patch.order);
    design.beam.eikonal.accumulate(xs, ys, 2 / design.light.wavelength, waves, xs.length);
    return Array.from(xs, (x, i) => {
      return { along: runFrom(countedFrom(patch), direction, x, ys[i]!), waves: waves[i]! };
    });
  }
  const reference = tracedReference(patch);
  if (reference === undefined) return undefined;
  return raysOf(traceRoundTrip(tracedPatch(design, patch), reference, xs, ys), direction, countedFrom(patch));
}

/**
 * The direction along which light leaves that comes home along the given one. A cube turns round what runs along a line focus,
 * v* = −v, and keeps the run square to it, so that a direction aslant to the line goes over into its mirror image; one along the line
 * or across it, and the line's own, stay.
 */
function homeAlong({ reference, lineDirection, asked }: DesignedPatch, direction: Vec2): Vec2 {
  if (reference.cube === undefined || lineDirection === undefined || asked.lineAngle === undefined)
    return direction;
  if (asked.bias?.direction === undefined) return direction;
  const [lx, ly] = lineDirection;
  // v changes along the line as drawn on the pattern, whose run square to the chief ray is the line's.
  const [ax, ay] = [Math.cos(asked.lineAngle), Math.sin(asked.lineAngle)];
  const turned = (2 * (lx * direction[0] + ly * direction[1])) / (lx * ax + ly * ay);
  return [direction[0] - turned * ax, direction[1] - turned * ay];
}

function countedOver(patch: DesignedPatch, direction: Vec2, count: number): Points {
  if (patch.bias === undefined) return overPatch(patch);
  if (patch.senses.length > 0) return alongBias(patch, direction, count);
  return inPatch(alongBias(patch, direction, MANY_RAYS_ALONG), patch);
}

/** Of a roof the ridge. */
const countedFrom = ({ bias, centre }: DesignedPatch): Vec2 => bias?.centre ?? centre;

const runFrom = (centre: Vec2, direction: Vec2, x: number, y: number): number =>
  (x - centre[0]) * direction[0] + (y - centre[1]) * direction[1];

const overPatch = ({ outline }: DesignedPatch): Points =>
  interiorGrid(outline, spacingFor(outline, RAYS_OVER_PATCH));

/** Points from edge to edge through the middle of the patch's extent, evenly, none on a ridge. */
function alongBias(patch: DesignedPatch, direction: Vec2, count: number): Points {
  const across: Vec2 = [-direction[1], direction[0]];
  const size2 = direction[0] * direction[0] + direction[1] * direction[1];
  const [along, aside] = [runAlong(patch, direction), runAlong(patch, across)];
  const middle = (aside.min + aside.max) / 2;
  const place = (k: number, axis: 0 | 1): number => {
    const run = along.min + ((k + 0.5) / count) * (along.max - along.min);
    return patch.centre[axis] + (run * direction[axis] + middle * across[axis]) / size2;
  };
  const points = { xs: new Float64Array(count), ys: new Float64Array(count) };
  for (let k = 0; k < count; k++) [points.xs[k], points.ys[k]] = [place(k, 0), place(k, 1)];
  return points;
}

/** What of them lies in the patch: over the hole of a ring the light for a cone goes astray. */
function inPatch({ xs, ys }: Points, { outline }: DesignedPatch): Points {
  const kept = [...xs.keys()].filter((i) => covers(outline, [xs[i]!, ys[i]!]));
  return { xs: Float64Array.from(kept, (i) => xs[i]!), ys: Float64Array.from(kept, (i) => ys[i]!) };
}

/** A returned ray: where it comes back along the bias's direction from the centre (mm), and its waves. */
interface SeenRay {
  readonly along: number;
  readonly waves: number;
}

function raysOf(trace: RoundTripTrace, direction: Vec2, centre: Vec2): SeenRay[] {
  const rays: SeenRay[] = [];
  for (let i = 0; i < trace.count; i++) {
    if (trace.fate[i] !== RETURNED) continue;
    const along = runFrom(centre, direction, trace.x[i]!, trace.y[i]!);
    rays.push({ along, waves: trace.waves[i] });
  }
  return rays;
}

const RETURNED = FATES.indexOf('returned');

function tiltSeen(rays: readonly SeenRay[], patch: DesignedPatch): number {
  const { min, max } = runAlong(patch, patch.bias?.direction ?? [1, 0]);
  const middle = (min + max) / 2;
  // The slope beside a constant and the curvature.
  const rows = rays.flatMap(({ along }) => [1, along, (along - middle) ** 2]);
  const waves = Float64Array.from(rays, (ray) => ray.waves);
  const slope = solveLeastSquares(Float64Array.from(rows), 3, waves).solution[1];
  return slope * (max - min);
}

/** Of the straight line through them, about the middle of the runs so that nothing is lost to rounding. */
function slopeOfLine(rays: readonly SeenRay[]): number {
  const middle = rays.reduce((sum, { along }) => sum + along, 0) / rays.length;
  let [squares, products] = [0, 0];
  for (const { along, waves } of rays) {
    squares += (along - middle) ** 2;
    products += (along - middle) * waves;
  }
  return products / squares;
}

const range = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);
