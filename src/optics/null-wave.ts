/**
 * The wave that meets a surface square on: its rays are the surface's normals, so that a round trip comes back on itself. From a point X of
 * the surface a normal goes back through the air to Q, on the glass or the pattern, and through the glass after the pattern to P:
 *   P(x, y) = Q + d t/√(n² − d²)     E_out(P) = −(|X − Q| + n² t/√(n² − d²))     ∂E_out/∂P = −d
 * with d the lateral cosines of the way back, which a plane slab keeps (Snell; Born & Wolf, Principles of Optics, §3.2.2), and |∇E| = 1 in air
 * (the theorem of Malus and Dupin, §3.1.2). The surface's own coordinates of P are found by Newton's method with the closed derivative
 * of P(x, y). Substrate frame, mm.
 */
import type { Bounds } from '../geometry/extent.ts';
import type { Frame } from '../geometry/frame.ts';
import type { Sag } from '../geometry/sag.ts';
import type { Vec2, Vec3 } from '../geometry/vector.ts';
import { type Eikonal, tracedEikonal, type WaveRay } from './eikonal.ts';
import { type FootingPlace, guessTable } from './null-guesses.ts';

/** A surface where it stands: its sag's frame in the substrate frame. */
export interface PlacedSag {
  readonly sag: Sag;
  readonly frame: Frame;
}

/** Glass of `thickness` and `index` after the pattern; thickness 0 for none. */
interface Slab {
  readonly thickness: number;
  readonly index: number;
}

/** The normal at a point of the surface, followed back to the pattern. */
export interface Footing {
  /** On the pattern. */
  readonly at: Vec2;
  /** On the surface, substrate frame. */
  readonly foot: Vec3;
  /** Unit normal, toward the hologram. */
  readonly normal: Vec3;
  /** E_out there, mm. */
  readonly path: number;
  /** ∂P/∂(x, y): P_x by x, P_x by y, P_y by x, P_y by y. Its determinant is 0 where normals cross: on a caustic. */
  readonly spread: readonly [number, number, number, number];
}

/**
 * Coordinates on the surface are settled by a step this small against them. Newton's steps square what is missing, so that after it they
 * are good to 1e-12 of themselves; E, taken along it to the second order, to its third power: nothing.
 */
const SETTLED = 1e-6;
/**
 * E and its gradient are settled by a longer step, where E's second-order share of it is slight, mm: a ten-thousandth of a wave. The third
 * order, which is left out, is smaller again by the step against the size of the surface.
 */
const NEAR = 1e-4;
const SLIGHT = 5e-8;
/** Quadratic from a guess that is near. */
const MOST_STEPS = 40;

export class NormalsOf {
  readonly #surface: PlacedSag;
  readonly #slab: Slab;
  readonly #sag = new Float64Array(6);
  /** Of the last point: what `#follow` fills, reused at each of millions of calls. */
  readonly #now = {
    px: 0,
    py: 0,
    path: 0,
    dx: 0,
    dy: 0,
    dz: 0,
    x: 0,
    y: 0,
    z: 0,
    pxx: 0,
    pxy: 0,
    pyx: 0,
    pyy: 0,
    dxx: 0,
    dxy: 0,
    dyx: 0,
    dyy: 0,
  };
  /** The last step of `#settle` on the surface, and the coordinates that it leads to. */
  readonly #step = { su: 0, sv: 0, u: 0, v: 0 };

  constructor(surface: PlacedSag, slab: Slab) {
    this.#surface = surface;
    this.#slab = slab;
  }

  get isRound(): boolean {
    return this.#surface.sag.isRound;
  }

  /** From the surface's own coordinates; undefined where there is no surface, or its normal does not come back to the pattern. */
  from(x: number, y: number): Footing | undefined {
    if (!this.#follow(x, y)) return undefined;
    const now = this.#now;
    return {
      at: [now.px, now.py],
      foot: [now.x, now.y, now.z],
      normal: [now.dx, now.dy, now.dz],
      path: now.path,
      spread: [now.pxx, now.pxy, now.pyx, now.pyy],
    };
  }

  /** The surface's coordinates of the normal through P, from a guess; undefined where none is found. */
  coordinatesOf(px: number, py: number, guess: Vec2): Vec2 | undefined {
    if (!this.#settle(px, py, guess, 0)) return undefined;
    const { u, v } = this.#step;
    return [u, v];
  }

  /** E_out and its gradient at P, into `ray`; false where no normal goes through it. */
  rayThrough(px: number, py: number, guess: Vec2, ray: WaveRay): boolean {
    if (!this.#settle(px, py, guess, SLIGHT)) return false;
    const now = this.#now;
    const { su, sv } = this.#step;
    // The last step by first order: ∇E = −d there, and E by the mean of both gradients, an error of the step's third power.
    const cx = now.dxx * su + now.dxy * sv;
    const cy = now.dyx * su + now.dyy * sv;
    ray.path = now.path - (now.dx + cx / 2) * (px - now.px) - (now.dy + cy / 2) * (py - now.py);
    ray.px = -(now.dx + cx);
    ray.py = -(now.dy + cy);
    return true;
  }

  /** The largest second derivative of E_out along any direction at P, 1/mm: of −∂d/∂P = −(∂d/∂(x, y))(∂P/∂(x, y))⁻¹. */
  curvatureThrough(px: number, py: number, guess: Vec2): number | undefined {
    if (!this.#settle(px, py, guess, 0)) return undefined;
    const { pxx, pxy, pyx, pyy, dxx, dxy, dyx, dyy } = this.#now;
    const determinant = pxx * pyy - pxy * pyx;
    const a = (dxx * pyy - dxy * pyx) / determinant;
    const b = (dxy * pxx - dxx * pxy) / determinant;
    const c = (dyy * pxx - dyx * pxy) / determinant;
    return Math.abs(a + c) / 2 + Math.hypot((a - c) / 2, b);
  }

  /**
   * Newton's steps to the normal through P, up to a last one that `#now` has not gone: it is in `#step`, with where it leads. It may be a
   * longer one where it bends E by no more than `slight`, mm.
   */
  #settle(px: number, py: number, guess: Vec2, slight: number): boolean {
    const now = this.#now;
    const step = this.#step;
    step.u = guess[0];
    step.v = guess[1];
    for (let count = 0; count < MOST_STEPS; count++) {
      const { u, v } = step;
      if (!this.#follow(u, v)) return false;
      const ex = px - now.px;
      const ey = py - now.py;
      const determinant = now.pxx * now.pyy - now.pxy * now.pyx;
      const su = (now.pyy * ex - now.pxy * ey) / determinant;
      const sv = (now.pxx * ey - now.pyx * ex) / determinant;
      if (!Number.isFinite(su) || !Number.isFinite(sv)) return false;
      step.su = su;
      step.sv = sv;
      step.u = u + su;
      step.v = v + sv;
      const share = (Math.abs(su) + Math.abs(sv)) / (1 + Math.abs(u) + Math.abs(v));
      if (share <= SETTLED) return true;
      if (share > NEAR) continue;
      const bend = (now.dxx * su + now.dxy * sv) * ex + (now.dyx * su + now.dyy * sv) * ey;
      if (Math.abs(bend) <= slight) return true;
    }
    return false;
  }

  /** From the surface's coordinates to everything that `#now` holds; false where the normal does not come back. */
  #follow(x: number, y: number): boolean {
    const { sag, frame } = this.#surface;
    const values = this.#sag;
    if (!sag.at(x, y, values)) return false;
    // No list is taken apart below: until V8 has optimised this, that costs more than all of the arithmetic.
    const z = values[0]!;
    const zx = values[1]!;
    const zy = values[2]!;
    const zxx = values[3]!;
    const zxy = values[4]!;
    const zyy = values[5]!;
    const r0 = frame.rotation[0];
    const r1 = frame.rotation[1];
    const r2 = frame.rotation[2];
    const now = this.#now;
    now.x = frame.origin[0] + r0[0] * x + r0[1] * y + r0[2] * z;
    now.y = frame.origin[1] + r1[0] * x + r1[1] * y + r1[2] * z;
    now.z = frame.origin[2] + r2[0] * x + r2[1] * y + r2[2] * z;
    // The unit normal u = (−z_x, −z_y, 1)/N and its derivatives, in the sag's frame; N N_x = z_x z_xx + z_y z_xy.
    const size = Math.sqrt(1 + zx * zx + zy * zy);
    const gx = (zx * zxx + zy * zxy) / (size * size);
    const gy = (zx * zxy + zy * zyy) / (size * size);
    const ux = -zx / size;
    const uy = -zy / size;
    const uz = 1 / size;
    const uxx = -zxx / size - ux * gx;
    const uyx = -zxy / size - uy * gx;
    const uzx = -uz * gx;
    const uxy = -zxy / size - ux * gy;
    const uyy = -zyy / size - uy * gy;
    const uzy = -uz * gy;
    const up = r2[0] * ux + r2[1] * uy + r2[2] * uz;
    const s = up > 0 ? -1 : 1;
    const dx = s * (r0[0] * ux + r0[1] * uy + r0[2] * uz);
    const dy = s * (r1[0] * ux + r1[1] * uy + r1[2] * uz);
    const dz = s * up;
    const { thickness: t, index: n } = this.#slab;
    const way = (t - now.z) / dz;
    if (!(way > 0)) return false;
    const dxx = s * (r0[0] * uxx + r0[1] * uyx + r0[2] * uzx);
    const dyx = s * (r1[0] * uxx + r1[1] * uyx + r1[2] * uzx);
    const dzx = s * (r2[0] * uxx + r2[1] * uyx + r2[2] * uzx);
    const dxy = s * (r0[0] * uxy + r0[1] * uyy + r0[2] * uzy);
    const dyy = s * (r1[0] * uxy + r1[1] * uyy + r1[2] * uzy);
    const dzy = s * (r2[0] * uxy + r2[1] * uyy + r2[2] * uzy);
    const root = t === 0 ? 1 : Math.sqrt(n * n - dx * dx - dy * dy);
    const run = t === 0 ? 0 : t / root;
    now.px = now.x + (way + run) * dx;
    now.py = now.y + (way + run) * dy;
    now.path = -(way + n * n * run);
    now.dx = dx;
    now.dy = dy;
    now.dz = dz;
    // X along x is (r·(1, 0, z_x)); the way changes with the height of X and the slope of d; the run in the glass with d.
    const xx = r0[0] + r0[2] * zx;
    const yx = r1[0] + r1[2] * zx;
    const hx = r2[0] + r2[2] * zx;
    const xy = r0[1] + r0[2] * zy;
    const yy = r1[1] + r1[2] * zy;
    const hy = r2[1] + r2[2] * zy;
    const wx = -(hx + way * dzx) / dz;
    const wy = -(hy + way * dzy) / dz;
    const steep = run / (root * root);
    const kx = wx + steep * (dx * dxx + dy * dyx);
    const ky = wy + steep * (dx * dxy + dy * dyy);
    now.pxx = xx + (way + run) * dxx + kx * dx;
    now.pxy = xy + (way + run) * dxy + ky * dx;
    now.pyx = yx + (way + run) * dyx + kx * dy;
    now.pyy = yy + (way + run) * dyy + ky * dy;
    now.dxx = dxx;
    now.dxy = dxy;
    now.dyx = dyx;
    now.dyy = dyy;
    return true;
  }
}

export interface NullWave extends Eikonal {
  /** The surface's own coordinates of the normal through a place of the pattern; undefined where none is found. */
  coordinatesAt(x: number, y: number): Vec2 | undefined;
}

/**
 * E_out over the patterns that `footings`, samples of the surface followed back, cover: a table of guesses is laid over `within`. Where a point has no normal through it, E is not a number.
 */
export function nullWave(normals: NormalsOf, footings: readonly FootingPlace[], within: Bounds): NullWave {
  const guess = guessTable((x, y, near) => normals.coordinatesOf(x, y, near), footings, within);
  return waveOfNormals(normals, guess);
}

/** The same, with guesses of the surface's coordinates from anywhere: not numbers where none is known. */
export function waveOfNormals(normals: NormalsOf, guess: (x: number, y: number) => Vec2): NullWave {
  const trace = (x: number, y: number, ray: WaveRay): void => {
    if (!normals.rayThrough(x, y, guess(x, y), ray)) ray.path = ray.px = ray.py = Number.NaN;
  };
  /** The largest of a grid of places, with room for what lies between: the wave is smooth at that scale. */
  const curvatureBound: Eikonal['curvatureBound'] = ({ minX, minY, maxX, maxY }) => {
    let most = 0;
    for (let i = 0; i <= BOUND_GRID; i++) {
      for (let j = 0; j <= BOUND_GRID; j++) {
        const x = minX + ((maxX - minX) * i) / BOUND_GRID;
        const y = minY + ((maxY - minY) * j) / BOUND_GRID;
        most = Math.max(most, normals.curvatureThrough(x, y, guess(x, y)) ?? 0);
      }
    }
    return BETWEEN * most;
  };
  const coordinatesAt = (x: number, y: number): Vec2 | undefined => normals.coordinatesOf(x, y, guess(x, y));
  return { ...tracedEikonal(trace, curvatureBound), coordinatesAt };
}

const BOUND_GRID = 2;
const BETWEEN = 1.5;
