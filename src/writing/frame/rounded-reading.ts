/** What a frame says of a patch, to the digits that are written down: in a readings file and in the rows of the bench page. */
import type { PatchReading } from '../../metrology/frame/frame-reading.ts';
import { toBenchReading } from '../../metrology/frame/to-bench-reading.ts';

/** A ten-thousandth of a fringe is below what any frame tells. */
const DECIMALS = 5;
const LEAST = 1e-5;
/** Of an uncertainty. */
const DIGITS = 2;

/** Undefined where nothing was read. */
export function roundedReading(reading: PatchReading): ReturnType<typeof toBenchReading> {
  const taken = toBenchReading(reading);
  if (taken === undefined) return undefined;
  const { or, uncertainty } = taken;
  const rounded = (value: number | undefined): number | undefined =>
    value === undefined ? undefined : roundedFringes(value);
  return {
    ...taken,
    fringes: taken.fringes.map(rounded),
    ...(or === undefined ? {} : { or: or.map(rounded) }),
    uncertainty: uncertainty === undefined ? undefined : roundedUncertainty(uncertainty),
  };
}

export const roundedFringes = (value: number): number => Number(value.toFixed(DECIMALS)) + 0;
export const roundedUncertainty = (value: number): number =>
  Number(Math.max(value, LEAST).toPrecision(DIGITS));
