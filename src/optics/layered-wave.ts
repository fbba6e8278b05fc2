/**
 * The eikonal in the pattern plane of a wave that is known in the air behind a plane slab: a ray leaves P with the lateral optical
 * cosines p that the slab keeps, and comes out at Q = P + p·t/√(n² − p²), where p must be those of the wave,
 *   E_out(P) = E_air(Q) − n²t/√(n² − p²)     ∂E_out/∂P = p.
 * Q is found by repeating that, which gains a factor of the wave's curvature times t/n a step. Without a slab Q = P. Lengths mm.
 *
 * Where the light runs toward an axis behind the slab, no ray of it starts at a P nearer to the axis than the slab moves rays: it
 * would have crossed the axis inside the glass. E_out and its gradient are NaN there.
 * Source: Snell's law at faces square to z, Born & Wolf, Principles of Optics, §3.2.2.
 */
import type { AirWave } from './air-wave.ts';
import { type Eikonal, tracedEikonal, type WaveRay } from './eikonal.ts';
import { slabCrossing } from './ray.ts';

/** mm: less than the rounding of a place on a substrate. */
const SETTLED = 1e-14;
/** A focus as near to the glass as the glass is thick takes some forty. */
const MOST_STEPS = 200;
/** mm: a Q that still moves by more than this after the last step settles nowhere. One that moves less is slow, its path right to this squared. */
const LOST = 1e-6;

/** Tried as multiples of half the rectangle's diagonal, least first. */
const REACHES = [1.05, 1.2, 1.5, 2, 4];

/** Thickness `t` 0 means no slab; `n` is the index of the slab against the air around it. */
export function layeredWave(air: AirWave, t: number, n: number): Eikonal {
  const middle: WaveRay = { path: 0, px: 0, py: 0 };
  /** Into `found`, of which `path` is E_out. */
  const trace = (x: number, y: number, found: WaveRay): void => {
    let [qx, qy] = [x, y];
    for (let step = 0; ; step++) {
      air.at(qx, qy, t, found);
      if (t === 0) return;
      const slab = slabCrossing(found.px * found.px + found.py * found.py, t, n);
      const [nextX, nextY] = [x + found.px * slab.runPerCosine, y + found.py * slab.runPerCosine];
      const change = Math.abs(nextX - qx) + Math.abs(nextY - qy);
      const isSettled = change <= SETTLED * (1 + Math.abs(x) + Math.abs(y));
      if (isSettled || step === MOST_STEPS) {
        if (isSettled || change <= LOST) found.path -= slab.path;
        else found.path = found.px = found.py = Number.NaN;
        return;
      }
      qx = nextX;
      qy = nextY;
    }
  };

  /**
   * That in air around the place where the middle's ray leaves the slab, as far as any ray of the rectangle leaves it, over what the
   * slab adds: dQ/dP = (1 − T·H)⁻¹ with H the lateral Hessian in air and T at most t·n²/(n² − p²)^(3/2). A reach is far enough if
   * (1 − T·|H|) times it covers the rectangle. Of a converging wave H is nowhere positive, so that dQ/dP is at most 1.
   */
  const curvatureBound: Eikonal['curvatureBound'] = ({ minX, maxX, minY, maxY }) => {
    const half = Math.hypot(maxX - minX, maxY - minY) / 2;
    const [x, y] = [(minX + maxX) / 2, (minY + maxY) / 2];
    if (t === 0) return air.curvatureBound([x, y, 0], half);
    trace(x, y, middle);
    const { px, py } = middle;
    if (Number.isNaN(px)) return Number.POSITIVE_INFINITY;
    const { runPerCosine } = slabCrossing(px * px + py * py, t, n);
    const exit = [x + px * runPerCosine, y + py * runPerCosine, t] as const;
    if (air.converges) return air.curvatureBound(exit, half);
    for (const wider of REACHES) {
      const inAir = air.curvatureBound(exit, wider * half);
      const cosine = Math.min(1, Math.hypot(px, py) + inAir * wider * half);
      const axial = n * n - cosine * cosine;
      const kept = 1 - ((t * n * n) / (axial * Math.sqrt(axial))) * inAir;
      if (kept * wider >= 1) return inAir / kept;
    }
    return Number.POSITIVE_INFINITY;
  };
  return tracedEikonal(trace, curvatureBound);
}
