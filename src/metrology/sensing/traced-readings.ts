/**
 * The fringes that a patch shows when its reference stands away from its place, by the exact traced return, counted as the
 * bench reads them: beyond those of the design place, positive for a displacement along + the sensed direction.
 *
 * mm and fringes. A displacement q along ê makes the round trip 2û(P)·δ longer, and û turns away from +ê as P goes along it:
 * W falls by 2Dq/(λs) from the − edge to the + edge, and by q(D/2s)²/λ from the middle to the edge for one along û (Born &
 * Wolf, on the path between two points). A reading is therefore the fall of W, less that of the design place.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { runAlong } from '../../design/design-patch.ts';
import { interiorGrid, spacingFor } from '../../geometry/sampling.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import type { Bias } from '../../optics/bias.ts';
import { FATES, type RoundTripTrace, traceRoundTrip } from '../../optics/round-trip.ts';
import { type Fringes, fringesOf, type RulerAxis } from '../../optics/round-trip-fringes.ts';
import { tracedPatch, tracedReference } from './null-fringes.ts';
import { widthAlong } from './sensitivity.ts';

/** Rays a patch: fringes are fitted to them, eight terms. */
const RAYS = 120;

/** Fringes along each of the patch's senses with its reference displaced, mm; undefined where too little light comes back. */
export type FringesWhenMoved = (displacement: Vec3) => readonly number[] | undefined;

/** Undefined for a screen, which sends nothing back. */
export function tracedFringes(design: Design, patch: DesignedPatch): FringesWhenMoved | undefined {
  const seen = tracedFalls(design, patch);
  const atPlace = seen?.([0, 0, 0]);
  if (seen === undefined || atPlace === undefined) return undefined;
  return (displacement) => seen(displacement)?.map((fringes, k) => fringes - atPlace[k]!);
}

/** What the patch shows along its senses with its reference at the design place, counted as its readings are; undefined where nothing comes back. */
export const fringesAtPlace = (design: Design, patch: DesignedPatch): readonly number[] | undefined =>
  tracedFalls(design, patch)?.([0, 0, 0]);

function tracedFalls(design: Design, patch: DesignedPatch): FringesWhenMoved | undefined {
  const reference = tracedReference(patch);
  if (reference === undefined) return undefined;
  const traced = tracedPatch(design, patch);
  const { xs, ys } = interiorGrid(patch.outline, spacingFor(patch.outline, RAYS));
  const isRoof = patch.bias?.shape === 'roof';
  const isInverted = patch.reference.cube !== undefined && patch.lineDirection !== undefined;
  const ruler = { ...axesOf(patch), centre: isRoof ? patch.bias.centre : patch.centre };
  const bent = { ...ruler, ridge: isRoof, step: isRoof };
  return (displacement) => {
    const all = traceRoundTrip(traced, reference, xs, ys, displacement);
    const trace = isRoof && isInverted ? overRidge(all, patch.bias, xs, ys) : all;
    try {
      return falls(patch, fringesOf(trace, bent));
    } catch (error) {
      if (error instanceof RangeError) return undefined;
      throw error;
    }
  };
}

/**
 * Of a cube off along its line, the rays near the ridge leave and come back on the same side of it: the roof's slopes cancel there, which
 * is no part of the fringes that are counted. Those are left out.
 */
function overRidge(
  trace: RoundTripTrace,
  { centre, direction }: Bias,
  xs: Float64Array,
  ys: Float64Array,
): RoundTripTrace {
  const run = (x: number, y: number): number =>
    (x - centre[0]) * direction[0] + (y - centre[1]) * direction[1];
  const fate = trace.fate.map((each, i) =>
    run(xs[i]!, ys[i]!) * run(trace.x[i]!, trace.y[i]!) > 0 ? LEFT_OUT : each,
  );
  return { ...trace, fate };
}

const LEFT_OUT = FATES.indexOf('beside patch');

/** How much W falls along each sense: tilt along, tilt across, power. */
function falls(patch: DesignedPatch, fringes: Fringes): readonly number[] {
  if (patch.lineDirection !== undefined) return [-fringes.tiltAcross];
  return [-fringes.tiltAlong, -fringes.tiltAcross, -(fringes.powerAlong + fringes.powerAcross) / 2];
}

/** A line focus: along the line, across it. A point focus: its two tilts, both counted to half the larger width for power. */
function axesOf(patch: DesignedPatch): { readonly along: RulerAxis; readonly across: RulerAxis } {
  const [first, second] =
    patch.lineDirection === undefined
      ? [patch.senses[0]!, patch.senses[1]!]
      : [patch.lineDirection, patch.senses[0]!];
  const half = Math.max(widthAlong(patch, first), widthAlong(patch, second)) / 2;
  const axis = (direction: Vec3): RulerAxis => {
    const inPlane = [direction[0], direction[1]] as const;
    const { min, max } = runAlong(patch, inPlane);
    const reach = patch.lineDirection === undefined ? half : Math.max(-min, max);
    return { direction: inPlane, width: max - min, reach };
  };
  return { along: axis(first), across: axis(second) };
}
