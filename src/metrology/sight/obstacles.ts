/** What may stand in the light's way: the part's envelope, obstacles on the bench, the balls of the references. Substrate frame, mm. */
import type { Design } from '../../design/design.ts';
import {
  ballOfBox,
  boxCorners,
  type ConvexBody,
  frustumBody,
  hullBody,
  sphereBody,
} from '../../geometry/convex-bodies.ts';
import { directionToParent, type Frame, placeFromParent, placeToParent } from '../../geometry/frame.ts';
import { fromBox, fromFrustum, fromMesh, fromSphere } from '../../geometry/solid-distance.ts';
import { meshDistance, meshOf } from '../../geometry/solids-mesh.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { frameAt } from '../../scenario/placing.ts';
import type { Part, Scenario } from '../../scenario/scenario.ts';
import type { Solid } from '../../scenario/solid.ts';
import { convexObstacle, type Obstacle } from './line-of-sight.ts';

interface BenchObstacle {
  readonly obstacle: Obstacle;
  /** The id of the reference whose ball it is. */
  readonly of: string | undefined;
}

/** A solid of the part or of the bench. */
export interface StandingSolid extends BenchObstacle {
  readonly kind: Solid['kind'];
  /** How far outside of it a point lies, mm; negative inside. */
  readonly distanceTo: (point: Vec3) => number;
  /** Itself, in the substrate frame; of a mesh the convex hull. */
  readonly hull: () => ConvexBody;
}

/** Envelope first, then what is fixed to the bench, then references, each in the scenario's order; a reference without a diameter is no solid. */
export function obstaclesOf(design: Design): readonly BenchObstacle[] {
  return [
    ...envelopeOf(design.scenario.part),
    ...mountsOf(design.scenario),
    ...design.references.flatMap(({ id, diameter, at }): BenchObstacle[] => {
      if (diameter === undefined) return [];
      return [{ obstacle: convexObstacle(`reference ${id}`, sphereBody(at, diameter / 2)), of: id }];
    }),
  ];
}

/** Neither a part nor the obstacles ever change: their solids are made ready once. */
const kept = new WeakMap<object, readonly StandingSolid[]>();

export function envelopeOf(part: Part): readonly StandingSolid[] {
  return ready(part, () =>
    part.envelope.map((solid, k) =>
      standing(`the part's envelope ${k + 1} (${kindText(solid)})`, solid, part.frame),
    ),
  );
}

export function mountsOf({ obstacles }: Scenario): readonly StandingSolid[] {
  return ready(obstacles, () =>
    obstacles.flatMap(({ id, solids }) =>
      solids.map((solid, k) => {
        const which = solids.length === 1 ? '' : ` (${kindText(solid)} ${k + 1})`;
        return standing(`obstacle ${id}${which}`, solid, SUBSTRATE);
      }),
    ),
  );
}

const SUBSTRATE = frameAt([0, 0, 0], [0, 0, 0]);

const kindText = (solid: Solid): string => (solid.kind === 'mesh' ? `mesh ${solid.file}` : solid.kind);

function ready(of: object, make: () => readonly StandingSolid[]): readonly StandingSolid[] {
  const known = kept.get(of);
  if (known !== undefined) return known;
  const made = make();
  kept.set(of, made);
  return made;
}

function standing(name: string, solid: Solid, frame: Frame): StandingSolid {
  let inItsFrame: ((point: Vec3) => number) | undefined;
  return {
    obstacle: obstacleOf(name, solid, frame),
    of: undefined,
    kind: solid.kind,
    distanceTo: (point) => {
      inItsFrame ??= distanceFrom(solid);
      return inItsFrame(placeFromParent(frame, point));
    },
    hull: () => hullOf(solid, frame),
  };
}

function distanceFrom(solid: Solid): (point: Vec3) => number {
  switch (solid.kind) {
    case 'sphere':
      return fromSphere(solid.centre, solid.diameter / 2);
    case 'box':
      return fromBox(solid.corner, solid.size);
    case 'mesh':
      return fromMesh(solid.corners);
    case 'cylinder':
    case 'cone': {
      const [near, far] = endDiameters(solid);
      return fromFrustum(solid.point, solid.axis, near / 2, far / 2, solid.length);
    }
  }
}

const endDiameters = (solid: Extract<Solid, { kind: 'cylinder' | 'cone' }>): readonly [number, number] =>
  solid.kind === 'cone' ? solid.diameters : [solid.diameter, solid.diameter];

function obstacleOf(name: string, solid: Solid, frame: Frame): Obstacle {
  if (solid.kind !== 'mesh') return convexObstacle(name, hullOf(solid, frame));
  const mesh = meshOf(cornersInSubstrate(solid.corners, frame));
  const { least, most } = mesh.root;
  return { name, around: ballOfBox(least, most), distanceFrom: (body) => meshDistance(mesh, body) };
}

function hullOf(solid: Solid, frame: Frame): ConvexBody {
  switch (solid.kind) {
    case 'sphere':
      return sphereBody(placeToParent(frame, solid.centre), solid.diameter / 2);
    case 'box':
      return hullBody(boxCorners(solid.corner, solid.size).map((corner) => placeToParent(frame, corner)));
    case 'mesh': {
      const corners = cornersInSubstrate(solid.corners, frame);
      return hullBody(
        Array.from({ length: corners.length / 3 }, (_, k): Vec3 => {
          return [corners[3 * k]!, corners[3 * k + 1]!, corners[3 * k + 2]!];
        }),
      );
    }
    case 'cylinder':
    case 'cone': {
      const [near, far] = endDiameters(solid);
      const point = placeToParent(frame, solid.point);
      const axis = directionToParent(frame, solid.axis);
      return frustumBody(point, axis, near / 2, far / 2, solid.length);
    }
  }
}

function cornersInSubstrate(corners: Float64Array, frame: Frame): Float64Array {
  const moved = new Float64Array(corners.length);
  for (let k = 0; k < corners.length; k += 3)
    moved.set(placeToParent(frame, [corners[k]!, corners[k + 1]!, corners[k + 2]!]), k);
  return moved;
}
