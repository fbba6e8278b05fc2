/** An asphere as a sag in a frame of its own: where its vertex stands in the part frame, its x and its axis. mm. */
import { type Frame, placeFromParent, rotate } from '../geometry/frame.ts';
import { gridSag } from '../geometry/grid-sag.ts';
import { polynomialSag, zernikeSag } from '../geometry/polynomial-sag.ts';
import { asphereSag, type Sag, sumOfSags } from '../geometry/sag.ts';
import { sagDistance } from '../geometry/sag-distance.ts';
import { cross, negate, type Vec3 } from '../geometry/vector.ts';
import type { Asphere } from './datum.ts';

/** Base and freeform terms; of one datum always the same object, since a spline costs more than a look. */
export function sagOf(asphere: Asphere): Sag {
  const before = KNOWN.get(asphere);
  if (before !== undefined) return before;
  const { radius, conic, terms, xy, zernike, grid } = asphere;
  const sag = sumOfSags([
    asphereSag(radius === undefined ? 0 : 1 / radius, conic, terms),
    ...(xy.length === 0 ? [] : [polynomialSag(xy)]),
    ...(zernike === undefined ? [] : [zernikeSag(zernike.radius, zernike.terms)]),
    ...(grid === undefined ? [] : [gridSag(grid)]),
  ]);
  KNOWN.set(asphere, sag);
  return sag;
}

const KNOWN = new WeakMap<Asphere, Sag>();

/** Its own frame in the part frame. */
export function sagFrame({ vertex, x, axis }: Pick<Asphere, 'vertex' | 'x' | 'axis'>): Frame {
  const y = cross(axis, x);
  return {
    origin: vertex,
    rotation: [
      [x[0], y[0], axis[0]],
      [x[1], y[1], axis[1]],
      [x[2], y[2], axis[2]],
    ],
  };
}

/** Of a point in the part frame. */
interface AsphereDistance {
  /** Positive in the air. */
  readonly value: number;
  /** Into the air, at the point's foot. */
  readonly normal: Vec3;
}

/** The distance of any point from an asphere; undefined where it has no foot on it. */
export function distanceFromAsphere(asphere: Asphere): (point: Vec3) => AsphereDistance | undefined {
  const frame = sagFrame(asphere);
  const sag = sagOf(asphere);
  return (point) => {
    const found = sagDistance(sag, placeFromParent(frame, point));
    if (found === undefined) return undefined;
    const normal = rotate(frame.rotation, found.normal);
    return asphere.faces === '+'
      ? { value: found.value, normal }
      : { value: -found.value, normal: negate(normal) };
  };
}
