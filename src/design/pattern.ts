/**
 * A pattern on the glass: an area with a phase, whatever it serves. What is written, fitted, tabled, traced and drawn is a
 * pattern; a patch is one with a reference (design.ts). Substrate frame, mm, waves at order 1.
 */
import type { Outline } from '../geometry/outline.ts';
import type { Vec2 } from '../geometry/vector.ts';
import type { Bias } from '../optics/bias.ts';
import type { PatternPhase } from './pattern-phase.ts';

export interface Pattern {
  readonly id: string;
  /** Where Φ is 0 before the bias, unless no light leaves there (`phase.zeroAt`); coefficients count from it. */
  readonly centre: Vec2;
  readonly outline: Outline;
  /** Working order: a whole number, not 0. */
  readonly order: number;
  /** Part of `phase`; undefined without one. */
  readonly bias: Bias | undefined;
  readonly phase: PatternPhase;
  /** Outline and phase are the same all round the centre; undefined where that is not known. */
  readonly isRound?: boolean;
}
