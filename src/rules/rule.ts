/** A layout rule: looks at a Design and says what breaks. One file a rule, named like it; all-rules.ts lists them. */
import type { Design } from '../design/design.ts';
import type { Finding } from '../finding/finding.ts';
import { trimmed } from '../quantity/format.ts';

export type Rule = (design: Design) => readonly Finding[];

/**
 * Lengths compared by the layout rules are equal within this, mm: a thousandth of a nanometre, more than rounding makes of
 * a patch set exactly at the limit and far less than any drawing shows.
 */
export const LENGTH_TOLERANCE = 1e-9;

/** A length in a message: to the nanometre, trailing zeros dropped. */
export const mm = (length: number): string => `${trimmed(length, 6)} mm`;
