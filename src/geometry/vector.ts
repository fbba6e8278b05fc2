/**
 * Vectors of the plane and of space, as read-only tuples; lengths in mm wherever a vector is a place.
 */
export type Vec2 = readonly [x: number, y: number];
export type Vec3 = readonly [x: number, y: number, z: number];

export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const subtract = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const scale = (a: Vec3, factor: number): Vec3 => [a[0] * factor, a[1] * factor, a[2] * factor];
export const negate = (a: Vec3): Vec3 => [-a[0], -a[1], -a[2]];
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const length = (a: Vec3): number => Math.sqrt(dot(a, a));
export const distance = (a: Vec3, b: Vec3): number => length(subtract(a, b));

/** The unit vector along `a`. Throws a RangeError for a vector without a direction. */
export function unit(a: Vec3): Vec3 {
  const size = length(a);
  if (!(size > 0) || !Number.isFinite(size))
    throw new RangeError(`no direction in the vector [${a.join(', ')}]`);
  return scale(a, 1 / size);
}

/** The part of `a` that is square to the unit vector `direction`. */
export const squareTo = (a: Vec3, direction: Vec3): Vec3 => subtract(a, scale(direction, dot(a, direction)));

export const add2 = (a: Vec2, b: Vec2): Vec2 => [a[0] + b[0], a[1] + b[1]];
export const subtract2 = (a: Vec2, b: Vec2): Vec2 => [a[0] - b[0], a[1] - b[1]];
export const dot2 = (a: Vec2, b: Vec2): number => a[0] * b[0] + a[1] * b[1];
export const cross2 = (a: Vec2, b: Vec2): number => a[0] * b[1] - a[1] * b[0];
export const distance2 = (a: Vec2, b: Vec2): number => Math.sqrt((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2);
/** √(x² + y²), for loops: Math.hypot costs many times as much, and no length here comes near an overflow. */
export const hypot2 = (x: number, y: number): number => Math.sqrt(x * x + y * y);
