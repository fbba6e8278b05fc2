/**
 * The fringes that a patch shows at the design place, by a traced return: out through the pattern and the glass, to the real
 * ball or the cube, back through both, and against the interferometer's own beam. Fringes as the bias counts them: of a roof
 * from ridge to edge in each half, of a tilt from edge to edge along its direction.
 */
import type { Design, DesignedPatch } from '../design/design.ts';
import { runAlong } from '../design/design-patch.ts';
import { interiorGrid, spacingFor } from '../geometry/sampling.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { idealCube } from '../optics/corner-cube.ts';
import { type TracedPatch, type TracedReference, traceReturn } from '../optics/return-trip.ts';
import { type Fringes, fringesOf, type RulerAxis } from '../optics/return-trip-fringes.ts';

const RAYS = 160;

/** The patch as the trace takes it, without its edge: what a bias does is asked of every ray. */
export function tracedPatch(design: Design, patch: DesignedPatch): TracedPatch {
  return {
    order: patch.order,
    wavelength: design.light.wavelength,
    incident: design.beam.eikonal,
    phase: patch.phase,
    glass: design.glass,
  };
}

/** The patch's reference as the trace takes it: undefined for a screen, which sends nothing back. A cube without losses. */
export function tracedReference(patch: DesignedPatch): TracedReference | undefined {
  const { kind, diameter, at } = patch.reference;
  if (kind === 'screen') return undefined;
  if (kind === 'ball') return { kind, centre: at, radius: (diameter as number) / 2 };
  return { kind: 'cube', ...idealCube(at, [patch.centre[0], patch.centre[1], 0]) };
}

/** What the trace shows with the reference in its place; undefined where nothing comes back to be counted. */
export function fringesAtNull(design: Design, patch: DesignedPatch): Fringes | undefined {
  const reference = tracedReference(patch);
  if (reference === undefined) return undefined;
  const { xs, ys } = interiorGrid(patch.outline, spacingFor(patch.outline, RAYS));
  const trace = traceReturn(tracedPatch(design, patch), reference, xs, ys);
  const along = patch.bias?.direction ?? lateral(patch.lineDirection) ?? [1, 0];
  const ruler = {
    centre: patch.centre,
    along: axisOf(patch, along),
    across: axisOf(patch, [-along[1], along[0]]),
  };
  try {
    return fringesOf(trace, ruler);
  } catch (fault) {
    if (fault instanceof RangeError) return undefined;
    throw fault;
  }
}

/** The one figure that stands beside the bias asked for: the traced fringes of its shape, or all there are without a bias. */
export function biasSeen(patch: DesignedPatch, fringes: Fringes): number {
  if (patch.bias?.shape === 'roof') return fringes.roof;
  if (patch.bias?.shape === 'tilt') return fringes.tiltAlong;
  return Math.max(...[fringes.tiltAlong, fringes.tiltAcross, fringes.roof].map(Math.abs));
}

const lateral = (direction: DesignedPatch['lineDirection']): Vec2 | undefined =>
  direction && [direction[0], direction[1]];

function axisOf(patch: DesignedPatch, direction: Vec2): RulerAxis {
  const { min, max } = runAlong(patch, direction);
  return { direction, width: max - min, reach: Math.max(-min, max) };
}
