/** A designed patch for a test, without reading a scenario: one beam, one reference, one patch. */

import type { DesignedGlass, DesignedPatch } from '../../../src/design/design.ts';
import { designPatch } from '../../../src/design/design-patch.ts';
import type { Outline } from '../../../src/geometry/outline.ts';
import type { Vec2, Vec3 } from '../../../src/geometry/vector.ts';
import type { Setup } from '../../../src/kinds/kind.ts';
import type { Eikonal } from '../../../src/optics/eikonal.ts';
import { planeWave } from '../../../src/optics/plane-wave.ts';
import { sphericalWave } from '../../../src/optics/spherical-wave.ts';
import type { BiasWish } from '../../../src/scenario/scenario.ts';

export interface PatchRecipe {
  readonly at: Vec3;
  readonly centre: Vec2;
  readonly outline: Outline;
  readonly kind?: 'ball' | 'smr' | 'screen';
  readonly diameter?: number;
  /** Radians; given for a line focus. */
  readonly lineAngle?: number;
  readonly order?: number;
  readonly bias?: BiasWish;
  readonly wavelength?: number;
  readonly beam?: Eikonal;
  readonly glass?: DesignedGlass;
}

export const AIR: DesignedGlass = { name: 'none', index: 1, thickness: 0, side: 'before' };
export const HENE = 632.8e-6;
export const collimated = (): Eikonal => planeWave([0, 0, 1]);
export const diverging = (distance: number): Eikonal => sphericalWave([0, 0], distance, 1, 0, 1);

/** A beam and a glass, without a part. */
export const setupIn = (eikonal: Eikonal, glass: DesignedGlass): Setup => ({
  beam: { eikonal, focus: undefined },
  glass,
  surfaceOf: (datum) => {
    throw new Error(`no datum ${datum} here`);
  },
});

export function makePatch(recipe: PatchRecipe): DesignedPatch {
  const { at, centre, outline, kind = 'smr', diameter = 38.1, lineAngle, order = 1, bias } = recipe;
  const reference = { id: 'r', diameter, at, given: 'substrate', touches: [] } as const;
  return designPatch(
    {
      id: 'p',
      reference: 'r',
      focus: lineAngle === undefined ? 'point' : 'line',
      centre,
      outline,
      lineAngle,
      order,
      bias,
    },
    kind === 'smr' ? { ...reference, kind, cube: {} } : { ...reference, kind },
    setupIn(recipe.beam ?? diverging(500), recipe.glass ?? AIR),
    recipe.wavelength ?? HENE,
  );
}
