/** Invented patches for the tests of the written pattern, designed as a scenario's are. */
import type { DesignedPatch } from '../../src/design/design.ts';
import { designPatch } from '../../src/design/design-patch.ts';
import type { Bounds } from '../../src/geometry/extent.ts';
import type { Outline } from '../../src/geometry/outline.ts';
import type { Vec2, Vec3 } from '../../src/geometry/vector.ts';
import type { Eikonal } from '../../src/optics/eikonal.ts';
import { planeWave } from '../../src/optics/plane-wave.ts';
import { sphericalWave } from '../../src/optics/spherical-wave.ts';
import type { SmoothPhase } from '../../src/pattern/smooth-phase.ts';
import type { BiasWish } from '../../src/scenario/scenario.ts';
import { setupIn } from '../design/support/make-patch.ts';

export const WAVELENGTH = 632.8e-6;
export const GLASS = { name: 'fused silica', index: 1.457, thickness: 6.35 };

export interface PatchGiven {
  readonly id?: string;
  readonly outline: Outline;
  readonly centre: Vec2;
  readonly target: Vec3;
  /** Undefined: a point focus. */
  readonly lineAngle?: number;
  readonly order?: number;
  readonly bias?: BiasWish;
  /** z of the beam's centre; 'collimated' for a plane wave along +z. */
  readonly beam?: number | 'collimated';
  readonly glass?: 'before' | 'after' | 'none';
}

export function samplePatch(given: PatchGiven): DesignedPatch {
  const {
    outline,
    centre,
    target,
    lineAngle,
    order = 1,
    bias,
    beam = -500,
    glass = 'before',
    id = 'sample',
  } = given;
  const thickness = glass === 'none' ? 0 : GLASS.thickness;
  const before = glass === 'before' ? thickness : 0;
  const eikonal: Eikonal =
    beam === 'collimated'
      ? planeWave([0, 0, 1])
      : sphericalWave([0, 0], -beam - before, 1, before, GLASS.index);
  return designPatch(
    {
      id,
      reference: 'r',
      focus: lineAngle === undefined ? 'point' : 'line',
      centre,
      outline,
      lineAngle,
      order,
      bias,
    },
    { id: 'r', kind: 'smr', diameter: 38.1, at: target, given: 'substrate', touches: [], cube: {} },
    setupIn(eikonal, { ...GLASS, thickness, side: glass === 'after' ? 'after' : 'before' }),
    WAVELENGTH,
  );
}

export const rectangle = (centre: Vec2, width: number, height = width, rotation = 0): Outline => ({
  shape: 'rectangle',
  centre,
  width,
  height,
  rotation,
});

/** Φ = Σ c·u^i·v^j about a point, as an invented phase with its exact bound: quadratic only. */
export class QuadraticPhase implements SmoothPhase {
  readonly #at: Vec2;
  readonly #c: { xx: number; xy: number; yy: number; x: number; y: number; constant: number };

  constructor(
    at: Vec2,
    c: { xx: number; xy: number; yy: number; x?: number; y?: number; constant?: number },
  ) {
    this.#at = at;
    this.#c = { x: 0, y: 0, constant: 0, ...c };
  }

  evaluate(
    xs: Float64Array,
    ys: Float64Array,
    phase: Float64Array,
    gx: Float64Array,
    gy: Float64Array,
    count: number,
  ): void {
    const { xx, xy, yy, x, y, constant } = this.#c;
    for (let i = 0; i < count; i++) {
      const [u, v] = [xs[i]! - this.#at[0], ys[i]! - this.#at[1]];
      phase[i] = xx * u * u + xy * u * v + yy * v * v + x * u + y * v + constant;
      gx[i] = 2 * xx * u + xy * v + x;
      gy[i] = xy * u + 2 * yy * v + y;
    }
  }

  curvatureBound(_within: Bounds): number {
    const { xx, xy, yy } = this.#c;
    return Math.abs(xx + yy) + Math.hypot(xx - yy, xy);
  }
}
