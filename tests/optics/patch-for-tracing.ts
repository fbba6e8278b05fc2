/** A patch with its light, for tests of the round trip: assembled from eikonals alone, apart from the design room. */
import { cross, squareTo, subtract, unit, type Vec2, type Vec3 } from '../../src/geometry/vector.ts';
import { type Bias, BiasPhase } from '../../src/optics/bias.ts';
import { cylindricalWave } from '../../src/optics/cylindrical-wave.ts';
import type { Eikonal } from '../../src/optics/eikonal.ts';
import type { TracedPatch } from '../../src/optics/round-trip.ts';
import type { FringeRuler } from '../../src/optics/round-trip-fringes.ts';
import { sphericalWave } from '../../src/optics/spherical-wave.ts';

export interface PatchCase {
  readonly focus: 'point' | 'line';
  readonly target: Vec3;
  readonly centre: Vec2;
  readonly lineAngle?: number;
  readonly width?: number;
  readonly order?: number;
  readonly glass?: 'before' | 'after';
  readonly bias?: { readonly shape: 'roof' | 'tilt'; readonly fringes: number; readonly direction?: number };
}

export const WAVELENGTH = 632.8e-6;
export const GLASS = { thickness: 6.35, index: 1.457 };
const FOCUS: Vec3 = [0, 0, -500];

export function patchCase(given: PatchCase) {
  const { focus, target, centre, lineAngle = 0, width = 10, order = 1 } = given;
  const before = given.glass === 'before' ? GLASS.thickness : 0;
  const after = given.glass === 'after' ? GLASS.thickness : 0;
  const chiefRay = unit(subtract(target, [centre[0], centre[1], 0]));
  const line = unit(squareTo([Math.cos(lineAngle), Math.sin(lineAngle), 0], chiefRay));
  const sense = focus === 'line' ? unit(cross(line, chiefRay)) : chiefRay;
  const incident = sphericalWave([FOCUS[0], FOCUS[1]], -FOCUS[2] - before, 1, before, GLASS.index);
  const leavingToward = (to: Vec3): Eikonal =>
    focus === 'line'
      ? cylindricalWave(to, line, after, GLASS.index)
      : sphericalWave([to[0], to[1]], to[2] - after, -1, after, GLASS.index);
  const leaving = leavingToward(target);
  const direction: Vec2 =
    given.bias?.direction === undefined
      ? [line[0], line[1]]
      : [Math.cos(given.bias.direction), Math.sin(given.bias.direction)];
  const across: Vec2 = focus === 'line' ? [sense[0], sense[1]] : [-direction[1], direction[0]];
  const bias: Bias | undefined = given.bias && {
    shape: given.bias.shape,
    fringes: given.bias.fringes,
    centre,
    direction,
    amplitude: given.bias.fringes / (2 * order),
    reach: given.bias.shape === 'roof' ? width / 2 : width,
  };
  const factor = 1 / (order * WAVELENGTH);
  const patch: TracedPatch = {
    order,
    wavelength: WAVELENGTH,
    incident,
    glass: { ...GLASS, side: given.glass ?? 'before' },
    phase: {
      phases(xs, ys) {
        const out = new Float64Array(xs.length);
        incident.accumulate(xs, ys, -factor, out, xs.length);
        leaving.accumulate(xs, ys, factor, out, xs.length);
        if (bias !== undefined) new BiasPhase(bias).accumulate(xs, ys, out, xs.length);
        return out;
      },
      gradients(xs, ys) {
        const gx = new Float64Array(xs.length);
        const gy = new Float64Array(xs.length);
        incident.accumulateGradient(xs, ys, -factor, gx, gy, xs.length);
        leaving.accumulateGradient(xs, ys, factor, gx, gy, xs.length);
        if (bias !== undefined) new BiasPhase(bias).accumulateGradient(xs, ys, gx, gy, xs.length);
        return { gx, gy };
      },
    },
  };
  const ruler: FringeRuler = {
    centre,
    along: { direction, width, reach: width / 2 },
    across: { direction: across, width, reach: width / 2 },
  };
  return { patch, ruler, chiefRay, line, sense, leavingToward, centre, width };
}

/** An even grid over a square of `width` about the centre; an even `steps` keeps off the middle lines. */
export function grid(centre: Vec2, width: number, steps: number): { xs: Float64Array; ys: Float64Array } {
  const at = (index: number) => ((index + 0.5) / steps - 0.5) * width;
  const xs = Float64Array.from({ length: steps * steps }, (_, i) => centre[0] + at(i % steps));
  const ys = Float64Array.from({ length: steps * steps }, (_, i) => centre[1] + at(Math.floor(i / steps)));
  return { xs, ys };
}
