/**
 * What the main pattern's light brings back from the surface under test, wherever surface and hologram have moved to: rays through the
 * pattern to the real surface, mirrored there, back through glass and pattern. W as of any round trip (optics/round-trip.ts): against the
 * beam sent straight back, a longer way is a positive W. To first order in a motion of the part it is −2h/λ, h = n·(T + θ × X) with n toward
 * the hologram. mm, waves.
 */
import { fitPlane, type PlanePolynomial } from '../../algebra/plane-polynomial.ts';
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { boundaryPoints, interiorGrid, joined, type Points, spacingFor } from '../../geometry/sampling.ts';
import { dot, subtract } from '../../geometry/vector.ts';
import type { PlacedSag } from '../../optics/null-wave.ts';
import { rayPastGlass, runToHeight, slabCrossing } from '../../optics/ray.ts';
import { lateralCosines } from '../../optics/round-trip.ts';
import { reflectAtSag } from '../../optics/sag-mirror.ts';
import type { BenchState } from './fringe-picture-displacements.ts';
import type { ReturnBranch } from './fringe-picture-return.ts';

interface NullTrace {
  /** Where each ray left the pattern, where it came back to it, and W there, piston and all; lost rays are left out. */
  readonly from: Points;
  readonly back: Points;
  readonly waves: Float64Array;
}

/** Rays that the design sends to the places `on` of the surface, in its own x and y. */
export function tracedNull(
  design: Design,
  main: MainPattern,
  { incident, carriedFrame }: BenchState,
  on: Points,
): NullTrace {
  const { glass, light } = design;
  const surface: PlacedSag = { sag: main.surface.sag, frame: carriedFrame(main.surface.frame) };
  const footings = Array.from(on.xs, (x, k) => main.normals.from(x, on.ys[k]!)).filter(
    (footing) => footing !== undefined,
  );
  const from = pointsOf(footings.map(({ at }) => at));
  const { order, phase } = main;
  const { px, py } = lateralCosines(
    { order, wavelength: light.wavelength, incident, phase },
    from.xs,
    from.ys,
  );
  const height = glass.side === 'after' ? glass.thickness : 0;
  const home = footings.flatMap(({ at, foot }, k) => {
    const out = rayPastGlass(glass, at, [px[k]!, py[k]!]);
    const met = out && reflectAtSag(surface, out, dot(subtract(foot, out.point), out.direction));
    if (out === undefined || met === undefined) return [];
    const { point, direction } = met.ray;
    const run = runToHeight(met.ray, height);
    if (direction[2] >= 0 || run < 0) return [];
    const inGlass = [out.direction, direction].map((d) =>
      slabCrossing(d[0] * d[0] + d[1] * d[1], height, glass.index),
    );
    const lateral = run + inGlass[1]!.runPerCosine;
    const path = inGlass[0]!.path + met.path + run + inGlass[1]!.path;
    return [
      { at, path, back: [point[0] + lateral * direction[0], point[1] + lateral * direction[1]] as const },
    ];
  });
  const [left, back] = [pointsOf(home.map(({ at }) => at)), pointsOf(home.map((ray) => ray.back))];
  const waves = Float64Array.from(home, ({ path }) => path / light.wavelength);
  for (const { xs, ys } of [left, back]) {
    const phases = phase.phases(xs, ys);
    waves.forEach((_, k) => {
      waves[k]! += order * phases[k]!;
    });
    incident.accumulate(xs, ys, 1 / light.wavelength, waves, waves.length);
  }
  return kept({ from: left, back, waves });
}

const pointsOf = (places: readonly (readonly [number, number])[]): Points => ({
  xs: Float64Array.from(places, ([x]) => x),
  ys: Float64Array.from(places, ([, y]) => y),
});

/** Without the rays that come back where the pattern has no phase. */
function kept({ from, back, waves }: NullTrace): NullTrace {
  const good = [...waves.keys()].filter((k) => Number.isFinite(waves[k]!));
  const of = (values: Float64Array): Float64Array => Float64Array.from(good, (k) => values[k]!);
  const both = ({ xs, ys }: Points): Points => ({ xs: of(xs), ys: of(ys) });
  return { from: both(from), back: both(back), waves: of(waves) };
}

/** Rays over the aperture, and along its edge. */
const INSIDE = 150;
const ALONG_EDGE = 60;
/** Tried in turn until W is met so well: less than a step of grey. */
const DEGREES = [4, 8] as const;
const GOOD_FIT = 2e-3;

/** As the branches of a patch: one, or none where too little comes back. */
export function nullBranches(design: Design, main: MainPattern, bench: BenchState): readonly ReturnBranch[] {
  const { aperture } = main.test;
  const { from, back, waves } = tracedNull(
    design,
    main,
    bench,
    joined(interiorGrid(aperture, spacingFor(aperture, INSIDE)), boundaryPoints(aperture, ALONG_EDGE)),
  );
  for (const degree of DEGREES) {
    const fitted = fitPlane(back.xs, back.ys, [waves, from.xs, from.ys], degree);
    if (fitted === undefined) return [];
    const [ofWaves, fromX, fromY] = fitted.polynomials as [PlanePolynomial, PlanePolynomial, PlanePolynomial];
    if (fitted.worst <= GOOD_FIT || degree === DEGREES.at(-1))
      return [{ side: 0, waves: ofWaves, fromX, fromY, worst: fitted.worst, returns: undefined }];
  }
  return [];
}
