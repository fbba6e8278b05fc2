/**
 * The way from a point to a datum surface square on, by brute force: the surface is run over in two coordinates of its own, and the
 * distance to it made stationary there (Fermat: light that meets a mirror square on comes back on itself). mm. Shares no code and
 * no parametrisation with src/optics.
 */
import { type Place, stationary } from './fermat.ts';
import {
  type DatumWords,
  fromPart,
  inner,
  outer,
  placeFromPart,
  plus,
  radians,
  type Scene,
  unit,
} from './scene.ts';

/** The point of a surface at two coordinates, and where the search for the foot of `from` starts. */
interface Sheet {
  readonly at: (a: number, b: number) => Place;
  readonly start: (from: Place) => readonly [number, number];
  /** Seen from the axis, where the way is the same all round: the second coordinate is left at 0. */
  readonly isSeenFromAxis?: boolean;
}

/** mm from the axis, within which the way to either side differs by less than anything that is measured. */
const ON_AXIS = 1e-9;
/** mm: nearer to the axis the second coordinate is an arc at this radius. */
const LEAST_ARM = 1;

/** The distance, along the light, to the surface of a part's datum from a point before it. */
export function wayToSurface(scene: Scene, words: DatumWords): (from: Place) => number {
  const sheetOf = sheetsOf(scene, words);
  return (from) => {
    const { at, start, isSeenFromAxis } = sheetOf(from);
    const way = (a: number, b: number): number => Math.hypot(...plus(at(a, b), from, -1));
    // The square of b gives the search something to settle by.
    return stationary(start(from), isSeenFromAxis ? (a, b) => way(a, 0) + b * b : way).path;
  };
}

/** Two unit vectors square to an axis and to each other. */
function square(axis: Place): readonly [Place, Place] {
  const other: Place = Math.abs(axis[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0];
  const first = unit(outer(axis, other));
  return [first, outer(axis, first)];
}

function sheetsOf(scene: Scene, { plane, sphere, cone, torus }: DatumWords): (from: Place) => Sheet {
  const place = (at: Place): Place => placeFromPart(scene, at);
  const along = (direction: Place): Place => unit(fromPart(scene, direction));
  if (plane) {
    const [point, [u, v]] = [place(plane.point), square(along(plane.normal))];
    return () => ({
      at: (a, b) => plus(plus(point, u, a), v, b),
      start: (from) => [inner(plus(from, point, -1), u), inner(plus(from, point, -1), v)],
    });
  }
  if (sphere) {
    const [centre, radius] = [place(sphere.centre), sphere.diameter / 2];
    return (from) => {
      // A convex land is met on this side of its centre, a hollow one beyond its centre, or ahead of the light that comes from there.
      const toCentre = unit(plus(centre, from, -1));
      const pole = sphere.side === 'inside' && toCentre[2] > 0 ? toCentre : scaled(toCentre, -1);
      const [u, v] = square(pole);
      return {
        at: (a, b) => plus(centre, unit(plus(plus(pole, u, a / radius), v, b / radius)), radius),
        start: () => [0, 0],
      };
    };
  }
  if (cone) {
    const [apex, axis, half] = [place(cone.apex), along(cone.axis), radians(cone.angle / 2)];
    return (from) => {
      const radial = acrossAxis(from, apex, axis);
      const side = outer(axis, radial);
      const rho = inner(plus(from, apex, -1), radial);
      const isSeenFromAxis = rho < ON_AXIS;
      return {
        isSeenFromAxis,
        at: (slant, turned) => {
          const angle = turned / Math.max(rho, LEAST_ARM);
          const out = plus(scaled(radial, Math.cos(angle)), side, Math.sin(angle));
          return plus(plus(apex, axis, slant * Math.cos(half)), out, slant * Math.sin(half));
        },
        start: () => [inner(plus(from, apex, -1), axis) * Math.cos(half) + rho * Math.sin(half), 0],
      };
    };
  }
  if (torus) {
    const [centre, axis] = [place(torus.centre), along(torus.axis)];
    const [ring, tube] = [torus.diameter / 2, torus.tube / 2];
    return (from) => {
      const radial = acrossAxis(from, centre, axis);
      const side = outer(axis, radial);
      const toCircle = unit(plus(plus(centre, radial, ring), from, -1));
      const beyond = torus.side === 'inside' && toCircle[2] > 0 ? 1 : -1;
      const isSeenFromAxis = inner(plus(from, centre, -1), radial) < ON_AXIS;
      const begin = Math.atan2(beyond * inner(toCircle, axis), beyond * inner(toCircle, radial));
      return {
        isSeenFromAxis,
        at: (rolled, turned) => {
          const [psi, angle] = [begin + rolled / tube, turned / ring];
          const out = plus(scaled(radial, Math.cos(angle)), side, Math.sin(angle));
          return plus(plus(centre, out, ring + tube * Math.cos(psi)), axis, tube * Math.sin(psi));
        },
        start: () => [0, 0],
      };
    };
  }
  throw new Error('a datum of another kind cannot be met square on');
}

const scaled = (a: Place, factor: number): Place => [a[0] * factor, a[1] * factor, a[2] * factor];

/** On the axis any direction across it serves. */
function acrossAxis(from: Place, point: Place, axis: Place): Place {
  const d = plus(from, point, -1);
  const across = plus(d, axis, -inner(d, axis));
  return Math.hypot(...across) < ON_AXIS ? square(axis)[0] : unit(across);
}
