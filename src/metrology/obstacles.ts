/** What may stand in the light's way: the part's envelope and the balls of the references. Substrate frame, mm. */
import type { Design } from '../design/design.ts';
import { directionToParent, type Frame, placeToParent } from '../geometry/frame.ts';
import { boxCorners, frustumBody, hullBody, sphereBody } from '../geometry/solids.ts';
import type { Solid } from '../scenario/solid.ts';
import { convexObstacle, type Obstacle } from './line-of-sight.ts';

export interface Standing {
  readonly obstacle: Obstacle;
  /** The id of the reference whose ball it is. */
  readonly of: string | undefined;
}

/** Envelope first, then references, each in the scenario's order; a reference without a diameter is no solid. */
export function obstaclesOf(design: Design): readonly Standing[] {
  const { frame, envelope } = design.scenario.part;
  return [
    ...envelope.map((solid, k): Standing => {
      return {
        obstacle: obstacleOf(`the part's envelope ${k + 1} (${solid.kind})`, solid, frame),
        of: undefined,
      };
    }),
    ...design.references.flatMap(({ id, diameter, at }): Standing[] => {
      if (diameter === undefined) return [];
      return [{ obstacle: convexObstacle(`reference ${id}`, sphereBody(at, diameter / 2)), of: id }];
    }),
  ];
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
