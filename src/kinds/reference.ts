/**
 * What a scenario says of a reference, whatever its kind: where it stands, and the figures that only some kinds have. Substrate
 * frame, mm, radians.
 */
import type { Vec3 } from '../geometry/vector.ts';

interface Common {
  readonly id: string;
  /**
   * Centre of curvature, apex or spot: where it stands by design. Of a datum feature its own point, apex or centre; of the
   * interferometer, to which a return ring sends its light, the substrate frame's origin: the hologram moves, not it.
   */
  readonly at: Vec3;
  /** How its place was given: `feature` by the part's datum, `hologram` for a return ring. */
  readonly given: 'substrate' | 'part' | 'touches' | 'feature' | 'hologram';
  /**
   * What it moves with: the part, or a mount of its own on the bench. Undefined where its place is given in the substrate frame without a
   * word on this: it is then counted with the part.
   */
  readonly movesWith?: 'part' | 'mount';
  /** Of the ball or of the SMR's sphere. */
  readonly diameter: number | undefined;
}

/** How well a sphere is made and sits; undefined: common practice. */
export interface Fit {
  /** Largest departure of the sphere's surface from a sphere. */
  readonly form?: number;
  /** The radius is right to ± this. */
  readonly radiusTolerance?: number;
  /** How far from its place a mounted reference may come to sit, along each axis. */
  readonly nest?: number;
}

/** The corner cube of a retroreflector, as far as the scenario describes it. */
export interface CubeFigures {
  /** The direction that it faces, a unit vector. Undefined: the mean of its patches. */
  readonly axis?: Vec3;
  /** Turn about its axis; at 0 the first edge, seen along the axis, lies along +x made square to it. Undefined: the best. */
  readonly roll?: number;
  /** Largest angle between its axis and the light. Undefined: common practice, as for `centring`. */
  readonly acceptance?: number;
  /** Largest offset of its apex from the sphere's centre, along each axis. */
  readonly centring?: number;
}

interface OfSomeKinds extends Fit {
  readonly cube: CubeFigures;
  /** The id of the part's datum feature that light meets at normal incidence. */
  readonly datum: string;
}

/** A reference of the kind `Name`, with what that kind has of its own and without what it has not. */
export type ReferenceOf<Name extends string, Own extends object> = Common & {
  readonly kind: Name;
} & Own & { readonly [Key in Exclude<keyof OfSomeKinds, keyof Own>]?: undefined };

/** Of any kind: what can be asked without knowing which. */
export type AnyReference = Common & { readonly kind: string } & {
  readonly [Key in keyof OfSomeKinds]?: OfSomeKinds[Key] | undefined;
};

/** Whether it goes where the part goes: its readings tell of the part. */
export const movesWithPart = ({ movesWith }: Pick<AnyReference, 'movesWith'>): boolean =>
  movesWith !== 'mount';
