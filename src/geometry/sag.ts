/**
 * Surfaces by their sag: z over x and y from a vertex, with the first and second derivatives, mm. A surface of revolution is a function of
 * q = x² + y², whose own derivatives give the rest: z_x = 2x f′, z_xx = 2f′ + 4x² f″, z_xy = 4xy f″.
 */

/** z, z_x, z_y, z_xx, z_xy, z_yy. */
export type SagValues = Float64Array;

export interface Sag {
  /** Fills `out`; false where the surface has no such place, or no normal there. */
  at(x: number, y: number, out: SagValues): boolean;
  /** Whether it is a surface of revolution about its z axis. */
  readonly isRound: boolean;
  /** Whether it is made of pieces, each of a shape of its own. */
  readonly isPieced?: boolean;
}

/** A function of q = x² + y² with its derivatives; undefined where there is no surface. */
type Profile = (q: number) => { readonly f: number; readonly f1: number; readonly f2: number } | undefined;

const turned = (profile: Profile): Sag => ({
  isRound: true,
  at(x, y, out) {
    const found = profile(x * x + y * y);
    if (found === undefined) return false;
    const { f, f1, f2 } = found;
    out[0] = f;
    out[1] = 2 * x * f1;
    out[2] = 2 * y * f1;
    out[3] = 2 * f1 + 4 * x * x * f2;
    out[4] = 4 * x * y * f2;
    out[5] = 2 * f1 + 4 * y * y * f2;
    return true;
  },
});

/** A term A hⁿ, n even: A in mm^(1 − n). */
export interface AsphereTerm {
  readonly power: number;
  readonly coefficient: number;
}

/**
 * The asphere of ISO 10110-12: z = h²/(R(1 + √(1 − (1 + κ)h²/R²))) + Σ A_n hⁿ. `curvature` 1/R, 0 for a plane base, is positive where the
 * centre of curvature lies on the + side of the axis.
 */
export function asphereSag(curvature: number, conic: number, terms: readonly AsphereTerm[] = []): Sag {
  const c = curvature;
  const k = (1 + conic) * c * c;
  return turned((q) => {
    const under = 1 - k * q;
    if (!(under > 0)) return undefined;
    const root = Math.sqrt(under);
    let f = (c * q) / (1 + root);
    let f1 = c / (2 * root);
    let f2 = (c * k) / (4 * root * under);
    for (const { power, coefficient } of terms) {
      const n = power / 2;
      const low = n >= 2 ? integerPower(q, n - 2) : 0;
      f += coefficient * integerPower(q, n);
      f1 += coefficient * n * integerPower(q, n - 1);
      f2 += coefficient * n * (n - 1) * low;
    }
    return { f, f1, f2 };
  });
}

/** By products: the last digit of Math.pow is the machine's own. */
function integerPower(base: number, exponent: number): number {
  let product = 1;
  for (let k = 0; k < exponent; k++) product *= base;
  return product;
}

/** A cone of the given half-angle that opens along +z from its apex at the vertex; it has no normal at the apex. */
export function coneSag(halfAngle: number): Sag {
  const slope = Math.cos(halfAngle) / Math.sin(halfAngle);
  return turned((q) => {
    if (!(q > 0)) return undefined;
    const rho = Math.sqrt(q);
    return { f: slope * rho, f1: slope / (2 * rho), f2: -slope / (4 * rho * q) };
  });
}

/** The upper (`sign` 1) or lower half of a torus whose tube, of radius `tube`, runs on the circle of `radius` about the z axis. */
export function torusSag(radius: number, tube: number, sign: 1 | -1): Sag {
  return turned((q) => {
    const rho = Math.sqrt(q);
    const across = rho - radius;
    const under = tube * tube - across * across;
    if (!(under > 0) || !(rho > 0)) return undefined;
    const root = Math.sqrt(under);
    // z = ±√(t² − (ρ − R)²): dz/dρ = ∓(ρ − R)/root; d²z/dρ² = ∓t²/root³; with ρ = √q, d/dq = (1/2ρ) d/dρ.
    const z1 = (-sign * across) / root;
    const z2 = (-sign * tube * tube) / (root * under);
    return { f: sign * root, f1: z1 / (2 * rho), f2: (z2 - z1 / rho) / (4 * q) };
  });
}

/** Several sags, one upon the other: there is a surface where all of them have one. */
export function sumOfSags(sags: readonly Sag[]): Sag {
  if (sags.length === 1) return sags[0]!;
  const one = new Float64Array(6);
  return {
    isRound: sags.every(({ isRound }) => isRound),
    isPieced: sags.some(({ isPieced }) => isPieced === true),
    at(x, y, out) {
      out.fill(0);
      for (const sag of sags) {
        if (!sag.at(x, y, one)) return false;
        for (let k = 0; k < 6; k++) out[k]! += one[k]!;
      }
      return true;
    },
  };
}
