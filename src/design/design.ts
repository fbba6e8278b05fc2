/**
 * The Design: a scenario with its light worked out. What every rule, figure and file is computed from.
 * Substrate frame, mm, radians, waves; directions are unit vectors.
 */
import type { Path } from '../finding/finding.ts';
import type { Vec2 } from '../geometry/vector.ts';
import type { Aim } from '../kinds/kind.ts';
import type { DatumSurface } from '../optics/datum-surface.ts';
import type { Eikonal } from '../optics/eikonal.ts';
import type { Patch, Reference, Scenario } from '../scenario/scenario.ts';
import type { MainPattern } from './main-pattern.ts';
import type { Pattern } from './pattern.ts';

export interface Design {
  readonly scenario: Scenario;
  readonly light: DesignedLight;
  readonly glass: DesignedGlass;
  readonly beam: DesignedBeam;
  readonly references: readonly Reference[];
  readonly patches: readonly DesignedPatch[];
  /** The null of the surface under test; undefined where the scenario names none. */
  readonly main?: MainPattern;
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

/** A pattern of the layout; a patch has a `reference`, the main one a `test`. */
export type DesignedPattern = MainPattern | DesignedPatch;

/** A pattern with the words for it and its place in the scenario, for findings. */
interface PlacedPattern {
  readonly pattern: DesignedPattern;
  /** As drawings and tables number it: patches from 1, the main pattern M. */
  readonly number: string;
  /** Such as `patch north-1`. */
  readonly name: string;
  readonly path: Path;
}

/** Every pattern that the layout puts on the glass: the main one, then the patches in the scenario's order. */
export const patternsOf = ({ main, patches }: Pick<Design, 'main' | 'patches'>): readonly PlacedPattern[] => [
  ...(main === undefined
    ? []
    : [{ pattern: main, number: 'M', name: 'the main pattern', path: ['test', 'surface'] }]),
  ...patches.map((pattern, k) => ({
    pattern,
    number: String(k + 1),
    name: `patch ${pattern.id}`,
    path: ['patches', k, 'id'],
  })),
];

/** A pattern that serves a reference. */
export interface DesignedPatch extends Pattern, Omit<Aim, 'passages' | 'leaving' | 'surface'> {
  /** As the scenario has it. */
  readonly asked: Patch;
  readonly reference: Reference;
  /** Where a ray along the line comes back on itself, which is where a roof has its ridge: the centre, but for glass after the pattern. */
  readonly fold: Vec2;
  /** Of a patch whose light meets a datum feature at normal incidence: its surface, and the wave that leaves the pattern for it. */
  readonly normalIncidence?: { readonly surface: DatumSurface; readonly wave: Eikonal };
}
