/**
 * What a touch asks of the ball's centre, as conditions f(c) = 0 in the part frame: every f is a distance in mm (it
 * changes by no more than the way the centre goes), positive on the outer side of its surface of centres.
 * A ball of radius r rests on the surface offset by r along its normal: a plane moves by r, a cylinder or a sphere grows
 * (touched outside) or shrinks (inside) by r, a cone moves square to its flank and is rounded about its tip, a point
 * becomes a sphere, a vee the line r/sin(angle/2) above its bottom.
 */
import { portableCos, portableSin } from '../algebra/portable/math.ts';
import { add, cross, dot, length, scale, squareTo, subtract, unit, type Vec3 } from '../geometry/vector.ts';
import type { Asphere, Datum, Touch } from './datum.ts';
import { distanceFromAsphere } from './datum-sag.ts';

export type Word = 'azimuth' | 'height' | 'x' | 'y' | 'z';
const WORDS: readonly Word[] = ['azimuth', 'height', 'x', 'y', 'z'];

export interface Condition {
  /** mm; 0 where the condition holds. */
  readonly value: (c: Vec3) => number;
  /** Its gradient: of unit length where the surface of centres is smooth. */
  readonly gradient: (c: Vec3) => Vec3;
  /** Whether it is a plane: the gradient is the same everywhere. */
  readonly flat: boolean;
}

/** One touch, or one word of a touch: taken or left as a whole. */
export interface Demand {
  readonly touch: number;
  readonly datum: string;
  /** Undefined for the touch itself. */
  readonly word: Word | undefined;
  readonly conditions: readonly Condition[];
  /** How far the centre is from meeting it, mm; an azimuth is a half-plane and counts its wrong side as a miss. */
  readonly miss: (c: Vec3) => number;
}

/** Radii of centres under this (mm) are none: a ball that just fills its bore stands on the bore's axis. */
export const NO_RADIUS = 1e-9;
/** An axis nearer to the part's x than this (rad) has no use of x for its azimuth: 10 µrad, where squaring loses digits. */
const ALONG_X = 1e-5;

/** The line an azimuth turns about and a height runs along: a plane's normal, and +z for a sphere or a point. */
export function axisOf(datum: Datum): { readonly point: Vec3; readonly axis: Vec3 } {
  switch (datum.kind) {
    case 'plane':
      return { point: datum.point, axis: unit(datum.normal) };
    case 'cylinder':
    case 'vee':
      return { point: datum.point, axis: unit(datum.axis) };
    case 'cone':
      return { point: datum.apex, axis: unit(datum.axis) };
    case 'torus':
      return { point: datum.centre, axis: unit(datum.axis) };
    case 'sphere':
      return { point: datum.centre, axis: [0, 0, 1] };
    case 'point':
      return { point: datum.point, axis: [0, 0, 1] };
    case 'asphere':
      return { point: datum.vertex, axis: datum.axis };
  }
}

/** The direction of an azimuth about an axis: from the part's +x made square to the axis (+y for an axis along x). */
export function azimuthDirection(axis: Vec3, azimuth: number): Vec3 {
  const fromX = squareTo([1, 0, 0], axis);
  const zero = unit(length(fromX) > ALONG_X ? fromX : squareTo([0, 1, 0], axis));
  return add(scale(zero, portableCos(azimuth)), scale(cross(axis, zero), portableSin(azimuth)));
}

/** The condition(s) of touching a datum with a ball of radius r. Inside a bore smaller than the ball there is none. */
export function touchDemand(datum: Datum, r: number, touch: number): Demand {
  const conditions = surfaceConditions(datum, r);
  return { touch, datum: datum.id, word: undefined, conditions, miss: (c) => largestMiss(conditions, c) };
}

/** The conditions of a touch's words, in the order of WORDS. */
export function wordDemands(datum: Datum, words: Touch, touch: number): readonly Demand[] {
  const { point, axis } = axisOf(datum);
  return WORDS.flatMap((word): Demand[] => {
    const figure = words[word];
    if (figure === undefined) return [];
    const shared = { touch, datum: datum.id, word };
    if (word === 'azimuth') {
      const radial = azimuthDirection(axis, figure);
      const condition = flat(cross(axis, radial), point);
      const miss = (c: Vec3): number =>
        dot(subtract(c, point), radial) >= 0
          ? Math.abs(condition.value(c))
          : length(squareTo(subtract(c, point), axis));
      return [{ ...shared, conditions: [condition], miss }];
    }
    const conditions = [
      word === 'height' ? flat(axis, add(point, scale(axis, figure))) : coordinate(word, figure),
    ];
    return [{ ...shared, conditions, miss: (c) => largestMiss(conditions, c) }];
  });
}

/** The direction in which a word moves the centre's figure, for asking what a word would fix. */
export function wordGradient(datum: Datum, word: Word, c: Vec3): Vec3 {
  const { point, axis } = axisOf(datum);
  if (word === 'azimuth') {
    const turn = cross(axis, subtract(c, point));
    return length(turn) > NO_RADIUS ? unit(turn) : [0, 0, 0];
  }
  return word === 'height' ? axis : UNIT_VECTORS[word];
}

/** A vee's line of centres: `normal` square to the axis, the flanks' unit normals out of the material. */
export function veeGeometry(vee: Extract<Datum, { kind: 'vee' }>): {
  readonly axis: Vec3;
  readonly normal: Vec3;
  readonly flanks: readonly [Vec3, Vec3];
} {
  const axis = unit(vee.axis);
  const normal = unit(squareTo(unit(vee.normal), axis));
  const side = cross(axis, normal);
  const [c, s] = [portableCos(vee.angle / 2), portableSin(vee.angle / 2)];
  const flank = (sign: 1 | -1): Vec3 => add(scale(normal, s), scale(side, sign * c));
  return { axis, normal, flanks: [flank(1), flank(-1)] };
}

const UNIT_VECTORS = { x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] } as const;

const largestMiss = (conditions: readonly Condition[], c: Vec3): number =>
  Math.max(...conditions.map((condition) => Math.abs(condition.value(c))));

const flat = (normal: Vec3, through: Vec3): Condition => ({
  value: (c) => dot(subtract(c, through), normal),
  gradient: () => normal,
  flat: true,
});

const coordinate = (word: 'x' | 'y' | 'z', figure: number): Condition =>
  flat(UNIT_VECTORS[word], scale(UNIT_VECTORS[word], figure));

function surfaceConditions(datum: Datum, r: number): readonly Condition[] {
  switch (datum.kind) {
    case 'plane': {
      const normal = unit(datum.normal);
      return [flat(normal, add(datum.point, scale(normal, r)))];
    }
    case 'cylinder':
      return aboutLine(
        datum.point,
        unit(datum.axis),
        datum.diameter / 2 + (datum.side === 'outside' ? r : -r),
      );
    case 'sphere':
      return aboutPoint(datum.centre, datum.diameter / 2 + (datum.side === 'outside' ? r : -r));
    case 'torus':
      return [aboutCircle(datum, datum.tube / 2 + (datum.side === 'outside' ? r : -r))];
    case 'point':
      return aboutPoint(datum.point, r);
    case 'cone':
      return [datum.side === 'outside' ? coneOutside(datum, r) : coneInside(datum, r)];
    case 'asphere':
      return [besideAsphere(datum, r)];
    case 'vee': {
      const { axis, normal } = veeGeometry(datum);
      const through = add(datum.point, scale(normal, r / portableSin(datum.angle / 2)));
      // Up and sideways, which fix the same line as the two flanks and stay square to one another in any vee.
      return [flat(normal, through), flat(cross(axis, normal), through)];
    }
  }
}

function aboutLine(point: Vec3, axis: Vec3, radius: number): readonly Condition[] {
  if (Math.abs(radius) <= NO_RADIUS) {
    const square = azimuthDirection(axis, 0);
    return [flat(square, point), flat(cross(axis, square), point)];
  }
  const radial = (c: Vec3): Vec3 => squareTo(subtract(c, point), axis);
  return [
    { value: (c) => length(radial(c)) - radius, gradient: (c) => directionOrNone(radial(c)), flat: false },
  ];
}

function aboutPoint(centre: Vec3, radius: number): readonly Condition[] {
  if (Math.abs(radius) <= NO_RADIUS)
    return (['x', 'y', 'z'] as const).map((word) => flat(UNIT_VECTORS[word], centre));
  const away = (c: Vec3): Vec3 => subtract(c, centre);
  return [{ value: (c) => length(away(c)) - radius, gradient: (c) => directionOrNone(away(c)), flat: false }];
}

/** At `radius` from a torus's circle; a ball that just fills a groove of its own size runs on the circle itself. */
function aboutCircle(torus: Extract<Datum, { kind: 'torus' }>, radius: number): Condition {
  const { point, axis } = axisOf(torus);
  const fromCircle = (c: Vec3): Vec3 => {
    const v = subtract(c, point);
    const radial = squareTo(v, axis);
    return subtract(v, scale(directionOrNone(radial), torus.diameter / 2));
  };
  return {
    value: (c) => length(fromCircle(c)) - radius,
    gradient: (c) => directionOrNone(fromCircle(c)),
    flat: false,
  };
}

type Cone = Extract<Datum, { kind: 'cone' }>;

/** Outside a cone: r from its flank, or from its tip where the tip is what the ball meets. */
function coneOutside(cone: Cone, r: number): Condition {
  const { point: apex, axis } = axisOf(cone);
  const [cos, sin] = [portableCos(cone.angle / 2), portableSin(cone.angle / 2)];
  const parts = (c: Vec3) => {
    const v = subtract(c, apex);
    const h = dot(v, axis);
    const radial = subtract(v, scale(axis, h));
    const away = length(radial);
    return { v, h, radial, away, onFlank: h * cos + away * sin >= 0 };
  };
  return {
    value: (c) => {
      const { v, h, away, onFlank } = parts(c);
      return (onFlank ? away * cos - h * sin : length(v)) - r;
    },
    gradient: (c) => {
      const { v, radial, onFlank } = parts(c);
      return onFlank ? add(scale(directionOrNone(radial), cos), scale(axis, -sin)) : directionOrNone(v);
    },
    flat: false,
  };
}

/** Inside a cone: r from the flank all round at most; on the axis, at r/sin(angle/2), the ball is seated on a circle. */
function coneInside(cone: Cone, r: number): Condition {
  const { point: apex, axis } = axisOf(cone);
  const [cos, sin] = [portableCos(cone.angle / 2), portableSin(cone.angle / 2)];
  const radial = (c: Vec3): Vec3 => squareTo(subtract(c, apex), axis);
  return {
    value: (c) => dot(subtract(c, apex), axis) * sin - length(radial(c)) * cos - r,
    gradient: (c) => add(scale(axis, sin), scale(directionOrNone(radial(c)), -cos)),
    flat: false,
  };
}

/** At r from an asphere, in the air; where it has no foot of the centre, as far off as its vertex is. */
function besideAsphere(asphere: Asphere, r: number): Condition {
  const away = (c: Vec3): Vec3 => subtract(c, asphere.vertex);
  const distance = distanceFromAsphere(asphere);
  return {
    value: (c) => (distance(c)?.value ?? length(away(c))) - r,
    gradient: (c) => distance(c)?.normal ?? directionOrNone(away(c)),
    flat: false,
  };
}

const directionOrNone = (v: Vec3): Vec3 => {
  const size = length(v);
  return size > 0 ? scale(v, 1 / size) : [0, 0, 0];
};
