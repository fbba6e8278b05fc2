/**
 * The light on the bench: the edge of the interferometer's beam, and of each patch the light from its area to its reference, ray by
 * ray through the glass. Substrate frame, mm; every path runs with the light.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { boundsOf } from '../../geometry/extent.ts';
import type { RingOutline } from '../../geometry/outline.ts';
import { boundaryPoints, type Points } from '../../geometry/sampling.ts';
import { add, scale, subtract, unit, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { incomingRays } from '../../metrology/sight/incoming-light.ts';
import { type Sight, sightsOf } from '../../metrology/sight/line-of-sight.ts';
import type { Projection } from './projection.ts';

type Path3 = readonly Vec3[];

interface PatchLight {
  /** From the middle of the patch; of a ring from both sides of a cut through its centre. None where no ray leaves. */
  readonly middles: readonly Path3[];
  /** From points of the patch's edge; of a ring those of either side of a cut through its centre, square to the line of sight. */
  readonly bundles: readonly (readonly Path3[])[];
}

/** Points of a patch's edge that its light is drawn from. */
const EDGE_POINTS = 24;

/** `lead`: mm before the pattern, along z, to which light that goes back is drawn. */
export function patchLight(design: Design, patch: DesignedPatch, view: Projection, lead: number): PatchLight {
  const { outline, reference } = patch;
  const paths = ({ xs, ys }: Points): readonly Path3[] =>
    (isReadBy(reference, 'alignment')
      ? backward(design, xs, ys, lead)
      : sightsOf(design, patch, xs, ys).map((sight, k): Path3 | undefined => {
          if (sight === undefined) return undefined;
          const start: Vec3 = [xs[k]!, ys[k]!, 0];
          const end = isReadBy(reference, 'mark') ? pastBall(sight, reference.diameter ?? 0) : sight.to;
          return sight.from[2] > 0 ? [start, sight.from, end] : [start, end];
        })
    ).filter((path) => path !== undefined);
  const edges = outline.shape === 'ring' ? cutsOf(outline, view) : [boundaryPoints(outline, EDGE_POINTS)];
  return { middles: paths(middlesOf(patch, view)), bundles: edges.map(paths) };
}

/** Where the middle of the light leaves: halfway between the edges of a ring or a sector, whose centre is outside of it. */
function middlesOf({ outline, centre }: DesignedPatch, { up }: Projection): Points {
  switch (outline.shape) {
    case 'ring': {
      const [x, y] = outline.centre;
      const radius = (outline.inner + outline.outer) / 2;
      const [right, above] = up === 'x' ? [radius, 0] : [0, radius];
      return {
        xs: Float64Array.of(x - right, x + right),
        ys: Float64Array.of(y - above, y + above),
      };
    }
    case 'sector': {
      const angle = (outline.from + outline.to) / 2;
      const radius = (outline.inner + outline.outer) / 2;
      return {
        xs: Float64Array.of(outline.centre[0] + radius * Math.cos(angle)),
        ys: Float64Array.of(outline.centre[1] + radius * Math.sin(angle)),
      };
    }
    default:
      return { xs: Float64Array.of(centre[0]), ys: Float64Array.of(centre[1]) };
  }
}

/** A sight ends at the ball that a diameter stands for; light ends on a screen that is flat. */
const pastBall = ({ from, to }: Sight, diameter: number): Vec3 =>
  add(to, scale(unit(subtract(to, from)), diameter / 2));

function cutsOf({ centre: [x, y], inner, outer }: RingOutline, { up }: Projection): readonly Points[] {
  return [-1, 1].map((side) => {
    const radii = Float64Array.of(side * inner, side * outer);
    const [xs, ys] = [radii.map((r) => x + (up === 'x' ? r : 0)), radii.map((r) => y + (up === 'y' ? r : 0))];
    return { xs, ys };
  });
}

/** Light that a return ring sends back on itself: the way in, reversed. */
const backward = (design: Design, x: Float64Array, y: Float64Array, lead: number) =>
  incoming(design, x, y, lead).map((path) => path?.toReversed());

function incoming(
  design: Design,
  x: Float64Array,
  y: Float64Array,
  lead: number,
): readonly (Path3 | undefined)[] {
  const thickness = design.glass.side === 'before' ? design.glass.thickness : 0;
  return incomingRays(design, lead - thickness, x, y).map((sight, k) => {
    if (sight === undefined) return undefined;
    const end: Vec3 = [x[k]!, y[k]!, 0];
    return sight.to[2] < 0 ? [sight.from, sight.to, end] : [sight.from, sight.to];
  });
}

interface BeamEdge {
  /** From the focus, or from `lead` mm before the pattern, to the pattern. */
  readonly light: readonly Path3[];
  /** Where a converging beam would go without the hologram and the substrate: to its focus. */
  readonly beyond: readonly Path3[];
}

/** The two rays at the beam's edge that a view shows, the upper one first. `lead`: mm before the pattern, along z. */
export function beamEdge(design: Design, { up }: Projection, lead: number): BeamEdge {
  const [low, high] = litRange(design, up);
  const [cx, cy] = design.beam.centre;
  const points: readonly Vec2[] = up === 'x' ? [[high, cy], [low, cy]] : [[cx, high], [cx, low]]; // biome-ignore format: a pair
  const light = incoming(
    design,
    Float64Array.from(points, ([x]) => x),
    Float64Array.from(points, ([, y]) => y),
    lead,
  ).filter((path) => path !== undefined);
  const { beam } = design.scenario.interferometer;
  if (beam.kind !== 'converging') return { light, beyond: [] };
  return { light, beyond: light.map((path) => [path[1]!, beam.focus]) };
}

/** What is lit along an axis: the lit circle, or all of the substrate where the scenario bounds the beam nowhere. */
export function litRange({ beam, scenario }: Design, axis: 'x' | 'y'): readonly [number, number] {
  if (beam.radius !== undefined) {
    const middle = beam.centre[axis === 'x' ? 0 : 1];
    return [middle - beam.radius, middle + beam.radius];
  }
  const { minX, maxX, minY, maxY } = boundsOf(scenario.substrate.outline);
  return axis === 'x' ? [minX, maxX] : [minY, maxY];
}

/** The path's last straight run cut where it passes the plane at `z`, so that a far end does not leave the drawing. */
export function cutAtZ(path: Path3, z: number): Path3 {
  const [from, to] = [path.at(-2)!, path.at(-1)!];
  const share = (z - from[2]) / (to[2] - from[2]);
  if (!(share >= 0 && share < 1)) return path;
  return [...path.slice(0, -1), add(from, scale(subtract(to, from), share))];
}
