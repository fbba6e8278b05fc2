/**
 * The Design: a scenario with its light worked out. What every rule, figure and file is computed from.
 * Substrate frame, mm, radians, waves; directions are unit vectors.
 */
import type { Vec2, Vec3 } from '../geometry/vector.ts';
import type { DatumSurface } from '../optics/datum-surface.ts';
import type { Eikonal } from '../optics/eikonal.ts';
import type { Patch, Reference, Scenario } from '../scenario/scenario.ts';
import type { Pattern } from './pattern.ts';

export interface Design {
  readonly scenario: Scenario;
  readonly light: DesignedLight;
  readonly glass: DesignedGlass;
  readonly beam: DesignedBeam;
  readonly references: readonly Reference[];
  readonly patches: readonly DesignedPatch[];
}

export interface DesignedLight {
  /** In the air around the part. */
  readonly wavelength: number;
  /** Index of that air where the scenario describes it. */
  readonly airIndex: number | undefined;
}

export interface DesignedGlass {
  /** As a caption: `fused silica`, or `index 1.457`. */
  readonly name: string;
  /** Relative to the air around. 1 where there is no glass. */
  readonly index: number;
  readonly thickness: number;
  /** The glass is at −thickness < z < 0 (before the pattern) or 0 < z < thickness (after it). */
  readonly side: 'before' | 'after';
}

export interface DesignedBeam {
  readonly eikonal: Eikonal;
  /** The lit circle on the pattern; radius undefined where the scenario bounds the beam nowhere. */
  readonly centre: Vec2;
  readonly radius: number | undefined;
  /** Diameter that the camera's pixels span on the pattern: the lit circle's, or the substrate's largest extent. */
  readonly cameraDiameter: number;
}

/** A pattern that serves a reference. */
export interface DesignedPatch extends Pattern {
  /** As the scenario has it. */
  readonly asked: Patch;
  readonly reference: Reference;
  /** Ball centre, cube apex or spot; the datum feature's own point; of a return ring the beam's focus, or its own centre. */
  readonly target: Vec3;
  /** Centre to target; Infinity for a return ring in collimated light. */
  readonly distance: number;
  /** û, centre to target. */
  readonly chiefRay: Vec3;
  /** ℓ̂, square to the chief ray; undefined for a point focus. */
  readonly lineDirection: Vec3 | undefined;
  /**
   * Line focus: [ℓ̂ × û]. Point focus: [ê₁, ê₂, û], by tilt, tilt and power; ê₁ is x made square to û, ê₂ = û × ê₁. Empty for a
   * return ring and for a datum feature, which are not read as a point is.
   */
  readonly senses: readonly Vec3[];
  /** Of a patch whose light meets a datum feature at normal incidence: its surface, and the wave that leaves the pattern for it. */
  readonly normalIncidence?: { readonly surface: DatumSurface; readonly wave: Eikonal };
}
