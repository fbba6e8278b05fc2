/**
 * The Fresnel number of a patch's round trip, mm: from pattern to pattern, as the reference's kind has it by the widths of the patch
 * seen along the chief ray.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { leavingRay } from '../../design/normal-incidence.ts';
import { areaOf, narrowestWidth } from '../../geometry/extent.ts';
import { boundaryPoints } from '../../geometry/sampling.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import type { FresnelNumber, SeenPatch } from '../../kinds/kind.ts';
import { kindOf } from '../../kinds/kinds.ts';
import { runToSurface } from '../../optics/datum-surface.ts';
import { along } from '../../optics/ray.ts';
import { patchCoordinates } from './diffracted-patch.ts';
import { opticalDistanceAhead } from './optical-distance.ts';
import { widthAlong } from './sensitivity.ts';

/** Undefined for what sends nothing back to be read by a focus. */
export function fresnelNumberOf(design: Design, patch: DesignedPatch): FresnelNumber | undefined {
  const { wavelength } = design.light;
  return kindOf(patch.reference).fresnelNumber(patch.reference, {
    wavelength,
    distance: distanceSpread(design, patch),
    narrowest: () => narrowestSeen(patch),
    byLine: () => widthsByLine(patch),
    feature: () => featureSeen(design, patch),
  });
}

/** What the light spreads over on its way to a point or a line. */
const distanceSpread = (design: Design, patch: DesignedPatch): number =>
  patch.senses.length === 0 ? patch.distance : opticalDistanceAhead(design, patch);

/** The feature that a patch's light meets at normal incidence, and the longest way there: it decides. A run in glass counts 1/n. */
function featureSeen({ glass }: Design, patch: DesignedPatch): ReturnType<SeenPatch['feature']> {
  if (patch.normalIncidence === undefined) return undefined;
  const { surface, wave } = patch.normalIncidence;
  const { xs, ys } = boundaryPoints(patch.outline, EDGE_POINTS);
  const met = Array.from(xs, (x, i) => {
    const ray = leavingRay(wave, glass, x, ys[i]!)!;
    const run = runToSurface(surface, ray) ?? Number.NaN;
    return { run, at: along(ray, run) };
  });
  const inGlass = glass.side === 'after' ? glass.thickness / glass.index : 0;
  const { run, at } = met.reduce((longest, one) => (one.run > longest.run ? one : longest));
  return { surface, length: inGlass + run, at };
}

const EDGE_POINTS = 16;

/**
 * The narrowest width of the patch seen along its chief ray, whatever its turn: exact for circles, rectangles and polygons; of a
 * ring or a sector, which the light may see inclined along its wall or across it, the lesser.
 */
export function narrowestSeen(patch: DesignedPatch): number {
  const { outline } = patch;
  const foreshortened = patch.normalIncidence === undefined ? Math.abs(patch.chiefRay[2]) : 1;
  const corners = patch.senses.length === 0 ? undefined : cornersOf(patch);
  if (corners === undefined) return narrowestWidth(outline) * foreshortened;
  const { fromPattern } = patchCoordinates(patch);
  return narrowestWidth({ shape: 'polygon', points: corners.map(([x, y]) => fromPattern(x, y)) });
}

/**
 * The patch's length along its line and its width across: of a round patch its diameter as seen, of any other the mean over its extent in
 * the other direction.
 */
function widthsByLine(patch: DesignedPatch): ReturnType<SeenPatch['byLine']> {
  const [sense] = patch.senses;
  if (patch.lineDirection === undefined || sense === undefined) return undefined;
  const [along, across] = [widthAlong(patch, patch.lineDirection), widthAlong(patch, sense)];
  if (patch.outline.shape === 'circle') return { along, across };
  const area = areaOf(patch.outline) * Math.abs(patch.chiefRay[2]);
  return { along: Math.min(along, area / across), across: Math.min(across, area / along) };
}

function cornersOf({ outline }: DesignedPatch): readonly Vec2[] | undefined {
  if (outline.shape === 'polygon') return outline.points;
  if (outline.shape !== 'rectangle') return undefined;
  const [c, s] = [Math.cos(outline.rotation), Math.sin(outline.rotation)];
  const [w, h] = [outline.width / 2, outline.height / 2];
  return [
    [w, h],
    [-w, h],
    [-w, -h],
    [w, -h],
  ].map(([u, v]): Vec2 => [outline.centre[0] + u! * c - v! * s, outline.centre[1] + u! * s + v! * c]);
}
