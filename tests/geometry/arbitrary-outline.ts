/** Random outlines for the laws of the geometry, and an independent brute-force view of them. */
import fc from 'fast-check';
import type { Outline } from '../../src/geometry/outline.ts';
import type { Vec2 } from '../../src/geometry/vector.ts';

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true, noDefaultInfinity: true });
const place = (reach: number): fc.Arbitrary<Vec2> => fc.tuple(number(-reach, reach), number(-reach, reach));

export function arbitraryOutline(reach = 30): fc.Arbitrary<Outline> {
  const centre = place(reach);
  const circle = fc.record({ shape: fc.constant('circle' as const), centre, radius: number(0.5, 15) });
  const rectangle = fc.record({
    shape: fc.constant('rectangle' as const),
    centre,
    width: number(0.5, 25),
    height: number(0.5, 25),
    rotation: number(-4, 4),
  });
  const ring = fc
    .record({ centre, inner: number(0.5, 10), wall: number(0.2, 8) })
    .map(({ centre, inner, wall }) => ({
      shape: 'ring' as const,
      centre,
      inner,
      outer: inner + wall,
    }));
  const sector = fc
    .record({
      centre,
      inner: fc.oneof(fc.constant(0), number(0.3, 10)),
      wall: number(0.3, 8),
      from: number(-7, 7),
      span: number(0.05, 6.2),
    })
    .map(({ centre, inner, wall, from, span }) => ({
      shape: 'sector' as const,
      centre,
      inner,
      outer: inner + wall,
      from,
      to: from + span,
    }));
  // Star-shaped about its centre, so simple; concave as a rule.
  const polygon = fc
    .record({ centre, radii: fc.array(number(1, 14), { minLength: 3, maxLength: 9 }), turn: number(0, 6) })
    .map(({ centre, radii, turn }) => ({
      shape: 'polygon' as const,
      points: radii.map((radius, k): Vec2 => {
        const angle = turn + (2 * Math.PI * k) / radii.length;
        return [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)];
      }),
    }));
  return fc.oneof(circle, rectangle, ring, sector, polygon);
}

export { number as arbitraryNumber, place as arbitraryPlace };

interface Edge {
  readonly sides: number;
  /** Whether each side closes on itself, so that t may run past 0 and 1. */
  readonly closed: boolean;
  readonly at: (side: number, t: number) => Vec2;
}

/** The edge's points by side and by t from 0 to 1 along it, written independently of the pieces. */
export function edgeByParameter(outline: Outline): Edge {
  const polar = ([x, y]: Vec2, radius: number, angle: number): Vec2 => [
    x + radius * Math.cos(angle),
    y + radius * Math.sin(angle),
  ];
  const between = (p: Vec2, q: Vec2, t: number): Vec2 => [
    p[0] * (1 - t) + q[0] * t,
    p[1] * (1 - t) + q[1] * t,
  ];
  switch (outline.shape) {
    case 'circle':
      return { sides: 1, closed: true, at: (_, t) => polar(outline.centre, outline.radius, 2 * Math.PI * t) };
    case 'ring':
      return {
        sides: 2,
        closed: true,
        at: (side, t) => polar(outline.centre, side === 0 ? outline.outer : outline.inner, 2 * Math.PI * t),
      };
    case 'ellipse': {
      const { centre, width, height, rotation } = outline;
      const [c, s] = [Math.cos(rotation), Math.sin(rotation)];
      return {
        sides: 1,
        closed: true,
        at: (_, t) => {
          const u = (width / 2) * Math.cos(2 * Math.PI * t);
          const v = (height / 2) * Math.sin(2 * Math.PI * t);
          return [centre[0] + u * c - v * s, centre[1] + u * s + v * c];
        },
      };
    }
    case 'rectangle': {
      const { centre, width, height, rotation } = outline;
      const corner = (k: number): Vec2 => {
        const u = ([-1, 1, 1, -1][k % 4]! * width) / 2;
        const v = ([-1, -1, 1, 1][k % 4]! * height) / 2;
        return [
          centre[0] + u * Math.cos(rotation) - v * Math.sin(rotation),
          centre[1] + u * Math.sin(rotation) + v * Math.cos(rotation),
        ];
      };
      return { sides: 4, closed: false, at: (side, t) => between(corner(side), corner(side + 1), t) };
    }
    case 'sector': {
      const { centre, inner, outer, from, to } = outline;
      const angle = (t: number): number => from + (to - from) * t;
      return {
        sides: 4,
        closed: false,
        at: (side, t) => {
          if (side === 0) return polar(centre, outer, angle(t));
          if (side === 1) return polar(centre, inner, angle(t));
          return polar(centre, inner + (outer - inner) * t, side === 2 ? from : to);
        },
      };
    }
    case 'polygon': {
      const { points } = outline;
      return {
        sides: points.length,
        closed: false,
        at: (side, t) => between(points[side]!, points[(side + 1) % points.length]!, t),
      };
    }
  }
}

/** The largest of a function along a side: sampled, then the best run narrowed. */
export function maximise(f: (t: number) => number, closed: boolean, samples = 64): number {
  let [best, at] = [Number.NEGATIVE_INFINITY, 0];
  for (let k = 0; k <= samples; k++) {
    const value = f(k / samples);
    if (value > best) [best, at] = [value, k / samples];
  }
  for (let step = 1 / samples; step > 1e-13; step /= 2)
    for (const t of [at - step, at + step]) {
      const along = closed ? t : Math.max(0, Math.min(1, t));
      const value = f(along);
      if (value > best) [best, at] = [value, along];
    }
  return best;
}
