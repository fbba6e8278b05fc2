/**
 * A patch's traced return as smooth functions of the place P* on the camera, so that a picture of many pixels needs few rays.
 *
 * mm, waves. Rays from a coarse grid over the patch give, by least squares, polynomials in P* for W and for the place P that the ray
 * left from. A roof is not smooth: each of its sides is traced as if its slope went on over the ridge, which makes two branches, and
 * the ray of a branch counts where its P is on that side. Near a ridge the camera may thus get two rays, or none.
 * Sources: optics/round-trip.ts for W; the rest is interpolation, tested against rays traced pixel by pixel.
 */

import { fitPlane, type PlanePolynomial } from '../../algebra/plane-polynomial.ts';
import type { Design, DesignedPatch } from '../../design/design.ts';
import { boundsOf } from '../../geometry/extent.ts';
import { boundaryPoints, joined, latticePoints, type Points } from '../../geometry/sampling.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { type Bias, BiasPhase } from '../../optics/bias.ts';
import {
  FATES,
  type RoundTripTrace,
  type TracedPatch,
  type TracedReference,
  traceRoundTrip,
} from '../../optics/round-trip.ts';
import { tracedPatch, tracedReference } from '../sensing/null-fringes.ts';
import type { BenchState } from './fringe-picture-displacements.ts';

/** A smooth function of the place on the camera. */
type PlaneFunction = PlanePolynomial;

/** The rays that left from one side of a roof, or all of a smooth patch. */
export interface ReturnBranch {
  /** The sign of w at the places the rays left from; 0: all of them. */
  readonly side: 1 | -1 | 0;
  /** W at P*, piston and all, without the bias of the second crossing. */
  readonly waves: PlaneFunction;
  readonly fromX: PlaneFunction;
  readonly fromY: PlaneFunction;
  /** Largest error of `waves` at the traced rays. */
  readonly worst: number;
  /** Whether light that left from P comes back; undefined: all of it does. */
  readonly returns: ((x: number, y: number) => boolean) | undefined;
}

/** The branches of a patch; none for a screen, or where nothing comes back. */
export function returnBranches(
  design: Design,
  patch: DesignedPatch,
  bench: BenchState,
): readonly ReturnBranch[] {
  if (isReadBy(patch.reference, 'alignment')) return [straightBack(design, patch, bench)];
  const still = tracedReference(patch);
  if (still === undefined) return [];
  const { reference, displacement } = standing(still, patch, bench);
  const sides: readonly ReturnBranch['side'][] = patch.bias?.shape === 'roof' ? [1, -1] : [0];
  return sides.flatMap((side) => {
    const bias = outwardBias(patch.bias, side);
    const traced = { ...withBias(tracedPatch(design, patch), patch.bias, bias), incident: bench.incident };
    const trace = (side: number): TracedGrid => {
      const grid =
        side === FINE || patch.normalIncidence === undefined ? gridOver(patch, side) : gridIn(patch, side);
      return { ...grid, trace: traceRoundTrip(traced, reference, grid.xs, grid.ys, displacement) };
    };
    for (const degree of DEGREES) {
      const rays = trace(degree + 2);
      const branch = branchOf(rays, side, bias, patch.order, degree);
      if (branch === undefined) return [];
      if (branch.worst > GOOD_FIT && degree !== DEGREES.at(-1)) continue;
      return [
        rays.trace.fate.every((fate) => fate === RETURNED)
          ? branch
          : { ...branch, returns: returnMap(trace(FINE)) },
      ];
    }
    return [];
  });
}

/** What sends the light back, and how far off the place that it is given with: a feature of the part is carried as a whole. */
function standing(
  still: TracedReference,
  { reference }: DesignedPatch,
  { displacementOf, carriedFeature }: BenchState,
): { readonly reference: TracedReference; readonly displacement: Vec3 } {
  if (still.kind !== 'surface') return { reference: still, displacement: displacementOf(reference) };
  return {
    reference: { ...still, surface: carriedFeature(reference, still.surface) },
    displacement: [0, 0, 0],
  };
}

/** A return ring: the light turns where it is, W = 2E_in/λ + mΦ, crossing the bias once. */
function straightBack(
  { light }: Design,
  { phase, order, bias }: DesignedPatch,
  { incident }: BenchState,
): ReturnBranch {
  const waves = (xs: Float64Array, ys: Float64Array): Float64Array => {
    const phases = phase.phases(xs, ys).map((value) => order * value);
    incident.accumulate(xs, ys, 2 / light.wavelength, phases, xs.length);
    if (bias !== undefined) times(bias, -order).accumulate(xs, ys, phases, xs.length);
    return phases;
  };
  return {
    side: 0,
    waves: asRows((xs, y, out) => out.set(waves(xs, new Float64Array(xs.length).fill(y)))),
    fromX: asRows((xs, _, out) => out.set(xs)),
    fromY: asRows((_, y, out) => out.fill(y)),
    worst: 0,
    returns: undefined,
  };
}

function asRows(fill: (xs: Float64Array, y: number, out: Float64Array) => void): PlaneFunction {
  const alongRow = (xs: Float64Array, y: number, out: Float64Array): Float64Array => {
    fill(xs, y, out);
    return out;
  };
  return { alongRow, at: (x, y) => alongRow(Float64Array.of(x), y, new Float64Array(1))[0]! };
}

/** Tried in turn until the fit is good. Most patches are done with the first. */
const DEGREES = [3, 5, 8] as const;
/** Waves: a five-hundredth of a fringe is less than a step of grey. */
const GOOD_FIT = 2e-3;
/** Rays a side by which the edge of lost light is drawn. */
const FINE = 64;
const RETURNED = FATES.indexOf('returned');

interface PointGrid extends Points {
  readonly side: number;
  readonly box: {
    readonly left: number;
    readonly bottom: number;
    readonly width: number;
    readonly height: number;
  };
}
type TracedGrid = PointGrid & { readonly trace: RoundTripTrace };

/** `side` points a side, row by row over the patch's least upright rectangle, closer together toward its edges (Chebyshev's points) for a fit, even when fine. */
function gridOver(patch: DesignedPatch, side: number): PointGrid {
  const { minX, maxX, minY, maxY } = boundsOf(patch.outline);
  const box = { left: minX, bottom: minY, width: maxX - minX, height: maxY - minY };
  const step = (k: number): number =>
    side === FINE ? (k + 0.5) / side : (1 - Math.cos((Math.PI * (k + 0.5)) / side)) / 2;
  const count = side * side;
  const xs = Float64Array.from({ length: count }, (_, i) => box.left + box.width * step(i % side));
  const ys = Float64Array.from(
    { length: count },
    (_, i) => box.bottom + box.height * step(Math.floor(i / side)),
  );
  return { xs, ys, side, box };
}

/** Rays within the outline and on its edge, some twice as many as a grid has: over the hole of a ring the light for a feature goes astray. */
function gridIn({ outline }: DesignedPatch, side: number): PointGrid {
  const { minX, maxX, minY, maxY } = boundsOf(outline);
  const box = { left: minX, bottom: minY, width: maxX - minX, height: maxY - minY };
  const count = 2 * side * side;
  return { ...joined(latticePoints(outline, count), boundaryPoints(outline, count)), side, box };
}

/** The slope of one side of a roof, going on over the ridge; any other bias as it is. */
function outwardBias(bias: Bias | undefined, side: ReturnBranch['side']): Bias | undefined {
  return bias === undefined || side === 0
    ? bias
    : { ...bias, shape: 'tilt', amplitude: side * bias.amplitude };
}

/** The traced patch with another bias in place of its own. */
function withBias(patch: TracedPatch, own: Bias | undefined, other: Bias | undefined): TracedPatch {
  if (own === undefined || other === undefined || own === other) return patch;
  const [without, added] = [times(own, -1), new BiasPhase(other)];
  return {
    ...patch,
    phase: {
      phases: (xs, ys) => {
        const phases = patch.phase.phases(xs, ys);
        without.accumulate(xs, ys, phases, xs.length);
        added.accumulate(xs, ys, phases, xs.length);
        return phases;
      },
      gradients: (xs, ys) => {
        const gradients = patch.phase.gradients(xs, ys);
        without.accumulateGradient(xs, ys, gradients.gx, gradients.gy, xs.length);
        added.accumulateGradient(xs, ys, gradients.gx, gradients.gy, xs.length);
        return gradients;
      },
    },
  };
}

/** A bias so many times as large, or turned round. */
const times = (bias: Bias, factor: number): BiasPhase =>
  new BiasPhase({ ...bias, amplitude: factor * bias.amplitude });

/** Undefined where too few rays come back to fit anything by. */
function branchOf(
  { xs, ys, trace }: TracedGrid,
  side: ReturnBranch['side'],
  bias: Bias | undefined,
  order: number,
  degree: number,
): ReturnBranch | undefined {
  const kept: number[] = [];
  for (let i = 0; i < trace.count; i++) if (trace.fate[i] === RETURNED) kept.push(i);
  const of = (values: Float64Array): Float64Array => Float64Array.from(kept, (i) => values[i]!);
  const [x, y] = [of(trace.x), of(trace.y)];
  // With the piston: the branches of a roof are traced apart, and what lies between them is seen.
  const waves = of(trace.waves).map((value) => value + trace.piston);
  if (bias !== undefined) times(bias, -order).accumulate(x, y, waves, kept.length);
  const fitted = fitPlane(x, y, [waves, of(xs), of(ys)], degree);
  if (fitted === undefined) return undefined;
  const [ofWaves, fromX, fromY] = fitted.polynomials as [PlanePolynomial, PlanePolynomial, PlanePolynomial];
  return { side, waves: ofWaves, fromX, fromY, worst: fitted.worst, returns: undefined };
}

function returnMap({ box, side, trace }: TracedGrid): (x: number, y: number) => boolean {
  const cell = (run: number): number => Math.min(side - 1, Math.max(0, Math.floor(run * side)));
  return (x, y) =>
    trace.fate[cell((y - box.bottom) / box.height) * side + cell((x - box.left) / box.width)] === RETURNED;
}

/** The run w of a place along a bias's direction, mm. */
export const runOf = ({ centre, direction }: Bias, x: number, y: number): number =>
  (x - centre[0]) * direction[0] + (y - centre[1]) * direction[1];
