/**
 * A ray traced the plain way, to test phases against: vector Snell's law at plane faces, no eikonals. mm, unit vectors.
 * Shares no code with src/optics.
 */
export type Vector = readonly [number, number, number];

export const minus = (a: Vector, b: Vector): Vector => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const size = (a: Vector): number => Math.hypot(...a);
export const normed = (a: Vector): Vector => [a[0] / size(a), a[1] / size(a), a[2] / size(a)];

/** Where the ray meets the plane z = `z`, and the way there. */
export function toPlane(from: Vector, direction: Vector, z: number): { at: Vector; way: number } {
  const way = (z - from[2]) / direction[2];
  return { at: [from[0] + way * direction[0], from[1] + way * direction[1], z], way };
}

/** Refraction at a face square to z, by angles: sin θ' = (n/n') sin θ in the plane of incidence. */
export function refract(direction: Vector, from: number, to: number): Vector {
  const sine = Math.hypot(direction[0], direction[1]);
  if (sine === 0) return direction;
  const angle = Math.asin((sine * from) / to);
  const turn = Math.sin(angle) / sine;
  return [direction[0] * turn, direction[1] * turn, Math.cos(angle) * Math.sign(direction[2])];
}

/** A ray of lateral optical cosines p (index times direction cosine) in a medium of index n, going along +z. */
export const fromCosines = (px: number, py: number, n: number): Vector => [
  px / n,
  py / n,
  Math.sqrt(1 - (px * px + py * py) / (n * n)),
];
