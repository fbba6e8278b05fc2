/**
 * A designed patch as the diffraction of its round trip takes it: in coordinates square to the chief ray, origin at the centre,
 * u along ê (ê₁ of a point focus) and v along the line (ê₂). mm, waves. Through glass after the pattern the distance is that which
 * fringes and spreading tell (optical-distance.ts): a run in the glass counts 1/n.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { runAlong } from '../../design/design-patch.ts';
import { covers } from '../../geometry/contains.ts';
import { add, dot, scale, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import { BiasPhase } from '../../optics/bias.ts';
import { lossAtCube } from '../../optics/corner-cube.ts';
import type { DiffractedPatch } from '../../optics/diffraction-return.ts';
import { opticalDistanceAhead } from './optical-distance.ts';
import { realReference } from './returned-light.ts';

/** Pattern points and their places seen along the chief ray. */
interface PatchCoordinates {
  readonly u: Vec3;
  readonly v: Vec3;
  readonly fromPattern: (x: number, y: number) => Vec2;
  readonly toPattern: (u: number, v: number) => Vec2;
}

export function patchCoordinates(patch: DesignedPatch): PatchCoordinates {
  const [u] = patch.senses;
  const v = patch.lineDirection ?? patch.senses[1];
  const [x0, y0] = patch.centre;
  // Both directions are square to the chief ray, which does not run along the pattern, so that their lateral parts span it.
  const determinant = u[0] * v[1] - u[1] * v[0];
  return {
    u,
    v,
    fromPattern: (x, y) => [(x - x0) * u[0] + (y - y0) * u[1], (x - x0) * v[0] + (y - y0) * v[1]],
    toPattern: (a, b) => [x0 + (a * v[1] - b * u[1]) / determinant, y0 + (b * u[0] - a * v[0]) / determinant],
  };
}

/**
 * The patch with its reference `displacement` (substrate frame, mm) off its place. Undefined where the light does not come back
 * by a ball's point focus or a cube's line focus.
 */
export function diffractedPatch(
  design: Design,
  patch: DesignedPatch,
  displacement: Vec3 = [0, 0, 0],
): DiffractedPatch | undefined {
  const reference = diffractedReference(design, patch);
  if (reference === undefined) return undefined;
  const { u, v, toPattern } = patchCoordinates(patch);
  const { bias } = patch;
  const biasPhase = bias && new BiasPhase(bias);
  const one = { x: new Float64Array(1), y: new Float64Array(1), out: new Float64Array(1) };
  const biasAt = (a: number, b: number): number => {
    [one.x[0], one.y[0]] = toPattern(a, b);
    one.out[0] = 0;
    biasPhase?.accumulate(one.x, one.y, one.out, 1);
    return one.out[0];
  };
  return {
    wavelength: design.light.wavelength,
    order: patch.order,
    distance: opticalDistanceAhead(design, patch),
    reference,
    halfWidths: [reach(patch, u), reach(patch, v)],
    contains: (a, b) => covers(patch.outline, toPattern(a, b)),
    ...(bias === undefined ? {} : { bias: biasAt }),
    displacement: [dot(displacement, u), dot(displacement, v), dot(displacement, patch.chiefRay)],
  };
}

function diffractedReference(design: Design, patch: DesignedPatch): DiffractedPatch['reference'] | undefined {
  const meets = realReference(design, patch);
  if (meets === undefined || meets.kind === 'surface') return undefined;
  if (meets.kind !== 'cube') return patch.lineDirection === undefined ? meets : undefined;
  if (patch.lineDirection === undefined) return undefined;
  const { u, v } = patchCoordinates(patch);
  return {
    kind: 'cube',
    loses: (q, run) => {
      const point = add(meets.apex, add(scale(u, q), scale(v, run)));
      return lossAtCube(meets, { point, direction: patch.chiefRay }) !== undefined;
    },
  };
}

function reach(patch: DesignedPatch, direction: Vec3): number {
  const { min, max } = runAlong(patch, [direction[0], direction[1]]);
  return Math.max(-min, max);
}
