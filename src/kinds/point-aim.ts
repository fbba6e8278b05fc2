/**
 * Light that goes to a place: through a point, or through a line across it. mm.
 *
 * û = (A − P₀)/|A − P₀| from the patch's centre P₀ to its target A; ℓ̂ is the direction `lineAngle` of the pattern plane
 * made square to û; a line focus senses ê = ℓ̂ × û, a point focus the two directions square to û (tilt) and û (power).
 */
import { cross, distance, scale, squareTo, subtract, unit, type Vec3 } from '../geometry/vector.ts';
import { cylindricalWave } from '../optics/cylindrical-wave.ts';
import type { Eikonal } from '../optics/eikonal.ts';
import { sphericalWave } from '../optics/spherical-wave.ts';
import type { Aim, AimedPatch, Setup } from './kind.ts';

/** Of the glass that light crosses after the pattern; 0 without any. */
export const thicknessAfter = ({ side, thickness }: Setup['glass']): number =>
  side === 'after' ? thickness : 0;

/** E_out = −|P − C|, through the glass after the pattern. */
export function waveToward([x, y, z]: Vec3, glass: Setup['glass']): Eikonal {
  const thickness = thicknessAfter(glass);
  return sphericalWave([x, y], z - thickness, -1, thickness, glass.index);
}

interface Placed {
  readonly at: Vec3;
}

/** How kinds of references that stand at a place are aimed at. */
export const aimedAtPlace = {
  aim({ at }: Placed, { centre, lineAngle }: AimedPatch, { glass }: Setup): Aim {
    const from: Vec3 = [centre[0], centre[1], 0];
    const chiefRay = unit(subtract(at, from));
    const lineDirection = lineAngle === undefined ? undefined : lineSquareTo(lineAngle, chiefRay);
    return {
      target: at,
      distance: distance(from, at),
      chiefRay,
      lineDirection,
      senses: lineDirection === undefined ? sensesOfPoint(chiefRay) : [unit(cross(lineDirection, chiefRay))],
      passages: 2,
      leaving:
        lineDirection === undefined
          ? waveToward(at, glass)
          : cylindricalWave(at, lineDirection, thicknessAfter(glass), glass.index),
    };
  },
  leaving: ({ at }: Placed, { glass }: Setup): Eikonal => waveToward(at, glass),
};

/** û of light that need not go to its target; along z where the patch stands there. */
export function chiefRayTo(target: Vec3, from: Vec3): Vec3 {
  const away = distance(target, from);
  return away > 0 ? scale(subtract(target, from), 1 / away) : [0, 0, 1];
}

const lineSquareTo = (angle: number, chiefRay: Vec3): Vec3 =>
  unit(squareTo([Math.cos(angle), Math.sin(angle), 0], chiefRay));

function sensesOfPoint(chiefRay: Vec3): readonly Vec3[] {
  const first = unit(squareTo([1, 0, 0], chiefRay));
  return [first, cross(chiefRay, first), chiefRay];
}
