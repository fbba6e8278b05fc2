/**
 * Which of the readings that a patch's picture may be it is: by the direction of phase steps, where that is known; by the fit; and of those
 * that fit alike the one nearest to the design place.
 *
 * One frame shows W as it shows −W. Of a roof no tilt makes the one of the other. Without a bias −W is the reading with all signs the other way. With
 * a tilt bias B it is the tilt −n − 2B, larger than n as long as n is less than the bias: whoever knows that it is, knows the sign.
 */
import type { CoarseFit } from './coarse-fit.ts';
import type { FringeFit } from './fringe-fit.ts';
import type { ReturnModel } from './return-model.ts';

/** What else the picture may be. */
type Left =
  | 'nothing'
  /** The reading with all signs the other way. */
  | 'mirrored'
  /** −W, by a reading that is not just of the other sign. */
  | 'other way'
  | 'another';

export interface Settled {
  /** Amounts of the reading that is meant, or near to them. */
  readonly amounts: readonly number[];
  readonly left: Left;
  /** The amounts that show −W as nearly as any do. */
  readonly otherWay: readonly number[];
  /** Σ residual² in units of the variance by which the nearest reading is worse that does not show −W. */
  readonly worse: number;
  /** Standard uncertainty of what is read by the chance that it is that one, fringes. */
  readonly doubt: readonly number[];
}

/** By this much more squares, in units of the variance, another reading is ruled out: its likelihood is e^−15 of the best one's. */
export const RULED_OUT = 30;
/** Part of a quarter's step by which frames must step to have a direction. */
const STEPPED = 0.1;
/** Fringes, and part of a reading, within which it is the one that is meant. */
const NEAR = 0.1;
const NEAR_PART = 0.1;

interface SignGiven {
  /** Whether the path gets longer from frame to frame, 1, or shorter. */
  readonly direction?: 1 | -1;
  /** Tilts are less than the bias. */
  readonly belowBias?: boolean;
}

/** Undefined where there is nothing to choose from. */
export function settled(
  model: ReturnModel,
  fits: readonly CoarseFit[],
  { direction, belowBias = false }: SignGiven,
): Settled | undefined {
  const right = direction === undefined ? [] : fits.filter(({ fit }) => stepsOf(fit) * direction > STEPPED);
  const isStepped = right.length > 0;
  const from = isStepped ? right : fits;
  const [best] = from;
  if (best === undefined) return undefined;
  const worseBy = ({ worse }: CoarseFit): number => worse - best.worse;
  const showOpposite = (a: CoarseFit, b: CoarseFit): boolean =>
    a.open.every(
      (open, k) =>
        Math.abs(a.fit.amounts[k]! - b.otherWay[k]!) <=
        Math.max(open, b.open[k]!) + NEAR + NEAR_PART * sizeOf(model, a.fit.amounts),
    );
  // Of the best and what shows its −W as well, the one nearer to the design place.
  const opposite =
    best.otherWayWorse < RULED_OUT
      ? from.find((other) => other !== best && showOpposite(other, best))
      : undefined;
  const isNearer =
    opposite !== undefined && sizeOf(model, opposite.fit.amounts) < sizeOf(model, best.fit.amounts);
  const chosen = isNearer ? opposite : best;
  const rival = from.find((other) => other !== chosen && other !== best && !showOpposite(other, chosen));
  const worse = rival === undefined ? Number.POSITIVE_INFINITY : worseBy(rival);
  const weight = 1 / (1 + Math.exp(Math.min(700, worse / 2)));
  const doubt = Array.from({ length: model.read }, (_, k) =>
    rival === undefined ? 0 : Math.sqrt(weight) * Math.abs(rival.fit.amounts[k]! - chosen.fit.amounts[k]!),
  );
  // A fit that was not led to the nearer one of the two shows where that is; steps tell which it is.
  const [amounts, otherWay] = [chosen.fit.amounts, chosen.otherWay].map((each) => Array.from(each)) as [
    number[],
    number[],
  ];
  const isOther =
    !isStepped &&
    chosen.otherWayWorse < RULED_OUT &&
    sizeOf(model, otherWay) < (1 - NEAR_PART) * sizeOf(model, amounts);
  return {
    ...{ worse, doubt, left: leftOf(chosen) },
    ...(isOther ? { amounts: otherWay, otherWay: amounts } : { amounts, otherWay }),
  };

  function leftOf({ fit, otherWay, otherWayWorse }: CoarseFit): Left {
    if (worse < RULED_OUT) return 'another';
    if (otherWayWorse >= RULED_OUT || isStepped) return 'nothing';
    const within = NEAR_PART * sizeOf(model, fit.amounts) + NEAR_PART * NEAR;
    if (fit.amounts.subarray(0, model.read).every((amount, k) => Math.abs(amount + otherWay[k]!) <= within))
      return 'mirrored';
    return belowBias ? 'nothing' : 'other way';
  }
}

const sizeOf = ({ read }: ReturnModel, amounts: ArrayLike<number>): number =>
  Math.hypot(...Array.from(amounts).slice(0, read));

/** The mean sine of the steps between frames. */
function stepsOf({ pistons }: FringeFit): number {
  let sum = 0;
  for (let f = 1; f < pistons.length; f++) sum += Math.sin(2 * Math.PI * (pistons[f]! - pistons[f - 1]!));
  return pistons.length < 2 ? 0 : sum / (pistons.length - 1);
}
