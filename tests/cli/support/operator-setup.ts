/** What a scene's patch is to the independent tracer; its corners, and whether a place belongs to it. mm, radians. */
import { minus, normed, type Vector } from '../../independent/ray.ts';
import type { PatchSetup, Place2 } from '../../independent/round-trip.ts';
import { lineDirectionOf } from '../../independent/round-trip.ts';
import { type PatchWish, type Scene, WAVELENGTH } from './operator-scenes.ts';

export const RADIANS = Math.PI / 180;

export interface PatchOnBench {
  readonly setup: PatchSetup;
  /** In the substrate frame, counterclockwise; a circle as 48 of its points. */
  readonly corners: readonly Place2[];
  /** The larger and half of the smaller of its extents along x and y. */
  readonly widest: number;
  readonly reach: number;
}

/** Undefined for a patch whose light comes back from nothing. */
export function onBench(scene: Scene, patch: PatchWish): PatchOnBench | undefined {
  const reference = scene.references.find(({ id }) => id === patch.reference)!;
  if (reference.kind === 'screen') return undefined;
  const corners = cornersOf(patch);
  const { substrate } = scene;
  const after = substrate.thickness > 0 && substrate.patternFaces === 'interferometer';
  const setup: PatchSetup = {
    wavelength: WAVELENGTH,
    centre: patch.centre,
    target: reference.at,
    reference:
      reference.kind === 'ball' ? { kind: 'ball', radius: reference.diameter! / 2 } : { kind: 'cube' },
    ...(patch.lineAngle === undefined ? {} : { lineAngle: patch.lineAngle * RADIANS }),
    ...(after ? { glass: substrate } : {}),
    within: (x, y) => isInside(corners, [x, y]),
  };
  const [xs, ys] = [0, 1].map((k) => corners.map((corner) => corner[k]!)) as [number[], number[]];
  const extents = [xs, ys].map((runs) => Math.max(...runs) - Math.min(...runs));
  return {
    setup: { ...setup, ...biasOf(setup, patch, corners) },
    corners,
    widest: Math.max(...extents),
    reach: Math.min(...extents) / 2,
  };
}

function biasOf(
  setup: PatchSetup,
  { bias, centre }: PatchWish,
  corners: readonly Place2[],
): Partial<PatchSetup> {
  if (bias === undefined) return {};
  const line = lineDirectionOf(setup);
  const angle = (bias.direction ?? 0) * RADIANS;
  const along = bias.direction === undefined && line !== undefined;
  const direction: Place2 = along ? [line[0], line[1]] : [Math.cos(angle), Math.sin(angle)];
  const runs = corners.map(([x, y]) => (x - centre[0]) * direction[0] + (y - centre[1]) * direction[1]);
  const [least, most] = [Math.min(...runs), Math.max(...runs)];
  const reach = bias.shape === 'roof' ? Math.max(-least, most) : most - least;
  return { bias: { shape: bias.shape, fringes: bias.fringes, direction, reach } };
}

export function cornersOf({ outline, centre: [cx, cy] }: PatchWish): readonly Place2[] {
  if ('polygon' in outline) return outline.polygon.points.map(([x, y]) => [cx + x, cy + y]);
  if ('circle' in outline)
    return Array.from({ length: 48 }, (_, k): Place2 => {
      const angle = (2 * Math.PI * k) / 48;
      return [
        cx + (outline.circle.diameter / 2) * Math.cos(angle),
        cy + (outline.circle.diameter / 2) * Math.sin(angle),
      ];
    });
  const { width, height, rotation = 0 } = outline.rectangle;
  const [c, s] = [Math.cos(rotation * RADIANS), Math.sin(rotation * RADIANS)];
  return [
    [1, 1],
    [-1, 1],
    [-1, -1],
    [1, -1],
  ].map(([a, b]): Place2 => {
    const [x, y] = [(a! * width) / 2, (b! * height) / 2];
    return [cx + x * c - y * s, cy + x * s + y * c];
  });
}

/** Of a convex outline that runs counterclockwise. */
export const isInside = (corners: readonly Place2[], [x, y]: Place2): boolean =>
  corners.every(([ax, ay], k) => {
    const [bx, by] = corners[(k + 1) % corners.length]!;
    return (bx - ax) * (y - ay) - (by - ay) * (x - ax) >= 0;
  });

/** Of a roof on a ball. */
export const isBallWithRoof = ({ focus, bias }: PatchWish): boolean =>
  focus === 'point' && bias?.shape === 'roof';

/** What the camera's pixels span on the pattern, mm: the marginal ray at tan θ = 1/(2·fNumber), bent where glass comes before. */
export function cameraDiameter({ beam, substrate }: Scene): number {
  const { focus, fNumber, beamDiameter } = beam;
  if (focus === undefined || fNumber === undefined) return beamDiameter!;
  const tangent = 1 / (2 * fNumber);
  const sine = Math.sin(Math.atan(tangent));
  const before = substrate.patternFaces === 'part' ? substrate.thickness : 0;
  return 2 * Math.abs((focus[2] + before) * tangent - before * Math.tan(Math.asin(sine / substrate.index)));
}

/**
 * The directions that a patch senses, as the documentation defines them: ℓ̂ × û of a line focus; of a point focus x made square to û, the
 * direction square to both, and û, the way of the light from the patch's centre.
 */
export function sensesOf({ setup }: PatchOnBench): readonly Vector[] {
  const chief = normed(minus(setup.target, [...setup.centre, 0]));
  const line = lineDirectionOf(setup);
  if (line !== undefined) return [normed(cross(line, chief))];
  const first = normed(minus([1, 0, 0], [chief[0] * chief[0], chief[1] * chief[0], chief[2] * chief[0]]));
  return [first, cross(chief, first), chief];
}

const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
