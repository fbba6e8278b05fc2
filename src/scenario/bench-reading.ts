/**
 * What the bench reports of one patch, or of one length measured otherwise, beyond what the design place shows.
 *
 * Sign: positive fringes mean that the reference stands displaced along + the patch's sensed direction (`senses` of the
 * report), whatever the bias adds at the design place. Fringes of tilt are counted from edge to edge, power from the middle
 * to the edge.
 *
 * Of a ring (`focus: return` or `normal`) they are tilt from edge to edge along the substrate's x and along its y, then power from the inner
 * edge to the outer; positive, as along a sense, where the path of the return gets shorter from the − edge to the + edge, or outward.
 *
 * The null of the surface under test has no sensed direction. Its sign is that of the path, as a patch's is: positive where the path of
 * the return falls from the − edge to the + edge of the footprint along the substrate's axis, or from the middle to the edge. A place of the
 * surface that stands high, toward the hologram, has the shorter path: a Zernike term in waves is positive as it is for the surface.
 */
import { type FigureTerm, MAIN } from './scenario.ts';

export type BenchReading =
  | {
      readonly kind: 'fringes';
      readonly patch: string;
      /** The hour on the clock, in the camera's picture, toward which the path falls by `fringes[0]`, all that is given of tilt. */
      readonly toward?: number;
      /** `total`: what the aligned patch shows is in the count, and has to be subtracted. */
      readonly counted?: 'total';
      /** One a sensed direction, in the order of the patch's `senses`, or three of a ring; undefined for one that was not read. */
      readonly fringes: readonly (number | undefined)[];
      /** False: only the size was seen; all of this entry's signs may be the other way, together, or they are those of `or`. */
      readonly signKnown: boolean;
      /** Beside a tilt bias: what the patch may show as well, all of it in place of `fringes`, as many; of no sign other than it has. */
      readonly or?: readonly (number | undefined)[];
      /** Standard uncertainty in fringes; undefined: the scenario's `readable`. */
      readonly uncertainty: number | undefined;
    }
  | {
      readonly kind: 'null';
      /** The hour toward which the path falls by the tilt's part 0, all that is given of tilt. */
      readonly toward?: number;
      readonly values: readonly NullValue[];
      /** `fringes` as they are counted, or coefficients in `waves` of the return by Zernike term, ISO 24157. */
      readonly unit: 'fringes' | 'waves';
      readonly signKnown: boolean;
      /** Standard uncertainty of each value in that unit; undefined: the scenario's `readable`, or common practice for a term in waves. */
      readonly uncertainty: number | undefined;
    }
  | {
      readonly kind: 'length';
      readonly measurement: string;
      /** Found less nominal, along the measurement's direction, mm. */
      readonly deviation: number;
    };

/** One term of the null. */
export interface NullValue {
  readonly term: FigureTerm;
  /** Of the two that a term may have: along x and y, of an astigmatism at 0° and 45°; 0 for a round one. */
  readonly part: 0 | 1;
  readonly value: number;
}

/** The patch or the measurement that it is of. */
export function subjectOf(reading: BenchReading): string {
  if (reading.kind === 'null') return MAIN;
  return reading.kind === 'fringes' ? reading.patch : reading.measurement;
}
