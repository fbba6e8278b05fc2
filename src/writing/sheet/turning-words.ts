/**
 * What the fringes of a patch do when its reference moves, and when to stop, in words for the bench. From the traced change of W
 * (fringe-picture-strip.ts): W + q·slope·(x, y) + q·curvature·r²/2 for a move q; a longer way is a larger W.
 */
import type { DesignedPatch } from '../../design/design.ts';
import { dot2, type Vec2 } from '../../geometry/vector.ts';
import type { FringeTurning } from '../../metrology/camera/fringe-picture-strip.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { clockDirection, turnsClockwise } from '../page/clock.ts';
import { places, significant } from '../page/figures.ts';
import { lateralWords } from '../page/move-words.ts';

/** The move that `words` are about: where to, in clock and coordinates. */
export function moveWords({ sense }: FringeTurning, orientation: CameraOrientation): string {
  if (sense.kind === 'power') return `away from the hologram, along ${places(sense.direction)}`;
  return lateralWords(sense.direction, orientation);
}

/** Directions whose sine is below this run along each other. */
export const ALONG = 0.17;
/** Directions whose sine is above this are perpendicular as far as an eye can tell. */
const SQUARE = 0.94;

/** What is seen of that move; the opposite move shows the opposite. */
export function turningWords(
  patch: DesignedPatch,
  {
    sense,
    slope,
    curvature,
  }: Omit<FringeTurning, 'sense'> & { readonly sense: Pick<FringeTurning['sense'], 'kind'> },
  orientation: CameraOrientation,
): string {
  const clock = (direction: Vec2): string => clockDirection(direction, orientation);
  const bias = biasSlope(patch);
  if (sense.kind === 'power') {
    if (bias === undefined) return 'rings appear; only a trial move shows their sign';
    if (patch.bias?.shape === 'roof')
      return `the fringes of both halves bow, with their middles ${curvature > 0 ? 'away from' : 'toward'} the line between the halves`;
    const bulge: Vec2 = curvature > 0 ? bias : [-bias[0], -bias[1]];
    return `the fringes bow, with their middles toward ${clock(bulge)}`;
  }
  if (bias === undefined) {
    return `straight fringes appear, perpendicular to the line from ${clock([-slope[0], -slope[1]])} to ${clock(slope)}; only a trial move shows their sign`;
  }
  const sine = (bias[0] * slope[1] - bias[1] * slope[0]) / (Math.hypot(...bias) * Math.hypot(...slope));
  if (patch.bias?.shape === 'roof') {
    const words: string[] = [];
    if (Math.abs(sine) >= ALONG) {
      // The heads lie on the ridge and point along it, to where W grows: the part of the slope square to the bias.
      const share = dot2(bias, slope) / dot2(bias, bias);
      const head: Vec2 = [slope[0] - share * bias[0], slope[1] - share * bias[1]];
      words.push(`the fringes of the two halves form arrowheads that point to ${clock(head)}`);
    }
    if (Math.abs(sine) <= SQUARE) {
      const closing: Vec2 = dot2(bias, slope) > 0 ? bias : [-bias[0], -bias[1]];
      words.push(`the half toward ${clock(closing)} closes up and the other opens out`);
    }
    return words.join(', and ');
  }
  if (Math.abs(sine) < ALONG) return dot2(bias, slope) > 0 ? 'the fringes close up' : 'the fringes open out';
  const turn = `the fringes turn ${turnsClockwise(bias, slope, orientation) ? 'clockwise' : 'counterclockwise'}`;
  if (Math.abs(sine) > SQUARE) return turn;
  return `${turn} and ${dot2(bias, slope) > 0 ? 'close up' : 'open out'}`;
}

/** When the patch is done: what it shows then, and how near its reference is. */
export function stopWords(
  patch: DesignedPatch,
  readable: number,
  turnings: readonly FringeTurning[],
): string {
  const nearness = turnings
    .filter(({ sense }) => sense.kind === 'tilt')
    .map(({ sense }) => `${significant(sense.resolution * UM_PER_MM)} µm`);
  const within = [...new Set(nearness)].join(' and ');
  const fringe = `${significant(readable)} fringe`;
  const { bias } = patch;
  const seen =
    bias === undefined
      ? `The patch is uniformly grey to ${fringe}`
      : bias.shape === 'roof'
        ? `The fringes run straight through both halves, with no arrowhead larger than ${fringe} across the patch`
        : `${fringeCount(bias.fringes)} the patch as in the picture, to ±${fringe}`;
  return `${seen}: the reference is then within ${within} (standard uncertainty of one reading)`;
}

const fringeCount = (fringes: number): string =>
  fringes === 1 ? 'One straight fringe crosses' : `${significant(fringes)} straight fringes cross`;

/** The slope of a tilt that the bias shows, or a roof's at its rising side; waves/mm. */
export function biasSlope({ bias, order }: DesignedPatch): Vec2 | undefined {
  if (bias === undefined || bias.amplitude === 0) return undefined;
  const perMm = (2 * order * bias.amplitude) / bias.reach;
  return [perMm * bias.direction[0], perMm * bias.direction[1]];
}
