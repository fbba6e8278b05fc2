/**
 * How the corner cube of a sphere-mounted retroreflector is taken to stand in its nest: as the scenario says, else facing the
 * mean of its patches and rolled so that its edges keep away from their lines as far as they can. mm, radians.
 */
import type { DesignedPatch } from '../../design/design.ts';
import { keptWith } from '../../design/kept-with.ts';
import { add, dot, scale, unit, type Vec3 } from '../../geometry/vector.ts';
import { CLEAR_APERTURE_OF_BALL, type CornerCube, cubeEdges } from '../../optics/corner-cube.ts';
import type { Reference } from '../../scenario/scenario.ts';

/** Common practice, no source beyond the trade: ±30°. */
export const ACCEPTANCE = Math.PI / 6;
/** Whole width lost along each edge of a hollow cube, mm: assumed, chamfers and glue of a good one; the apex loses as much. */
export const EDGE_BAND = 0.2;

/**
 * The cube of a reference as its patches meet it, every one of which asks for it. Throws a RangeError for a reference that is no SMR or
 * has no patch.
 */
export const cubeOf = keptWith((design, { id, at, diameter, cube }: Reference): CornerCube => {
  const patches = design.patches.filter((patch) => patch.reference.id === id);
  if (cube === undefined || patches.length === 0)
    throw new RangeError(`reference ${id} is no SMR with a patch; only such a one has a cube to turn`);
  const mounted: CornerCube = {
    apex: at,
    axis: cube.axis ?? facing(patches),
    roll: cube.roll ?? 0,
    clearRadius: diameter === undefined ? Infinity : (diameter / 2) * CLEAR_APERTURE_OF_BALL,
    edgeBand: EDGE_BAND,
    apexZone: EDGE_BAND / 2,
  };
  return cube.roll === undefined ? { ...mounted, roll: bestRoll(mounted, patches) } : mounted;
});

/** The least angle between a patch's line and an edge of the cube, both seen along the chief ray: 0 to 90°. */
export const angleToNearestEdge = (cube: CornerCube, patch: DesignedPatch): number =>
  nearestOf(cubeEdges(cube), patch);

function nearestOf(edges: readonly Vec3[], { lineDirection, chiefRay }: DesignedPatch): number {
  if (lineDirection === undefined) return Math.PI / 2;
  let most = 0;
  for (const edge of edges) {
    // The edge made square to the chief ray; the line is square to it already.
    const along = dot(edge, chiefRay);
    const size = Math.sqrt(Math.max(0, 1 - along * along));
    most = Math.max(most, size === 0 ? 1 : Math.abs(dot(edge, lineDirection)) / size);
  }
  return Math.acos(Math.min(1, most));
}

/** The edges repeat every 120°, and a line has no sense, so that rolls over 60° are all there are; half a degree apart. */
const ROLL_STEPS = 120;
const ROLL_PERIOD = Math.PI / 3;

const facing = (patches: readonly DesignedPatch[]): Vec3 =>
  unit(patches.map((patch) => scale(patch.chiefRay, -1)).reduce(add));

function bestRoll(cube: CornerCube, patches: readonly DesignedPatch[]): number {
  let [best, most] = [0, -1];
  for (let k = 0; k < ROLL_STEPS; k++) {
    const roll = (ROLL_PERIOD * k) / ROLL_STEPS;
    const edges = cubeEdges({ ...cube, roll });
    const least = patches.reduce((angle, patch) => Math.min(angle, nearestOf(edges, patch)), Infinity);
    if (least > most + SAME_ANGLE) [best, most] = [roll, least];
  }
  return best;
}

/** Radians: rolls as good as each other to this are one choice, the first, on any machine. */
const SAME_ANGLE = 1e-9;
