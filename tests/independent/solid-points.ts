/**
 * Solids by sampling: points of their surfaces, and whether a point is inside. How deep a sphere cuts one, as the nearest of many points
 * tells. Numbers as a scenario has them: mm, round dimensions as diameters; axes along +z. Shares nothing with src/.
 */
import type { Place } from './fermat.ts';

export interface SolidWords {
  readonly cylinder?: Upright & { readonly diameter: number };
  readonly cone?: Upright & { readonly diameters: readonly [number, number] };
  readonly box?: { readonly corner: Place; readonly size: Place };
  readonly sphere?: { readonly centre: Place; readonly diameter: number };
}

interface Upright {
  readonly point: Place;
  readonly axis: readonly [0, 0, 1];
  readonly length: number;
}

interface Sampled {
  readonly surface: readonly Place[];
  readonly holds: (p: Place) => boolean;
}

/** Steps along each of the two directions of a face. */
const FINE = 140;
const steps = (most = FINE): readonly number[] => Array.from({ length: most + 1 }, (_, k) => k / most);

export function sampled(words: SolidWords): Sampled {
  const { cylinder, cone, box, sphere } = words;
  if (box !== undefined) return sampledBox(box.corner, box.size);
  if (sphere !== undefined) return sampledSphere(sphere.centre, sphere.diameter / 2);
  const [near, far] = cone?.diameters ?? [cylinder!.diameter, cylinder!.diameter];
  return sampledFrustum((cone ?? cylinder)!, near / 2, far / 2);
}

function sampledFrustum({ point: [x, y, z], length }: Upright, near: number, far: number): Sampled {
  const round = steps(4 * FINE).map((share) => 2 * Math.PI * share);
  const radius = (height: number): number => near + ((far - near) * height) / length;
  const on = (rho: number, height: number): Place[] =>
    round.map((turn) => [x + rho * Math.cos(turn), y + rho * Math.sin(turn), z + height]);
  return {
    surface: steps().flatMap((share) => [
      ...on(radius(share * length), share * length),
      ...on(share * near, 0),
      ...on(share * far, length),
    ]),
    holds: (p) => {
      const height = p[2] - z;
      return height >= 0 && height <= length && Math.hypot(p[0] - x, p[1] - y) <= radius(height);
    },
  };
}

function sampledBox(corner: Place, size: Place): Sampled {
  const at = (shares: Place): Place => [
    corner[0] + shares[0] * size[0],
    corner[1] + shares[1] * size[1],
    corner[2] + shares[2] * size[2],
  ];
  const surface = steps().flatMap((u) =>
    steps().flatMap((v) => [0, 1].flatMap((end) => [at([u, v, end]), at([u, end, v]), at([end, u, v])])),
  );
  return {
    surface,
    holds: (p) => [0, 1, 2].every((k) => p[k]! >= corner[k]! && p[k]! <= corner[k]! + size[k]!),
  };
}

function sampledSphere(centre: Place, radius: number): Sampled {
  const surface = steps(2 * FINE).flatMap((down) =>
    steps(4 * FINE).map((around): Place => {
      const [tilt, turn] = [Math.PI * down, 2 * Math.PI * around];
      const rho = radius * Math.sin(tilt);
      return [
        centre[0] + rho * Math.cos(turn),
        centre[1] + rho * Math.sin(turn),
        centre[2] + radius * Math.cos(tilt),
      ];
    }),
  );
  return { surface, holds: (p) => apart(p, centre) <= radius };
}

const apart = (p: Place, q: Place): number => Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);

/** No point of a surface of some 50 mm is farther than this from a sample, mm: half the diagonal of the widest cell. */
const HALF_CELL = 0.25;

/** Between which figures the overlap of a sphere with the solid lies (negative: apart), by the nearest sample to its centre. */
export function overlapBySampling(
  { surface, holds }: Sampled,
  centre: Place,
  radius: number,
): [number, number] {
  let far = Number.POSITIVE_INFINITY;
  for (const point of surface) far = Math.min(far, apart(point, centre));
  // The nearest point itself is at a right angle to the way from it to the sample, or beyond.
  const near = Math.sqrt(Math.max(0, far * far - HALF_CELL * HALF_CELL));
  return holds(centre) ? [radius + near, radius + far] : [radius - far, radius - near];
}

/** The point nearest to a sphere's centre of those samples that lie on a surface; Infinity where none does. */
export function distanceOnSurface(
  solids: readonly Sampled[],
  liesOn: (p: Place) => boolean,
  centre: Place,
): number {
  let least = Number.POSITIVE_INFINITY;
  for (const { surface } of solids)
    for (const point of surface) if (liesOn(point)) least = Math.min(least, apart(point, centre));
  return least;
}
