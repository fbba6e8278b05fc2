/**
 * The phase Φ of one patch in waves at order 1: E_out = E_in + m λ Φ, Φ = 0 at the patch's centre before the bias.
 */
export declare class PatchPhase {
  /** Φ at each point, waves. */
  phases(xs: Float64Array, ys: Float64Array, out?: Float64Array): Float64Array;
  /** ∇Φ at each point, waves/mm. On a roof's ridge: that of the side where w > 0. */
  gradients(xs: Float64Array, ys: Float64Array): { gx: Float64Array; gy: Float64Array };
  phase(x: number, y: number): number;
  gradient(x: number, y: number): readonly [number, number];
  /** Local period 1/|∇Φ|, mm; Infinity where the phase is stationary. */
  period(x: number, y: number): number;
}
