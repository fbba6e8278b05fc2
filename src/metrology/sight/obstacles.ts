/** What may stand in the light's way: the part's envelope and the balls of the references. Substrate frame, mm. */
import type { Design } from '../../design/design.ts';
import { ballOfBox, boxCorners, frustumBody, hullBody, sphereBody } from '../../geometry/convex-bodies.ts';
import { directionToParent, type Frame, placeToParent } from '../../geometry/frame.ts';
import { meshDistance, meshOf } from '../../geometry/solids-mesh.ts';
import type { Part } from '../../scenario/scenario.ts';
import type { Solid } from '../../scenario/solid.ts';
import { convexObstacle, type Obstacle } from './line-of-sight.ts';

interface BenchObstacle {
  readonly obstacle: Obstacle;
  /** The id of the reference whose ball it is. */
  readonly of: string | undefined;
}

/** Envelope first, then references, each in the scenario's order; a reference without a diameter is no solid. */
export function obstaclesOf(design: Design): readonly BenchObstacle[] {
  return [
    ...envelopeOf(design.scenario.part),
    ...design.references.flatMap(({ id, diameter, at }): BenchObstacle[] => {
      if (diameter === undefined) return [];
      return [{ obstacle: convexObstacle(`reference ${id}`, sphereBody(at, diameter / 2)), of: id }];
    }),
  ];
}

/** A part never changes: its envelope is made ready once. */
const kept = new WeakMap<Part, readonly BenchObstacle[]>();

function envelopeOf(part: Part): readonly BenchObstacle[] {
  const known = kept.get(part);
  if (known !== undefined) return known;
  const made = part.envelope.map((solid, k): BenchObstacle => {
    const what = solid.kind === 'mesh' ? `mesh ${solid.file}` : solid.kind;
    return {
      obstacle: obstacleOf(`the part's envelope ${k + 1} (${what})`, solid, part.frame),
      of: undefined,
    };
  });
  kept.set(part, made);
  return made;
}

function obstacleOf(name: string, solid: Solid, frame: Frame): Obstacle {
  switch (solid.kind) {
    case 'sphere':
      return convexObstacle(name, sphereBody(placeToParent(frame, solid.centre), solid.diameter / 2));
    case 'box':
      return convexObstacle(
        name,
        hullBody(boxCorners(solid.corner, solid.size).map((corner) => placeToParent(frame, corner))),
      );
    case 'mesh': {
      const mesh = meshOf(cornersInSubstrate(solid.corners, frame));
      const { least, most } = mesh.root;
      return { name, around: ballOfBox(least, most), distanceFrom: (body) => meshDistance(mesh, body) };
    }
    case 'cylinder':
    case 'cone': {
      const [near, far] =
        solid.kind === 'cone' ? solid.diameters : ([solid.diameter, solid.diameter] as const);
      const point = placeToParent(frame, solid.point);
      const axis = directionToParent(frame, solid.axis);
      return convexObstacle(name, frustumBody(point, axis, near / 2, far / 2, solid.length));
    }
  }
}

function cornersInSubstrate(corners: Float64Array, frame: Frame): Float64Array {
  const moved = new Float64Array(corners.length);
  for (let k = 0; k < corners.length; k += 3)
    moved.set(placeToParent(frame, [corners[k]!, corners[k + 1]!, corners[k + 2]!]), k);
  return moved;
}
