/**
 * Where a return ring goes that the planner is to place: as far out as a whole ring about the beam's middle has its place and the
 * process can write it, since a tilt of the hologram shows by the ring's radius, and the inner places tell more by other patches.
 * It says nothing of the part, so that it is placed before all else and then stands like a patch that the file gives. mm.
 */
import type { Design } from '../design/design.ts';
import { designPatch } from '../design/design-patch.ts';
import { setupOf } from '../design/setup.ts';
import { boundsOf } from '../geometry/extent.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { kindOf } from '../kinds/kinds.ts';
import { rounded } from '../metrology/reach/sites.ts';
import { pixelPitch } from '../metrology/sensing/camera-pixels.ts';
import { RULES } from '../rules/all-rules.ts';
import { LEAST_PIXELS } from '../rules/undersampled.ts';
import type { Patch, Reference } from '../scenario/scenario.ts';

/** Common practice for the width of a return ring, mm; wider where the camera's pixels are coarse. */
const COMMON_WIDTH = 3;
const GRAIN = 0.1;
/** From one radius that is tried to the next, mm. */
const STEP = 0.5;
/** Rings tried: finer steps than STEP would find no more on a larger substrate. */
const MOST_TRIED = 400;

const OF_A_RING = RULES.filter(({ planning }) => planning.ring);

/**
 * `design` holds the patches that stand already; undefined where no whole ring has a place beside them. `within`: the outer radius is
 * no more than this, mm: what was refused to one return ring is not asked for the next.
 */
export function returnRing(
  design: Design,
  reference: Reference,
  id: string,
  within = Infinity,
): Patch | undefined {
  const centre: Vec2 = [rounded(design.beam.centre[0]), rounded(design.beam.centre[1])];
  const { minX, minY, maxX, maxY } = boundsOf(design.scenario.substrate.outline);
  const width = upToGrain(Math.max(COMMON_WIDTH, LEAST_PIXELS * pixelPitch(design) * 1.001));
  const { edgeMargin } = design.scenario.substrate;
  const toEdge =
    Math.min(centre[0] - minX, maxX - centre[0], centre[1] - minY, maxY - centre[1]) - edgeMargin;
  const most = Math.floor(Math.min(toEdge, design.beam.radius ?? Infinity) / GRAIN + 1e-9);
  const step = Math.max(Math.round(STEP / GRAIN), Math.ceil(most / MOST_TRIED));
  for (let tenths = most; tenths * GRAIN > width; tenths -= step) {
    const outer = tenths / Math.round(1 / GRAIN);
    if (outer > within) continue;
    const inner = Math.round((outer - width) / GRAIN) / Math.round(1 / GRAIN);
    const ring: Patch = {
      id,
      reference: reference.id,
      focus: kindOf(reference).inScenario.foci[0]!,
      centre,
      outline: { shape: 'ring', centre, inner, outer },
      lineAngle: undefined,
      order: 1,
      bias: undefined,
    };
    if (hasItsPlace(design, ring, reference)) return ring;
  }
  return undefined;
}

function hasItsPlace(design: Design, ring: Patch, reference: Reference): boolean {
  const { beam, glass, scenario, light, patches } = design;
  const designed = designPatch(ring, reference, setupOf(scenario, beam, glass), light.wavelength);
  const beside: Design = { ...design, patches: [...patches, designed] };
  return OF_A_RING.every(({ find }) => !find(beside).some((found) => found.patches?.includes(ring.id)));
}

const upToGrain = (size: number): number => Math.ceil(size / GRAIN - 1e-9) / Math.round(1 / GRAIN);
