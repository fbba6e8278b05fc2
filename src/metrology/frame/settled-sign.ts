/**
 * Which of the readings that a patch's picture may be it is: by the direction of phase steps, where that is known; by the fit; and of those
 * that fit alike the one nearest to the design place, the others remembered.
 */
import type { CoarseFit } from './coarse-fit.ts';
import type { FringeFit } from './fringe-fit.ts';
import type { ReturnModel } from './return-model.ts';

export interface Settled {
  readonly fit: FringeFit;
  /** No other reading is left. */
  readonly isSure: boolean;
  /** What is left beside it has all signs the other way, and nothing else does. */
  readonly isMirrored: boolean;
  /** Of the nearest other one that is no mirror image; 0 where it fits as well. Σ residual² in units of the variance. */
  readonly worse: number;
}

/** By this much more squares, in units of the variance, another reading is ruled out: its likelihood is e^−15 of the best one's. */
export const RULED_OUT = 30;
/** Part of half a turn by which frames must step to have a direction. */
const STEPPED = 0.1;
/** Fringes within which readings are one another's mirror images. */
const MIRRORED = 0.05;

/** `direction` of the steps: whether the path gets longer from frame to frame. Undefined where there is nothing to choose from. */
export function settled(
  model: ReturnModel,
  fits: readonly CoarseFit[],
  direction: 1 | -1 | undefined,
): Settled | undefined {
  const right =
    direction === undefined ? fits : fits.filter(({ fit }) => stepsOf(fit) * direction > -STEPPED);
  const from = right.length > 0 ? right : fits;
  const [best] = from;
  if (best === undefined) return undefined;
  const alike = from.filter(({ worse }) => worse - best.worse < RULED_OUT);
  const chosen = alike.reduce((a, b) => (sizeOf(model, b.fit) < sizeOf(model, a.fit) ? b : a));
  const others = from.filter((other) => other !== chosen);
  const mirrors = others.filter(({ fit }) => isMirror(model, fit, chosen.fit));
  const rivals = others.filter((other) => !mirrors.includes(other));
  const worse = Math.max(
    0,
    Math.min(...rivals.map((other) => other.worse - best.worse), Number.POSITIVE_INFINITY),
  );
  const mirrored = Math.min(...mirrors.map((other) => other.worse - best.worse), Number.POSITIVE_INFINITY);
  return {
    fit: chosen.fit,
    isSure: worse >= RULED_OUT && mirrored >= RULED_OUT,
    isMirrored: mirrored < RULED_OUT && worse >= RULED_OUT,
    worse: Math.min(worse, 1e9),
  };
}

const sizeOf = ({ read }: ReturnModel, { amounts }: FringeFit): number =>
  Math.hypot(...amounts.subarray(0, read));

function stepsOf({ pistons }: FringeFit): number {
  let sum = 0;
  for (let f = 1; f < pistons.length; f++) sum += Math.sin(2 * Math.PI * (pistons[f]! - pistons[f - 1]!));
  return pistons.length < 2 ? 0 : sum / (pistons.length - 1);
}

function isMirror({ read }: ReturnModel, a: FringeFit, b: FringeFit): boolean {
  for (let k = 0; k < read; k++) {
    const [p, q] = [a.amounts[k]!, b.amounts[k]!];
    if (Math.abs(p + q) > MIRRORED + 0.05 * Math.abs(p)) return false;
  }
  return true;
}
