/** One patch worked out: where its light goes and what it senses, as its reference's kind says, and its phase. mm. */
import { type Extent, extentAlong } from '../geometry/extent.ts';
import type { Vec2, Vec3 } from '../geometry/vector.ts';
import type { Aim, Setup } from '../kinds/kind.ts';
import { kindOf } from '../kinds/kinds.ts';
import type { Bias } from '../optics/bias.ts';
import type { Eikonal } from '../optics/eikonal.ts';
import { foldPoint } from '../optics/fold-point.ts';
import type { Patch, Reference } from '../scenario/scenario.ts';
import type { DesignedPatch } from './design.ts';
import { PatternPhase } from './pattern-phase.ts';
import { zeroOf } from './phase-zero.ts';

export function designPatch(
  patch: Patch,
  reference: Reference,
  setup: Setup,
  wavelength: number,
): DesignedPatch {
  const { passages, leaving, surface, ...aim } = kindOf(reference).aim(reference, patch, setup);
  const fold = foldOf(patch, reference, aim, leaving, setup.glass);
  const bias = biasOf(patch, aim.lineDirection, passages, fold);
  return {
    id: patch.id,
    asked: patch,
    reference,
    centre: patch.centre,
    outline: patch.outline,
    order: patch.order,
    ...aim,
    fold,
    bias,
    phase: new PatternPhase(
      setup.beam.eikonal,
      leaving,
      patch.order,
      wavelength,
      zeroOf(patch, leaving),
      bias,
    ),
    ...(surface === undefined ? {} : { normalIncidence: { surface, wave: leaving } }),
  };
}

/** The bias whose passages, two or one, give the fringes asked for: amplitude N/(2m) or N/m at the reach. */
function biasOf(
  patch: Patch,
  lineDirection: Vec3 | undefined,
  passages: 1 | 2,
  fold: Vec2,
): Bias | undefined {
  const asked = patch.bias;
  if (asked === undefined) return undefined;
  const direction = biasDirection(asked.direction, lineDirection);
  const centre = asked.shape === 'roof' ? fold : patch.centre;
  const { min, max } = runAlong({ outline: patch.outline, centre }, direction);
  return {
    shape: asked.shape,
    fringes: asked.fringes,
    centre,
    direction,
    amplitude: asked.fringes / (passages * patch.order),
    reach: asked.shape === 'roof' ? Math.max(-min, max) : max - min,
  };
}

/** Where a cube's return folds the patch; its centre where nothing folds it. */
function foldOf(
  { centre, lineAngle = 0 }: Patch,
  { cube }: Reference,
  { target, lineDirection }: Pick<Aim, 'target' | 'lineDirection'>,
  leaving: Eikonal,
  glass: Setup['glass'],
): Vec2 {
  if (cube === undefined || lineDirection === undefined || glass.side !== 'after') return centre;
  const drawn: Vec2 = [Math.cos(lineAngle), Math.sin(lineAngle)];
  return foldPoint({ leaving, line: lineDirection, drawn, apex: target, glass }, centre);
}

/** How far the outline reaches from the given centre P₀ along `direction`, in units of w = (P − P₀)·direction. */
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
