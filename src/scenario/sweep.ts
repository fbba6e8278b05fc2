/**
 * A sweep: which values a batch gives to the scenario's parameters. Values stay as they are written (`480 mm`, `rim / 2`),
 * since each case reads its scenario anew with them; ranges and laws of draws are worked out already.
 */

/** A parameter's value as a scenario writes it. */
export type SweptValue = string | number;

/** The cases are every combination of one of `values` each, one of `cases` and one of `draws`; what is absent counts as one. */
export interface Sweep {
  readonly values: readonly SweptList[];
  readonly cases: SweptCases | undefined;
  readonly draws: Draws | undefined;
}

export interface SweptList {
  readonly parameter: string;
  readonly values: readonly SweptValue[];
}

/** Cases listed in the scenario, or in a CSV file named beside it. */
export type SweptCases = { readonly file: string } | { readonly list: readonly SweptCase[] };

export interface SweptCase {
  /** The word `case`: names the case's package. Undefined: it is numbered. */
  readonly name: string | undefined;
  readonly values: readonly (readonly [parameter: string, value: SweptValue])[];
}

export interface Draws {
  readonly count: number;
  /** The same seed gives the same draws on every machine; more draws leave the first ones as they are. */
  readonly seed: string;
  readonly laws: readonly DrawnParameter[];
}

/** Numbers in `unit`, which is written after each value drawn; empty for a bare number. */
export interface DrawnParameter {
  readonly parameter: string;
  readonly unit: string;
  readonly law:
    | { readonly kind: 'uniform'; readonly from: number; readonly to: number }
    | { readonly kind: 'normal'; readonly mean: number; readonly deviation: number };
}

/** Cases of one sweep: more than a night's work for one machine, and an index that memory holds with ease. */
export const MOST_CASES = 100_000;
