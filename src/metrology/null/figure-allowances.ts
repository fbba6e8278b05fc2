/**
 * How well each degree of the part must be set for `test.figure` to be kept: standard uncertainties u, mm and rad, of independent errors,
 * with E[rms²] = Σ u² M_kk = figure², M the Gram matrix of what motions leave (motion-maps.ts). Of the figure's square each degree gets what
 * the design needs for it, and an equal part of what is over: what is easily kept gives to what is not. Where the needs are more than the
 * figure allows, the largest come down to a common level, as in estimate/wish-advice.ts; without readings all degrees share alike. Common
 * practice of tolerance budgets. A need is no less than what leaves a tenth of the figure, rms: nobody works for less.
 *
 * Nobody needs to set a degree worse than the eye does: that is the most that one is allowed, and the most that what leaves little is.
 * The errors of n degrees that go together (tilt with decentre of a conic) leave at most √n of the figure, by Cauchy and Schwarz, or make up
 * for each other; what the design's own do together is tr(C M), and figure-error.ts has it.
 */
import type { Design } from '../../design/design.ts';
import type { Degree } from '../../scenario/scenario.ts';
import { combinedSigmaOf } from '../estimate/pose.ts';
import { poseOf } from '../estimate/pose-estimate.ts';
import { SETTING } from '../estimate/unobserved.ts';
import { levelFor } from '../estimate/wish-advice.ts';
import { motionMaps } from './motion-maps.ts';

interface Allowance {
  readonly degree: Degree;
  /** Standard uncertainty, mm or rad. */
  readonly allowed: number;
  /** Whether setting by eye keeps it. */
  readonly byEye: boolean;
  /** By the whole budget of this design; null where not observed. */
  readonly reached: number | null;
}

/** In the order of DEGREES; undefined where the scenario asks for no figure. */
export function figureAllowances(design: Design): readonly Allowance[] | undefined {
  const figure = design.scenario.test?.figure;
  const maps = figure === undefined ? undefined : motionMaps(design)?.maps;
  if (figure === undefined || maps === undefined) return undefined;
  const pose = poseOf(design);
  const least = (SLIGHT * figure) ** 2;
  const rows = maps.map(({ degree, left }, k) => {
    const eye = SETTING / (k < 3 ? 1 : pose.size);
    const reached = combinedSigmaOf(pose, k);
    const most = (eye * left) ** 2;
    return {
      degree,
      left,
      eye,
      reached,
      most,
      need: Math.min(most, Math.max(least, ((reached ?? eye) * left) ** 2)),
    };
  });
  const needed = rows.reduce((sum, { need }) => sum + need, 0);
  const spare = figure * figure - needed;
  const shares =
    spare < 0
      ? leveled(
          rows.map(({ need }) => need),
          figure * figure,
        )
      : leveled(
          rows.map(({ most, need }) => most - need),
          spare,
        ).map((more, k) => rows[k]!.need + more);
  return rows.map(({ degree, left, eye, reached, most }, k) => {
    const byEye = shares[k]! >= most * (1 - ROUNDING);
    return { degree, allowed: byEye ? eye : Math.sqrt(shares[k]!) / left, byEye, reached };
  });
}

/** Of the figure, rms: a hundredth of its square. */
const SLIGHT = 0.1;
/** A share of the most up to this is the most. */
const ROUNDING = 1e-9;

/** Each by no more than a common level, so that they sum to what is allowed; as they are where they sum to less. */
function leveled(squares: readonly number[], allowed: number): readonly number[] {
  if (squares.reduce((sum, square) => sum + square, 0) <= allowed) return squares;
  const level = levelFor(
    squares.toSorted((a, b) => b - a),
    allowed,
  );
  return squares.map((square) => Math.min(square, level));
}
