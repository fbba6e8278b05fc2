/**
 * What a part that stands where a round of readings put it leaves in the measured figure, once the evaluation has removed its terms: from the
 * place itself, a known motion against the null, and from the place's uncertainty (null/figure-error.ts). mm rms of surface height.
 */
import type { Design } from '../../design/design.ts';
import { type FigureError, figureErrorFrom } from '../null/figure-error.ts';
import { leftBy, motionMaps } from '../null/motion-maps.ts';
import { secondOrderOf } from '../null/second-order.ts';
import type { Round } from './place-change.ts';

interface FigureLeft {
  /** First order in the displacement found, and what the second order adds while the part is not set to its own null. */
  readonly place: number;
  readonly placeSecondOrder: number;
  /** From the covariance: `expected` and `secondOrder` are null where most of it is unobserved. */
  readonly uncertainty: Pick<FigureError, 'expected' | 'secondOrder' | 'byEye'>;
  /** √E[rms²] of both in both orders; null as `expected`. The orders of the place may agree in form, and are added. */
  readonly together: number | null;
}

/** One known motion, where secondOrderOf takes its unit variance: E|H₂|² is three times |H₂|². */
const OF_ONE_MOTION = Math.sqrt(3);

/** Undefined where the scenario names no surface under test. */
export function figureLeft(
  design: Design,
  { part: { pose }, place: { six } }: Round,
): FigureLeft | undefined {
  const maps = motionMaps(design);
  const uncertainty = figureErrorFrom(design, pose);
  if (maps === undefined || uncertainty === undefined) return undefined;
  const place = Math.hypot(...leftBy(maps, six));
  const placeSecondOrder = secondOrderOf(design, [six]) / OF_ONE_MOTION;
  const { expected, secondOrder, byEye } = uncertainty;
  const together =
    expected === null || secondOrder === null
      ? null
      : Math.hypot(place + placeSecondOrder, expected, secondOrder);
  return { place, placeSecondOrder, uncertainty: { expected, secondOrder, byEye }, together };
}
