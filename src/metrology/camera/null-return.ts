/**
 * What the main pattern's light brings back from the surface under test, wherever surface and hologram have moved to: rays through the
 * pattern to the real surface, mirrored there, back through glass and pattern. W as of any round trip (optics/round-trip.ts). To first order in a motion of the part it is −2h/λ, h = n·(T + θ × X) with n toward
 * the hologram. mm, waves.
 */
import { fitPlane, type PlanePolynomial } from '../../algebra/plane-polynomial.ts';
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { covers } from '../../geometry/contains.ts';
import { rotateBack } from '../../geometry/frame.ts';
import { boundaryPoints, interiorGrid, joined, type Points, spacingFor } from '../../geometry/sampling.ts';
import type { SagSurface } from '../../optics/datum-surface.ts';
import { FATES, type RoundTripTrace, traceRoundTrip } from '../../optics/round-trip.ts';
import type { BenchState } from './fringe-picture-displacements.ts';
import type { ReturnBranch } from './fringe-picture-return.ts';

interface NullTrace extends RoundTripTrace {
  /** Where the rays left the pattern. */
  readonly from: Points;
}

/** Rays that the design sends to the places `on` of the surface, in its own x and y. */
function tracedNull(
  design: Design,
  main: MainPattern,
  { incident, carriedFrame }: BenchState,
  on: Points,
): NullTrace {
  const { order, phase, outline, normals, surface } = main;
  const { glass, light } = design;
  const footings = Array.from(on.xs, (x, k) => normals.from(x, on.ys[k]!)).filter(
    (footing) => footing !== undefined,
  );
  const from = {
    xs: Float64Array.from(footings, ({ at }) => at[0]),
    ys: Float64Array.from(footings, ({ at }) => at[1]),
  };
  const { origin, rotation } = carriedFrame(surface.frame);
  const [, , toAir] = rotateBack(surface.frame.rotation, footings[0]!.normal);
  const mirror: SagSurface = {
    ...{ shape: 'sag', point: origin, rotation, sag: surface.sag },
    ...{ faces: toAir > 0 ? 1 : -1, near: [] },
  };
  // Beyond its outline the pattern may have no phase.
  const contains = (x: number, y: number): boolean => covers(outline, [x, y]);
  const traced = { order, phase, incident, glass, contains, wavelength: light.wavelength };
  return { from, ...traceRoundTrip(traced, { kind: 'surface', surface: mirror }, from.xs, from.ys) };
}

/** Rays over the aperture, and along its edge. */
const INSIDE = 150;
const ALONG_EDGE = 60;
/** Tried in turn until W is met so well: less than a step of grey. */
const DEGREES = [4, 8] as const;
const GOOD_FIT = 2e-3;

const RETURNED = FATES.indexOf('returned');

/** As the branches of a patch: one, or none where too little comes back. */
export function nullBranches(design: Design, main: MainPattern, bench: BenchState): readonly ReturnBranch[] {
  const { aperture } = main.test;
  const inside = interiorGrid(aperture, spacingFor(aperture, INSIDE));
  const trace = tracedNull(design, main, bench, joined(inside, boundaryPoints(aperture, ALONG_EDGE)));
  const kept = [...trace.fate.keys()].filter((k) => trace.fate[k] === RETURNED);
  const [x, y, waves, ...from] = [trace.x, trace.y, trace.waves, trace.from.xs, trace.from.ys].map((values) =>
    Float64Array.from(kept, (k) => values[k]!),
  ) as [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array];
  for (const degree of DEGREES) {
    const fitted = fitPlane(x, y, [waves, ...from], degree);
    if (fitted === undefined) return [];
    const [ofWaves, fromX, fromY] = fitted.polynomials as [PlanePolynomial, PlanePolynomial, PlanePolynomial];
    if (fitted.worst <= GOOD_FIT || degree === DEGREES.at(-1))
      return [{ side: 0, waves: ofWaves, fromX, fromY, worst: fitted.worst, returns: undefined }];
  }
  return [];
}
