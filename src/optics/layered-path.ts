/**
 * The optical path through a plane slab and air, from a point of the pattern plane to a focus that the slab is square to.
 *
 * Written with the ray's conserved lateral direction cosine s = sin θ (air) the path is stationary in s:
 *   S(s) = a·s + b·√(1 − s²) + t·√(G − q·s²)
 * a lateral run (mm), b run in air along the axis (mm, negative behind the light), t the slab's thickness (mm).
 * A point focus has G = n², q = 1. A line focus, whose rays are square to the line, has the same form in the plane they
 * lie in (cylindrical-wave.ts says with which G and q), so one unknown serves every case.
 * dS/ds = 0 is Snell's law; with the slope x = tan θ it reads
 *   b·x + t·q·x / √(G + (G − q)·x²) = a
 * and the path becomes S = (a·x + b + t·√(G + (G − q)·x²)) / √(1 + x²).
 * Source: Fermat's principle and Snell's law, Born & Wolf, Principles of Optics, 7th ed., §3.1–3.2 and §4.1 (the angle
 * characteristic, whose Legendre transform this is).
 */

/** A slab and the kind of focus behind it, with what Newton's method starts from. */
interface Layer {
  /** Thickness, mm. */
  readonly t: number;
  readonly G: number;
  readonly q: number;
  /** x/a is 1/(b + paraxial) to first order. */
  readonly paraxial: number;
  /** The third-order term: x₀ + cubic·x₀³/(b + paraxial). */
  readonly cubic: number;
}

export function layerOf(t: number, G: number, q: number): Layer {
  const paraxial = (t * q) / Math.sqrt(G);
  return { t, G, q, paraxial, cubic: (paraxial * (G - q)) / (2 * G) };
}

/**
 * Steps of Newton's method that change x by less than this are the last: the error left is about its square, and the path's
 * error the square of that, far below a picometre.
 */
const SLOPE_STEP = 1e-6;
/** Newton's method is monotone here from the second step on; one or two steps are usual, so this is never reached in practice. */
const MOST_STEPS = 60;

/** The slope x = tan θ in air of the ray that obeys Snell's law for the lateral run `a`, mm, and the run in air `b`, mm. */
export function stationarySlope(a: number, b: number, layer: Layer): number {
  const { t, G, q, paraxial, cubic } = layer;
  const spread = G - q;
  const tq = t * q;
  const first = a / (b + paraxial);
  let x = first + (cubic * first * first * first) / (b + paraxial);
  for (let step = 0; step < MOST_STEPS; step++) {
    const w2 = G + spread * x * x;
    const inverse = 1 / Math.sqrt(w2);
    const change = (b * x + tq * x * inverse - a) / (b + tq * G * inverse * inverse * inverse);
    x -= change;
    if (Math.abs(change) <= SLOPE_STEP * (1 + x * x)) break;
  }
  return x;
}

/** S for a ray of slope `x`, mm: the optical path where `x` is the stationary slope. */
export function pathOfSlope(x: number, a: number, b: number, { t, G, q }: Layer): number {
  const x2 = x * x;
  return (a * x + b + t * Math.sqrt(G + (G - q) * x2)) / Math.sqrt(1 + x2);
}
