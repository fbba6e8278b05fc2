/**
 * A surface of triangles and its distance from a convex body: a tree of bounding boxes leaves few triangles to ask exactly.
 * mm. The surface is what stands in the way: a body wholly inside a closed surface is as far as its nearest triangle.
 */
import { type ConvexBody, convexDistance, coreBounds, hullBody } from './convex-bodies.ts';
import { add, subtract, type Vec3 } from './vector.ts';

interface TriangleMesh {
  /** Nine numbers a triangle: its corners' x, y, z. */
  readonly corners: Float64Array;
  readonly root: MeshNode;
}

interface Box {
  readonly least: Vec3;
  readonly most: Vec3;
}

type MeshNode = Box &
  (
    | { readonly triangles: readonly number[] }
    | { readonly triangles?: undefined; readonly children: readonly [MeshNode, MeshNode] }
  );

/** Triangles in a leaf of the tree: asking eight exactly costs about what two more levels do. */
const LEAF = 8;

/** Throws a RangeError for a mesh without a triangle. */
export function meshOf(corners: Float64Array): TriangleMesh {
  const count = corners.length / 9;
  if (!(count >= 1) || !Number.isInteger(count))
    throw new RangeError(`${corners.length} coordinates make no triangles: nine are needed for each`);
  return { corners, root: nodeOf(corners, [...Array(count).keys()]) };
}

export const triangleAt = ({ corners }: TriangleMesh, k: number): readonly [Vec3, Vec3, Vec3] => {
  const at = (corner: number): Vec3 => {
    const start = 9 * k + 3 * corner;
    return [corners[start]!, corners[start + 1]!, corners[start + 2]!];
  };
  return [at(0), at(1), at(2)];
};

/** The distance of the body from the surface; distances over `atMost` may come back as any value over it. */
export function meshDistance(
  mesh: TriangleMesh,
  body: ConvexBody,
  atMost = Number.POSITIVE_INFINITY,
): number {
  const { least: low, most: high } = coreBounds(body);
  const margin: Vec3 = [body.margin, body.margin, body.margin];
  const bounds: Box = { least: subtract(low, margin), most: add(high, margin) };
  let least = atMost === Number.POSITIVE_INFINITY ? atMost : Math.max(atMost * (1 + 1e-9), Number.MIN_VALUE);
  const visit = (node: MeshNode): void => {
    if (boxGap(node, bounds) >= least) return;
    if (node.triangles !== undefined) {
      for (const k of node.triangles)
        least = Math.min(least, convexDistance(hullBody(triangleAt(mesh, k)), body));
      return;
    }
    const [first, second] = node.children;
    const nearerFirst = boxGap(first, bounds) <= boxGap(second, bounds);
    visit(nearerFirst ? first : second);
    visit(nearerFirst ? second : first);
  };
  visit(mesh.root);
  return least;
}

function nodeOf(corners: Float64Array, triangles: readonly number[]): MeshNode {
  const box = boxOf(corners, triangles);
  if (triangles.length <= LEAF) return { ...box, triangles };
  const sides = [0, 1, 2].map((axis) => box.most[axis]! - box.least[axis]!);
  const axis = sides.indexOf(Math.max(...sides));
  const middle = (k: number): number =>
    corners[9 * k + axis]! + corners[9 * k + 3 + axis]! + corners[9 * k + 6 + axis]!;
  const sorted = triangles.toSorted((a, b) => middle(a) - middle(b) || a - b);
  const half = sorted.length >> 1;
  return { ...box, children: [nodeOf(corners, sorted.slice(0, half)), nodeOf(corners, sorted.slice(half))] };
}

function boxOf(corners: Float64Array, triangles: readonly number[]): Box {
  const least: [number, number, number] = [Infinity, Infinity, Infinity];
  const most: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (const k of triangles)
    for (let i = 0; i < 9; i++) {
      const value = corners[9 * k + i]!;
      least[i % 3] = Math.min(least[i % 3]!, value);
      most[i % 3] = Math.max(most[i % 3]!, value);
    }
  return { least, most };
}

function boxGap(a: Box, b: Box): number {
  let sum = 0;
  for (let axis = 0; axis < 3; axis++) {
    const gap = Math.max(0, a.least[axis]! - b.most[axis]!, b.least[axis]! - a.most[axis]!);
    sum += gap * gap;
  }
  return Math.sqrt(sum);
}
