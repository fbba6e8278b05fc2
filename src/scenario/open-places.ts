/**
 * What a scenario leaves to the planner: the places of the file that say `auto`. In the Scenario itself a stand-in takes each
 * one's place (centre [0, 0], a small circle, angle 0), so that all else can be read. Lengths mm.
 */
export interface OpenPlaces {
  readonly patches: readonly OpenPatch[];
  readonly references: readonly OpenReference[];
}

export interface OpenPatch {
  /** In `patches`. */
  readonly index: number;
  readonly centre: boolean;
  readonly lineAngle: boolean;
  /** Undefined where the outline is given. */
  readonly size: SizeRange | undefined;
}

/** Of a patch's largest side or diameter; undefined where the planner may choose. */
export interface SizeRange {
  readonly least: number | undefined;
  readonly most: number | undefined;
}

export interface OpenReference {
  readonly id: string;
  /** `use: auto`: the planner decides whether it is used at all. */
  readonly use: boolean;
  /** `patches: auto`: the planner gives it its patches. */
  readonly patches: boolean;
}
