/**
 * Which place of the surface under test each place of the pattern and of the camera shows. mm, radians, pixels.
 *
 * The camera: the beam's circle spans `pixelsAcrossBeam` pixels, seen from the interferometer, so that x of the pattern runs to the left and
 * y up; columns count from the left, rows from the top, and the middle of the first pixel is 0. Magnification: with J = ∂(x, y)/∂P and
 * g = ∇z, lengths on the surface are those of the metric I + ggᵀ; the two principal values are the singular values of the root of
 * Jᵀ(I + ggᵀ)J. Angles are to the pattern's normal, in air, by sin θ = |∇E|.
 */
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { contains } from '../../geometry/contains.ts';
import { boundsOf } from '../../geometry/extent.ts';
import { boundaryPoints } from '../../geometry/sampling.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { gradientAt } from '../../optics/eikonal.ts';
import type { Footing } from '../../optics/null-wave.ts';
import { apertureWindow, columnAt, rowAt, xOf, yOf } from '../camera/fringe-picture-window.ts';
import { aperturePoints } from '../sensing/aperture-points.ts';

export interface MappedPoint {
  readonly pattern: Vec2;
  /** The surface's own x and y. */
  readonly surface: Vec2;
  /** Column and row, pixels. */
  readonly camera: Vec2;
  /** mm of surface for 1 mm of pattern, the larger first. */
  readonly magnification: readonly [number, number];
  /** Of the light that arrives at the pattern from the interferometer. */
  readonly incidence: number;
  /** Of the light that leaves it for the surface. */
  readonly leaving: number;
}

/** A place on the pattern as the camera sees it: column and row. */
export function cameraPlace(design: Design, [x, y]: Vec2): Vec2 {
  const { pixelsAcrossBeam } = design.scenario.interferometer;
  const window = apertureWindow(design, pixelsAcrossBeam);
  return [pixelsAcrossBeam - 1 - columnAt(window, x), rowAt(window, y)];
}

/** The place on the pattern that the camera sees at a column and row. */
export function patternPlace(design: Design, [column, row]: Vec2): Vec2 {
  const { pixelsAcrossBeam } = design.scenario.interferometer;
  const window = apertureWindow(design, pixelsAcrossBeam);
  return [xOf(window, pixelsAcrossBeam - 1 - column), yOf(window, row)];
}

/** Of a place on the surface; undefined where its normal does not come back to the pattern. */
export function mappedFrom(design: Design, main: MainPattern, surface: Vec2): MappedPoint | undefined {
  const footing = main.normals.from(...surface);
  const sag = new Float64Array(6);
  if (footing === undefined || !main.surface.sag.at(...surface, sag)) return undefined;
  const { at, normal } = footing;
  const arriving = gradientAt(design.beam.eikonal, ...at);
  return {
    pattern: at,
    surface,
    camera: cameraPlace(design, at),
    magnification: magnificationOf(footing, sag[1]!, sag[2]!),
    incidence: Math.asin(Math.min(1, Math.hypot(...arriving))),
    leaving: Math.asin(Math.min(1, Math.hypot(normal[0], normal[1]))),
  };
}

function magnificationOf(
  { spread: [a, b, c, d] }: Footing,
  zx: number,
  zy: number,
): readonly [number, number] {
  const determinant = a * d - b * c;
  // Columns of J, each with its height.
  const [ux, uy] = [d / determinant, -c / determinant];
  const [vx, vy] = [-b / determinant, a / determinant];
  const [uz, vz] = [zx * ux + zy * uy, zx * vx + zy * vy];
  const [e, f, g] = [ux * ux + uy * uy + uz * uz, ux * vx + uy * vy + uz * vz, vx * vx + vy * vy + vz * vz];
  const [middle, half] = [(e + g) / 2, Math.hypot((e - g) / 2, f)];
  const larger = Math.sqrt(middle + half);
  // The product of the two is the root of the determinant; their difference would lose digits.
  return [larger, Math.sqrt(Math.max(0, e * g - f * f)) / larger];
}

interface MappedGrid {
  /** Between rows and columns of the grid, on the pattern; its places are whole multiples of it. */
  readonly pitch: number;
  readonly points: readonly MappedPoint[];
}

/** Points across the wider side of the footprint: at least this many. */
const LEAST_ACROSS = 16;

/** A square grid on the pattern, over the footprint. */
export function mappedGrid(design: Design, main: MainPattern): MappedGrid {
  const { minX, minY, maxX, maxY } = boundsOf(main.footprint);
  const pitch = roundStep(Math.max(maxX - minX, maxY - minY) / LEAST_ACROSS);
  const points: MappedPoint[] = [];
  for (let j = Math.ceil(minY / pitch); j * pitch <= maxY; j++) {
    for (let i = Math.ceil(minX / pitch); i * pitch <= maxX; i++) {
      const place: Vec2 = [i * pitch, j * pitch];
      const surface = contains(main.footprint, place) ? main.wave.coordinatesAt(...place) : undefined;
      const point = surface === undefined ? undefined : mappedFrom(design, main, surface);
      if (point !== undefined) points.push(point);
    }
  }
  return { pitch, points };
}

/** The largest of 1, 2 and 5 times a power of ten that is not above `most`. */
export function roundStep(most: number): number {
  let unit = 1;
  while (unit > most) unit /= 10;
  while (unit * 10 <= most) unit *= 10;
  return unit * (5 * unit <= most ? 5 : 2 * unit <= most ? 2 : 1);
}

/** Places of the marks, in the order of the scenario. */
export const mappedMarks = (
  design: Design,
  main: MainPattern,
): readonly { readonly id: string; readonly point: MappedPoint }[] =>
  main.test.fiducials.map(({ id, at }) => ({ id, point: mappedFrom(design, main, at)! }));

/** How far the mapping is from a mere scale, turn and shift. */
export interface Distortion {
  /** mm of surface for 1 mm of pattern, of the best similarity. */
  readonly scale: number;
  /** From the pattern's +x to the surface's own +x; of a mirrored mapping after its y is turned over. */
  readonly rotation: number;
  /** Whether the surface's own x and y run the other way round than the pattern's. */
  readonly isMirrored: boolean;
  /** Departure from it on the surface, mm: over the aperture's area, and anywhere. */
  readonly rms: number;
  readonly largest: number;
  /** The surface's own x and y. */
  readonly largestAt: Vec2;
  /** Of the circle about the aperture. */
  readonly diameter: number;
}

const ALONG_EDGE = 240;

/** The best similarity from the pattern to the surface, s = a p + b or a p̄ + b in complex numbers, by least squares. */
export function distortionOf({ test, normals }: MainPattern): Distortion {
  const { xs, ys, weights, radius } = aperturePoints(test.aperture);
  const patternOf = (x: number, y: number): Vec2 => normals.from(x, y)!.at;
  const inside = Array.from(xs, (x, k) => ({
    s: [x, ys[k]!] as Vec2,
    p: patternOf(x, ys[k]!),
    w: weights[k]!,
  }));
  const edge = boundaryPoints(test.aperture, ALONG_EDGE);
  const around = Array.from(edge.xs, (x, k) => ({
    s: [x, edge.ys[k]!] as Vec2,
    p: patternOf(x, edge.ys[k]!),
  }));
  const [straight, mirrored] = [1, -1].map((turn) => similarity(inside, turn)) as [Similarity, Similarity];
  const best = mirrored.square < straight.square ? mirrored : straight;
  let [largest, largestAt] = [0, around[0]!.s];
  for (const point of [...inside, ...around]) {
    const departure = Math.hypot(...best.departure(point));
    if (departure > largest) [largest, largestAt] = [departure, point.s];
  }
  return {
    scale: Math.hypot(...best.a),
    rotation: Math.atan2(best.a[1], best.a[0]),
    isMirrored: best === mirrored,
    rms: Math.sqrt(best.square),
    largest,
    largestAt,
    diameter: 2 * radius,
  };
}

interface Pair {
  readonly s: Vec2;
  readonly p: Vec2;
}

interface Similarity {
  readonly a: Vec2;
  /** Weighted mean of the squared departures. */
  readonly square: number;
  departure(pair: Pair): Vec2;
}

/** `turn` −1 turns the pattern's y over first. */
function similarity(pairs: readonly (Pair & { readonly w: number })[], turn: number): Similarity {
  const mean = (of: (pair: Pair) => number): number => {
    let [sum, all] = [0, 0];
    for (const pair of pairs) {
      sum += pair.w * of(pair);
      all += pair.w;
    }
    return sum / all;
  };
  const middle = [
    mean(({ s }) => s[0]),
    mean(({ s }) => s[1]),
    mean(({ p }) => p[0]),
    mean(({ p }) => turn * p[1]),
  ] as const;
  const about = ({ s, p }: Pair): readonly [number, number, number, number] => [
    s[0] - middle[0],
    s[1] - middle[1],
    p[0] - middle[2],
    turn * p[1] - middle[3],
  ];
  const over = mean((pair) => about(pair)[2] ** 2 + about(pair)[3] ** 2);
  const real = mean((pair) => {
    const [x, y, u, v] = about(pair);
    return x * u + y * v;
  });
  const imaginary = mean((pair) => {
    const [x, y, u, v] = about(pair);
    return y * u - x * v;
  });
  const a: Vec2 = [real / over, imaginary / over];
  const departure = (pair: Pair): Vec2 => {
    const [x, y, u, v] = about(pair);
    return [x - a[0] * u + a[1] * v, y - a[0] * v - a[1] * u];
  };
  return { a, departure, square: mean((pair) => departure(pair)[0] ** 2 + departure(pair)[1] ** 2) };
}
