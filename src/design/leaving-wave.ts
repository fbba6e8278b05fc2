/**
 * The wave E_out that a pattern sends out for a reference of each kind, whichever patch it is: toward its point, square on to its
 * datum feature, or straight back. mm.
 */
import type { Vec3 } from '../geometry/vector.ts';
import type { Eikonal } from '../optics/eikonal.ts';
import { ReversedWave } from '../optics/reversed-wave.ts';
import { SphericalWave } from '../optics/spherical-wave.ts';
import type { Reference } from '../scenario/scenario.ts';
import type { Design, DesignedGlass } from './design.ts';
import { squareWave, surfaceOf } from './square-on.ts';

/** Of the glass that light crosses after the pattern; 0 without any. */
export const thicknessAfter = ({ side, thickness }: DesignedGlass): number =>
  side === 'after' ? thickness : 0;

/** E_out = −|P − C|, through the glass after the pattern. */
export function waveToward([x, y, z]: Vec3, glass: DesignedGlass): Eikonal {
  const thickness = thicknessAfter(glass);
  return new SphericalWave([x, y], z - thickness, -1, thickness, glass.index);
}

/** Of a point focus where the reference has one: a line's light leaves for the same place. */
export function leavingWave({ kind, at, datum }: Reference, { beam, glass, scenario }: Design): Eikonal {
  if (kind === 'return') return new ReversedWave(beam.eikonal);
  if (kind !== 'datum') return waveToward(at, glass);
  const feature = scenario.part.datums.find(({ id }) => id === datum);
  if (feature === undefined) throw new Error(`the scenario has no datum ${datum}`);
  return squareWave(surfaceOf(feature, scenario.part), glass);
}
