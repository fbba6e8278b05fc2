/**
 * The fringes that a patch shows at the design place, by a traced return: out through the pattern and the glass, to the real
 * ball or the cube, back through both, and against the interferometer's own beam. Counted as the bias counts them:
 *   roof  from ridge to edge in each half: half the difference of the two halves' slopes, times the reach
 *   tilt  from edge to edge along its direction: the one slope, times the width
 * Slopes are fitted to W(P*) of rays along the bias's direction, a tilt's beside the curvature. A roof's halves are fitted clear of the ridge, which the
 * return through glass doubles: a ray that leaves on one side of it may come back on the same one.
 */
import { solveLeastSquares } from '../algebra/least-squares.ts';
import type { Design, DesignedPatch } from '../design/design.ts';
import { runAlong } from '../design/design-patch.ts';
import { interiorGrid, type Points, spacingFor } from '../geometry/sampling.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { idealCube } from '../optics/corner-cube.ts';
import {
  FATES,
  type ReturnTrace,
  type TracedPatch,
  type TracedReference,
  traceReturn,
} from '../optics/return-trip.ts';

/** Rays over the whole patch, for what is seen without a bias. */
const RAYS_OVER_PATCH = 64;
/** Rays along the bias's direction, which is where it is counted. */
const RAYS_ALONG = 20;
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

/** The patch's reference as the trace takes it: undefined for a screen, which sends nothing back. A cube without losses. */
export function tracedReference(patch: DesignedPatch): TracedReference | undefined {
  const { kind, diameter, at } = patch.reference;
  if (kind === 'screen') return undefined;
  if (kind === 'ball') return { kind, centre: at, radius: (diameter as number) / 2 };
  return { kind: 'cube', ...idealCube(at, [patch.centre[0], patch.centre[1], 0]) };
}

/**
 * Fringes at the design place, as counted above for the patch's bias; without one, the largest difference anywhere.
 * Undefined where nothing comes back to be counted.
 */
export function fringesAtNull(design: Design, patch: DesignedPatch): number | undefined {
  const reference = tracedReference(patch);
  if (reference === undefined) return undefined;
  const direction = patch.bias?.direction ?? [1, 0];
  const { xs, ys } = patch.bias === undefined ? overPatch(patch) : alongBias(patch, direction);
  const trace = traceReturn(tracedPatch(design, patch), reference, xs, ys);
  const rays = raysOf(trace, direction, patch.centre);
  if (rays.length < LEAST_RAYS) return undefined;
  if (patch.bias === undefined) return range(rays.map(({ waves }) => waves));
  return patch.bias.shape === 'roof' ? roofSeen(rays, patch.bias.reach) : tiltSeen(rays, patch);
}

const overPatch = ({ outline }: DesignedPatch): Points =>
  interiorGrid(outline, spacingFor(outline, RAYS_OVER_PATCH));

/** Points from edge to edge through the middle of the patch's extent, evenly, none on a ridge. */
function alongBias(patch: DesignedPatch, direction: Vec2): Points {
  const across: Vec2 = [-direction[1], direction[0]];
  const size2 = direction[0] * direction[0] + direction[1] * direction[1];
  const [along, aside] = [runAlong(patch, direction), runAlong(patch, across)];
  const middle = (aside.min + aside.max) / 2;
  const place = (k: number, axis: 0 | 1): number => {
    const run = along.min + ((k + 0.5) / RAYS_ALONG) * (along.max - along.min);
    return patch.centre[axis] + (run * direction[axis] + middle * across[axis]) / size2;
  };
  const points = { xs: new Float64Array(RAYS_ALONG), ys: new Float64Array(RAYS_ALONG) };
  for (let k = 0; k < RAYS_ALONG; k++) [points.xs[k], points.ys[k]] = [place(k, 0), place(k, 1)];
  return points;
}

/** A returned ray: where it comes back along the bias's direction from the centre (mm), and its waves. */
interface SeenRay {
  readonly along: number;
  readonly waves: number;
}

function raysOf(trace: ReturnTrace, direction: Vec2, centre: Vec2): SeenRay[] {
  const rays: SeenRay[] = [];
  for (let i = 0; i < trace.count; i++) {
    if (trace.fate[i] !== RETURNED) continue;
    const along = (trace.x[i] - centre[0]) * direction[0] + (trace.y[i] - centre[1]) * direction[1];
    rays.push({ along, waves: trace.waves[i] });
  }
  return rays;
}

const RETURNED = FATES.indexOf('returned');

function roofSeen(rays: readonly SeenRay[], reach: number): number | undefined {
  const [rising, falling] = [1, -1].map((side) =>
    slopeAlong(rays.filter(({ along }) => along * side > CLEAR_OF_RIDGE * reach)),
  );
  if (rising === undefined || falling === undefined) return undefined;
  return ((rising - falling) / 2) * reach;
}

function tiltSeen(rays: readonly SeenRay[], patch: DesignedPatch): number | undefined {
  const { min, max } = runAlong(patch, patch.bias?.direction ?? [1, 0]);
  const middle = (min + max) / 2;
  const slope = slopeAlong(rays, ({ along }) => (along - middle) ** 2);
  return slope === undefined ? undefined : slope * (max - min);
}

/** The slope of W along the bias's direction, waves/mm, fitted beside a constant and the term that `beside` gives. */
function slopeAlong(rays: readonly SeenRay[], beside?: (ray: SeenRay) => number): number | undefined {
  if (rays.length < LEAST_RAYS) return undefined;
  const rows = rays.flatMap((ray) => (beside ? [1, ray.along, beside(ray)] : [1, ray.along]));
  const waves = Float64Array.from(rays, (ray) => ray.waves);
  return solveLeastSquares(Float64Array.from(rows), beside ? 3 : 2, waves).solution[1];
}

const range = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);
