/**
 * The surface under test as something that stands in the way: a skin over its aperture, which is all of it that is known to be there. Light
 * does not pass it, and no ball cuts it. Substrate frame, mm.
 */
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { contains, depthIn, distanceToEdge } from '../../geometry/contains.ts';
import {
  type BallAround,
  ballOfBox,
  boxCorners,
  type ConvexBody,
  convexDistance,
  hullBody,
  sphereBody,
} from '../../geometry/convex-bodies.ts';
import { boundsOf } from '../../geometry/extent.ts';
import { type Frame, placeFromParent, placeToParent } from '../../geometry/frame.ts';
import { sagDistance } from '../../geometry/sag-distance.ts';
import { boundaryPoints, interiorGrid, joined, spacingFor } from '../../geometry/sampling.ts';
import { meshDistance, meshOf } from '../../geometry/solids-mesh.ts';
import { add, distance, length, scale, subtract, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import type { Obstacle } from './line-of-sight.ts';

interface TestedSkin {
  readonly obstacle: Obstacle;
  /** How deep a sphere on either side cuts it, mm; 0 or less where it does not. */
  readonly overlapWith: (centre: Vec3, radius: number) => number;
}

/** The skin's triangles lie so far behind the surface, mm: light that ends on the surface, at a ball that touches it, does not meet them. */
const BEHIND = 0.05;
/** Flat triangles leave the surface by less than this, mm. */
const FLAT = 0.01;
/** Cells along a side of the aperture: at least, and at its edge, where a cell counts whose middle is inside. */
const [COARSEST, FINEST] = [8, 128];

/** Undefined where no surface is tested. */
export function testedSkin({ main }: Pick<Design, 'main'>): TestedSkin | undefined {
  if (main === undefined) return undefined;
  const known = kept.get(main) ?? skinOf(main);
  kept.set(main, known);
  return known;
}

const kept = new WeakMap<MainPattern, TestedSkin>();

function skinOf(main: MainPattern): TestedSkin {
  const { sag, frame } = main.surface;
  const feet = sampledFeet(main);
  const around = ballAroundSkin(feet);
  const box = boxAroundSkin(feet, frame);
  // Most light and balls pass beside it, and its triangles are never asked for.
  let made: ((body: ConvexBody) => number) | undefined;
  const distanceFrom = (body: ConvexBody): number => {
    made ??= fromTriangles(trianglesOf(main));
    return made(body);
  };
  return {
    obstacle: {
      name: `the surface under test ${main.test.surface}`,
      around,
      // Light that stays clear of the box is as far from the skin at least.
      distanceFrom: (body) => convexDistance(body, box) || distanceFrom(body),
    },
    overlapWith: (centre, radius) => {
      const beside = distance(centre, around.centre) - around.radius;
      if (beside >= radius) return radius - beside;
      const own = placeFromParent(frame, centre);
      // No nearer than it lies beside the aperture, seen along the surface's axis.
      const aside = -depthIn(main.test.aperture, [own[0], own[1]]);
      if (aside >= radius) return radius - aside;
      const met = sagDistance(sag, own);
      if (met !== undefined && contains(main.test.aperture, [met.foot[0], met.foot[1]]))
        return radius - distance(own, met.foot);
      return radius - distanceFrom(sphereBody(centre, 0));
    },
  };
}

/** Of an aperture narrower than the smallest cell there are none. */
function fromTriangles(triangles: readonly Triangle[]): (body: ConvexBody) => number {
  if (triangles.length === 0) return () => Number.POSITIVE_INFINITY;
  const mesh = meshOf(Float64Array.from(triangles.flat(2)));
  return (body) => meshDistance(mesh, body);
}

const SAMPLED = 64;
/** What the surface may bulge between samples, as a part of its own size. */
const BULGE = 0.05;

function sampledFeet({ test: { aperture }, normals }: MainPattern): readonly Vec3[] {
  const { xs, ys } = joined(
    interiorGrid(aperture, spacingFor(aperture, SAMPLED)),
    boundaryPoints(aperture, SAMPLED),
  );
  return Array.from(xs, (x, k) => normals.from(x, ys[k]!)).flatMap((met) => (met ? [met.foot] : []));
}

/** The least and the most of each coordinate. */
function rangesOf(places: readonly Vec3[]): readonly [least: Vec3, most: Vec3] {
  const along = (axis: number): readonly number[] => places.map((place) => place[axis]!);
  const [least, most] = [Math.min, Math.max].map((of) => [0, 1, 2].map((axis) => of(...along(axis))));
  return [least as unknown as Vec3, most as unknown as Vec3];
}

function ballAroundSkin(feet: readonly Vec3[]): BallAround {
  const { centre, radius } = ballOfBox(...rangesOf(feet), BEHIND);
  return { centre, radius: (1 + BULGE) * radius };
}

/** Along the surface's own axes. */
function boxAroundSkin(feet: readonly Vec3[], frame: Frame): ConvexBody {
  const [least, most] = rangesOf(feet.map((foot) => placeFromParent(frame, foot)));
  const size = subtract(most, least);
  const room = BULGE * length(size) + BEHIND;
  const corner: Vec3 = [least[0] - room, least[1] - room, least[2] - room];
  const corners = boxCorners(corner, add(size, [2 * room, 2 * room, 2 * room]));
  return hullBody(corners.map((own) => placeToParent(frame, own)));
}

type Triangle = readonly [Vec3, Vec3, Vec3];

/** Cells of the aperture in halves: those at its edge ever smaller, those inside until they are flat. */
function trianglesOf({ test: { aperture }, normals }: MainPattern): readonly Triangle[] {
  const { minX, minY, maxX, maxY } = boundsOf(aperture);
  const side = Math.max(maxX - minX, maxY - minY);
  const at = (x: number, y: number): Vec3 | undefined => {
    const met = normals.from(x, y);
    return met && subtract(met.foot, scale(met.normal, BEHIND));
  };
  const halves = ([a, b, c, d]: readonly (Vec3 | undefined)[]): readonly Triangle[] =>
    a === undefined || b === undefined || c === undefined || d === undefined
      ? []
      : [
          [a, b, c],
          [a, c, d],
        ];
  const within = (x: number, y: number, width: number): readonly Triangle[] => {
    const middle: Vec2 = [x + width / 2, y + width / 2];
    const isClear = distanceToEdge(aperture, middle) > width * Math.SQRT1_2;
    if (isClear && !contains(aperture, middle)) return [];
    const places: readonly Vec2[] = [
      [x, y],
      [x + width, y],
      [x + width, y + width],
      [x, y + width],
    ];
    const corners = places.map(([u, v]) => at(u, v));
    const isFinest = width <= side / FINEST;
    if (isClear && width <= side / COARSEST && (isFinest || isFlat(corners, at(...middle))))
      return halves(corners);
    if (isFinest) return contains(aperture, middle) ? halves(corners) : [];
    const half = width / 2;
    return [0, 1].flatMap((i) => [0, 1].flatMap((j) => within(x + i * half, y + j * half, half)));
  };
  return within(minX, minY, side);
}

function isFlat(corners: readonly (Vec3 | undefined)[], middle: Vec3 | undefined): boolean {
  if (middle === undefined || corners.includes(undefined)) return false;
  const mean = scale(
    (corners as readonly Vec3[]).reduce((sum, corner) => add(sum, corner)),
    1 / corners.length,
  );
  return distance(mean, middle) <= FLAT;
}
