/**
 * The null of the surface under test as its fringes are read: a map over the footprint on the pattern, by Zernike terms of ISO 24157 on
 * the least circle about the footprint's middle that holds it, fitted by least squares up to radial order 4 and weighted by area of the
 * pattern. A map is a height of the surface toward the hologram, mm: h of it shortens the return by 2h, N = 2h/λ fringes. x and y are
 * the substrate's.
 */
import { solveLeastSquares } from '../../algebra/least-squares.ts';
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { boundsOf, largestDistanceFrom } from '../../geometry/extent.ts';
import { cross, subtract, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import { zernikeCount, zernikePolynomials } from '../../optics/zernike.ts';
import type { BenchReading, NullValue } from '../../scenario/bench-reading.ts';
import type { FigureTerm } from '../../scenario/scenario.ts';
import { apertureFootings } from '../sensing/aperture-footings.ts';
import { MOST_FRINGES_PER_PIXEL } from '../sensing/camera-pixels.ts';
import { densityAt } from '../sensing/capture-range.ts';

/** A Zernike term: which of its two parts, where it has two. */
export type NullTerm = Pick<NullValue, 'term' | 'part'>;
type Unit = Extract<BenchReading, { kind: 'null' }>['unit'];

const MOST_ORDER = 4;
const COUNT = zernikeCount(MOST_ORDER);

interface Kind {
  /** Indices j: the part along x or at 0° first, Z_n^m, then that along y or at 45°, Z_n^−m. */
  readonly indices: readonly number[];
  /** From the middle to the edge, for a unit of the coefficient; of a tilt from edge to edge over the circle. */
  readonly counted: number;
  /** The steepest slope, at the edge, for a unit of the coefficient and of the radius. */
  readonly slope: number;
}

/** Closed forms of ISO 24157: 2ρ cos θ; √3(2ρ² − 1); √6ρ² cos 2θ; √8(3ρ³ − 2ρ) cos θ; √5(6ρ⁴ − 6ρ² + 1). */
const KINDS: Readonly<Record<FigureTerm, Kind>> = {
  tilt: { indices: [2, 1], counted: 4, slope: 2 },
  power: { indices: [4], counted: 2 * Math.sqrt(3), slope: 4 * Math.sqrt(3) },
  astigmatism: { indices: [5, 3], counted: Math.sqrt(6), slope: 2 * Math.sqrt(6) },
  coma: { indices: [8, 7], counted: Math.sqrt(8), slope: 7 * Math.sqrt(8) },
  spherical: { indices: [12], counted: 0, slope: 12 * Math.sqrt(5) },
};

export const indexOf = ({ term, part }: NullTerm): number => KINDS[term].indices[part]!;

/** The circle that the terms are counted on, and the footprint's widths along x and y. */
function circleOf({ footprint }: MainPattern) {
  const { minX, minY, maxX, maxY } = boundsOf(footprint);
  const centre: Vec2 = [(minX + maxX) / 2, (minY + maxY) / 2];
  return { centre, radius: largestDistanceFrom(footprint, centre), widths: [maxX - minX, maxY - minY] };
}

/** What a bench reads for a mm of height of a term: fringes as they are counted, or waves of the return. */
export function shownPerMm(design: Design, main: MainPattern, of: NullTerm, unit: Unit): number {
  const waves = 2 / design.light.wavelength;
  if (unit === 'waves') return waves;
  const { radius, widths } = circleOf(main);
  const { counted } = KINDS[of.term];
  // Tilt is counted over the footprint's own width.
  return waves * counted * (of.term === 'tilt' ? widths[of.part]! / (2 * radius) : 1);
}

/** The height of a term at which its fringes come as close as the camera can tell, mm. */
export function largestHeight(design: Design, main: MainPattern, { term }: NullTerm): number {
  const limit = densityAt(design, MOST_FRINGES_PER_PIXEL);
  return (limit * circleOf(main).radius * design.light.wavelength) / (2 * KINDS[term].slope);
}

/** Heights at places of the pattern to the coefficients of all terms, mm; `roots` are square roots of the weights. */
export function termsOf(
  main: MainPattern,
  xs: ArrayLike<number>,
  ys: ArrayLike<number>,
  heights: Float64Array,
  roots: Float64Array,
): Float64Array {
  return solveLeastSquares(basisAt(main, xs, ys), COUNT, heights, { weights: roots }).solution;
}

function basisAt(main: MainPattern, xs: ArrayLike<number>, ys: ArrayLike<number>): Float64Array {
  const { centre, radius } = circleOf(main);
  const basis = new Float64Array(xs.length * COUNT);
  for (let k = 0; k < xs.length; k++) {
    const row = basis.subarray(k * COUNT, (k + 1) * COUNT);
    zernikePolynomials((xs[k]! - centre[0]) / radius, (ys[k]! - centre[1]) / radius, MOST_ORDER, row);
  }
  return basis;
}

/** The aperture's points with their normals followed back, and what each adds to each term. */
interface NullRays {
  readonly xs: Float64Array;
  readonly ys: Float64Array;
  readonly feet: readonly Vec3[];
  /** Toward the hologram. */
  readonly normals: readonly Vec3[];
  /** Square roots of the weights: of the pattern's area. */
  readonly roots: Float64Array;
  /** COUNT × rays, row-major: terms for a height at each. */
  readonly gains: Float64Array;
}

const known = new WeakMap<MainPattern, NullRays>();

export function nullRays(main: MainPattern): NullRays {
  const found = known.get(main) ?? followed(main);
  known.set(main, found);
  return found;
}

function followed(main: MainPattern): NullRays {
  const { points, footings } = apertureFootings(main);
  const xs = Float64Array.from(footings, ({ at }) => at[0]);
  const ys = Float64Array.from(footings, ({ at }) => at[1]);
  const roots = Float64Array.from(footings, ({ spread: [a, b, c, d] }, k) =>
    Math.sqrt(points.weights[k]! * Math.abs(a * d - b * c)),
  );
  const basis = basisAt(main, xs, ys);
  const { covarianceFactor } = solveLeastSquares(basis, COUNT, new Float64Array(xs.length), {
    weights: roots,
  });
  const gains = new Float64Array(COUNT * xs.length);
  const inner = new Float64Array(COUNT);
  for (let k = 0; k < xs.length; k++) {
    inner.fill(0);
    for (let i = 0; i < COUNT; i++)
      for (let j = 0; j < COUNT; j++)
        inner[j]! += covarianceFactor[i * COUNT + j]! * basis[k * COUNT + i]! * roots[k]! ** 2;
    for (let i = 0; i < COUNT; i++)
      for (let j = 0; j < COUNT; j++)
        gains[i * xs.length + k]! += covarianceFactor[i * COUNT + j]! * inner[j]!;
  }
  return {
    ...{ xs, ys, roots, gains },
    feet: footings.map(({ foot }) => foot),
    normals: footings.map(({ normal }) => normal),
  };
}

/** Of a term, for a rigid motion T, θ about `about`, substrate frame: the height is force·T + moment·θ; h = n·(T + θ × (X − about)). */
export function leverOf(
  main: MainPattern,
  of: NullTerm,
  about: Vec3,
): { readonly force: Vec3; readonly moment: Vec3 } {
  const { feet, normals } = nullRays(main);
  const levers = normals.map((n, k) => cross(subtract(feet[k]!, about), n));
  const sum = (vectors: readonly Vec3[], axis: number): number =>
    heightOf(main, of, (k) => vectors[k]![axis]!);
  const three = (vectors: readonly Vec3[]): Vec3 => [sum(vectors, 0), sum(vectors, 1), sum(vectors, 2)];
  return { force: three(normals), moment: three(levers) };
}

/** The coefficient of a term in a map of heights, one for each ray, mm. */
export function heightOf(main: MainPattern, of: NullTerm, height: (ray: number) => number): number {
  const { xs, gains } = nullRays(main);
  const row = indexOf(of) * xs.length;
  let sum = 0;
  for (let k = 0; k < xs.length; k++) sum += gains[row + k]! * height(k);
  return sum;
}
