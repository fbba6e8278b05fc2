/**
 * One patch worked out: where its light goes, what it senses, and its phase.
 *
 * û = (A − P₀)/|A − P₀| from the patch's centre P₀ to its target A; ℓ̂ is the direction `lineAngle` of the pattern plane
 * made square to û; a line focus senses ê = ℓ̂ × û, a point focus the two directions square to û (tilt) and û (power).
 */
import { type Extent, extentAlong } from '../geometry/extent.ts';
import { cross, distance, squareTo, subtract, unit, type Vec2, type Vec3 } from '../geometry/vector.ts';
import type { Bias } from '../optics/bias.ts';
import { CylindricalWave } from '../optics/cylindrical-wave.ts';
import type { Patch, Reference } from '../scenario/scenario.ts';
import type { DesignedBeam, DesignedGlass, DesignedPatch } from './design.ts';
import { thicknessAfter, waveToward } from './leaving-wave.ts';
import { PatternPhase } from './pattern-phase.ts';

export function designPatch(
  patch: Patch,
  reference: Reference,
  beam: DesignedBeam,
  glass: DesignedGlass,
  wavelength: number,
): DesignedPatch {
  if (patch.focus !== 'point' && patch.focus !== 'line')
    throw new RangeError(`a ${patch.focus} focus is not one that this function designs`);
  const target = reference.at;
  const from: Vec3 = [patch.centre[0], patch.centre[1], 0];
  const chiefRay = unit(subtract(target, from));
  const lineDirection = patch.lineAngle === undefined ? undefined : lineSquareTo(patch.lineAngle, chiefRay);
  const leaving =
    lineDirection === undefined
      ? waveToward(target, glass)
      : new CylindricalWave(target, lineDirection, thicknessAfter(glass), glass.index);
  const bias = biasOf(patch, lineDirection);
  return {
    id: patch.id,
    asked: patch,
    reference,
    centre: patch.centre,
    outline: patch.outline,
    order: patch.order,
    target,
    distance: distance(from, target),
    chiefRay,
    lineDirection,
    senses: lineDirection === undefined ? sensesOfPoint(chiefRay) : [unit(cross(lineDirection, chiefRay))],
    bias,
    phase: new PatternPhase(beam.eikonal, leaving, patch.order, wavelength, patch.centre, bias),
  };
}

function lineSquareTo(angle: number, chiefRay: Vec3): Vec3 {
  return unit(squareTo([Math.cos(angle), Math.sin(angle), 0], chiefRay));
}

function sensesOfPoint(chiefRay: Vec3): readonly Vec3[] {
  const first = unit(squareTo([1, 0, 0], chiefRay));
  return [first, cross(chiefRay, first), chiefRay];
}

/** The bias whose passages, two or one, give the fringes asked for: amplitude N/(2m) or N/m at the reach. */
export function biasOf(patch: Patch, lineDirection: Vec3 | undefined, passages: 1 | 2 = 2): Bias | undefined {
  const asked = patch.bias;
  if (asked === undefined) return undefined;
  const direction = biasDirection(asked.direction, lineDirection);
  const { min, max } = runAlong(patch, direction);
  return {
    shape: asked.shape,
    fringes: asked.fringes,
    centre: patch.centre,
    direction,
    amplitude: asked.fringes / (passages * patch.order),
    reach: asked.shape === 'roof' ? Math.max(-min, max) : max - min,
  };
}

/** How far the patch reaches from its centre along `direction`, in units of w = (P − P₀)·direction. */
export function runAlong(patch: Pick<Patch, 'outline' | 'centre'>, direction: Vec2): Extent {
  const { min, max } = extentAlong(patch.outline, patch.centre, direction);
  const size = Math.sqrt(direction[0] * direction[0] + direction[1] * direction[1]);
  return { min: min * size, max: max * size };
}

/** Along the line for a roof on a line focus (v = (P − A)·ℓ̂, seen in the plane) and for a tilt that names no direction. */
function biasDirection(asked: number | undefined, lineDirection: Vec3 | undefined): Vec2 {
  if (asked !== undefined) return [Math.cos(asked), Math.sin(asked)];
  if (lineDirection === undefined) return [1, 0];
  return [lineDirection[0], lineDirection[1]];
}
