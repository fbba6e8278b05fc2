import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Frame, placeFromParent, rotate, rotationFromAngles } from '../../src/geometry/frame.ts';
import {
  add,
  cross,
  distance,
  dot,
  length,
  scale,
  subtract,
  unit,
  type Vec3,
} from '../../src/geometry/vector.ts';
import type { Datum, Touch } from '../../src/scenario/datum.ts';
import { placeReference, touchNormals } from '../../src/scenario/touch.ts';
import '../machine/patience.ts';

// The same cases in every run; the laws were also held over some thousands of others.
fc.configureGlobal({ seed: 20_011 });

const HERE: Frame = {
  origin: [0, 0, 0],
  rotation: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
};
const SMR = 38.1;
const TURN = Math.PI / 180;

const A: Datum = { id: 'A', kind: 'plane', point: [0, 0, 0], normal: [0, 0, -1] };
const side: Datum = { id: 'S', kind: 'plane', point: [0, 0, 0], normal: [1, 0, 0] };
const end: Datum = { id: 'E', kind: 'plane', point: [0, 0, 0], normal: [0, 1, 0] };
const B: Datum = {
  id: 'B',
  kind: 'cylinder',
  point: [0, 0, 0],
  axis: [0, 0, 1],
  diameter: 240,
  side: 'outside',
};
const bore: Datum = { ...B, id: 'D', diameter: 100, side: 'inside' };
const lying: Datum = {
  id: 'L',
  kind: 'cylinder',
  point: [0, 0, 0],
  axis: [1, 0, 0],
  diameter: 60,
  side: 'outside',
};
const cone: Datum = {
  id: 'C',
  kind: 'cone',
  apex: [0, 0, 10],
  axis: [0, 0, 1],
  angle: 90 * TURN,
  side: 'outside',
};
const funnel: Datum = { ...cone, id: 'F', side: 'inside' };
const dome: Datum = { id: 'K', kind: 'sphere', centre: [0, 0, 0], diameter: 80, side: 'outside' };
const bowl: Datum = { ...dome, id: 'H', side: 'inside' };
const bead: Datum = {
  id: 'U',
  kind: 'torus',
  centre: [0, 0, 0],
  axis: [0, 0, 1],
  diameter: 200,
  tube: 40,
  side: 'outside',
};
const groove: Datum = { ...bead, id: 'G', side: 'inside' };
const vee: Datum = {
  id: 'V',
  kind: 'vee',
  point: [5, 0, 0],
  axis: [0, 1, 0],
  normal: [0, 0, 1],
  angle: 90 * TURN,
};
const pin = (id: string, point: Vec3): Datum => ({ id, kind: 'point', point });
const datums = [
  A,
  side,
  end,
  B,
  bore,
  lying,
  cone,
  funnel,
  dome,
  bowl,
  bead,
  groove,
  vee,
  pin('P', [0, 0, 0]),
  pin('Q', [6, 0, 0]),
  pin('R', [0, 6, 0]),
];

const place = (touches: readonly Touch[], diameter: number, list: readonly Datum[] = datums, part = HERE) =>
  placeReference(touches, list, diameter, part);

function centreOf(
  touches: readonly Touch[],
  diameter: number,
  list: readonly Datum[] = datums,
  part = HERE,
): Vec3 {
  const result = place(touches, diameter, list, part);
  if ('code' in result) throw new Error(`${result.code}: ${result.message}; ${result.hint}`);
  return result.at;
}

const r = SMR / 2;
const half = Math.SQRT1_2;

describe('a ball placed by its touches, worked by hand', () => {
  it.each<[string, readonly Touch[], number, Vec3]>([
    [
      'cylinder, azimuth, plane: 120 + 19.05 out, 19.05 before the plane',
      [{ datum: 'B', azimuth: 90 * TURN }, { datum: 'A' }],
      SMR,
      [0, 139.05, -19.05],
    ],
    [
      'the same azimuth written a turn away',
      [{ datum: 'B', azimuth: -270 * TURN }, { datum: 'A' }],
      SMR,
      [0, 139.05, -19.05],
    ],
    ['bore: 50 − 10 out', [{ datum: 'D', azimuth: Math.PI }, { datum: 'A' }], 20, [-40, 0, -10]],
    [
      'azimuth about an axis along x starts from +y toward +z',
      [{ datum: 'L', azimuth: 90 * TURN, height: 7 }],
      20,
      [7, 0, 40],
    ],
    ['three planes', [{ datum: 'A' }, { datum: 'S' }, { datum: 'E' }], 20, [10, 10, -10]],
    ['a plane and two coordinates', [{ datum: 'A', x: 3, y: -4 }], 20, [3, -4, -10]],
    [
      'cone of 90°, azimuth, height: flank distance (ρ − h)/√2 = r',
      [{ datum: 'C', azimuth: 0, height: 30 }],
      SMR,
      [30 + r / half, 0, 40],
    ],
    [
      'inside a cone, off its axis: (h − ρ)/√2 = r',
      [{ datum: 'F', azimuth: 90 * TURN, height: 30 }],
      10,
      [0, 30 - 5 / half, 40],
    ],
    [
      'inside a cone, seated: r/sin 45° above the apex',
      [{ datum: 'F', x: 0, y: 0 }],
      10,
      [0, 0, 10 + 5 / half],
    ],
    [
      'on a torus, azimuth, height: 20 + 5 from its circle of radius 100, 3-4-5',
      [{ datum: 'U', azimuth: 90 * TURN, height: 20, y: 115 }],
      10,
      [0, 115, 20],
    ],
    [
      'in the groove of a torus: 20 − 5 from its circle',
      [{ datum: 'G', azimuth: 0, height: 9, x: 88 }],
      10,
      [88, 0, 9],
    ],
    ['on the tip of a cone: 3-4-5', [{ datum: 'C', azimuth: 0, height: -4 }], 10, [3, 0, 6]],
    [
      'sphere, azimuth, height: 40 + 10 away',
      [{ datum: 'K', azimuth: 90 * TURN, height: 30 }],
      20,
      [0, 40, 30],
    ],
    ['inside a sphere: 40 − 10 away', [{ datum: 'H', azimuth: 0, height: 18 }], 20, [24, 0, 18]],
    [
      'vee of 90° and a plane: r√2 above its bottom',
      [{ datum: 'V' }, { datum: 'E' }],
      20,
      [5, 10, 10 / half],
    ],
    ['vee and a height', [{ datum: 'V', height: -12 }], 20, [5, -12, 10 / half]],
    [
      'three points, chosen by a coordinate',
      [{ datum: 'P', z: 4.1231 }, { datum: 'Q' }, { datum: 'R' }],
      2 * Math.sqrt(35),
      [3, 3, Math.sqrt(17)],
    ],
    [
      'cylinder and two planes, chosen by an azimuth',
      [{ datum: 'B', azimuth: 85.5884 * TURN }, { datum: 'A' }, { datum: 'S' }],
      20,
      [10, Math.sqrt(130 ** 2 - 100), -10],
    ],
    ['a ball that just fills a bore stands on its axis', [{ datum: 'D' }, { datum: 'A' }], 100, [0, 0, -50]],
    ['a ball that just fills a bowl', [{ datum: 'H' }], 80, [0, 0, 0]],
  ])('%s', (_, touches, diameter, at) => {
    expect(distance(centreOf(touches, diameter), at)).toBeLessThan(1e-9);
  });

  // Two solutions run together: the touches are met to 1e-10 mm, the centre only to the root of that times the size.
  it.each<[string, readonly Touch[], number, Vec3]>([
    [
      'three points with the ball’s centre in their plane',
      [{ datum: 'P' }, { datum: 'Q' }, { datum: 'R' }],
      2 * Math.sqrt(18),
      [3, 3, 0],
    ],
    [
      'a plane that touches a cylinder along its length: a double contact',
      [{ datum: 'L', x: 2 }, { datum: 'T' }],
      20,
      [2, 0, 40],
    ],
  ])('double contact: %s', (_, touches, diameter, at) => {
    const tangent: Datum = { id: 'T', kind: 'plane', point: [0, 0, 30], normal: [0, 0, 1] };
    expect(distance(centreOf(touches, diameter, [...datums, tangent]), at)).toBeLessThan(1e-4);
  });
});

describe('why a ball has no one place', () => {
  it.each<[string, readonly Touch[], number, string, RegExp, RegExp, number | undefined]>([
    ['nothing touched', [], 20, 'touch-underdetermined', /touches no datum/, /`touches`/, undefined],
    [
      'a cylinder and a plane',
      [{ datum: 'B' }, { datum: 'A' }],
      20,
      'touch-underdetermined',
      /free to turn about B’s axis$/,
      /give `azimuth` at B, or touch one more datum/,
      0,
    ],
    [
      'a cylinder alone',
      [{ datum: 'B' }],
      20,
      'touch-underdetermined',
      /turn about B’s axis and slide along B’s axis/,
      /`azimuth` at B and `height` at B/,
      0,
    ],
    [
      'a plane alone',
      [{ datum: 'A' }],
      20,
      'touch-underdetermined',
      /move along the part’s x and move along the part’s y/,
      /`x` at A and `y` at A/,
      0,
    ],
    [
      'a vee alone',
      [{ datum: 'V' }],
      20,
      'touch-underdetermined',
      /free to slide along V’s axis/,
      /`height` at V/,
      0,
    ],
    [
      'a plane along a cylinder',
      [{ datum: 'B' }, { datum: 'S' }],
      20,
      'touch-underdetermined',
      /free to slide along B’s axis/,
      /`height` at B/,
      0,
    ],
    [
      'a sphere and a plane',
      [{ datum: 'A' }, { datum: 'K' }],
      20,
      'touch-underdetermined',
      /turn about the z through K/,
      /`azimuth` at K/,
      1,
    ],
    [
      'a plane twice',
      [{ datum: 'A' }, { datum: 'A' }],
      20,
      'touch-overdetermined',
      /touch on A is redundant.*agrees/,
      /remove that touch/,
      1,
    ],
    [
      'a plane and the z it fixes',
      [{ datum: 'A', z: -10 }],
      20,
      'touch-overdetermined',
      /`z` at A is redundant.*agrees/,
      /`z`/,
      0,
    ],
    [
      'a plane against z',
      [{ datum: 'A', x: 0, y: 0, z: -9 }],
      20,
      'touch-overdetermined',
      /`z` at A.*contradicts them by 1 mm/,
      /`z`/,
      0,
    ],
    [
      'an azimuth and a height, and a plane',
      [{ datum: 'B', azimuth: 1, height: -12 }, { datum: 'A' }],
      20,
      'touch-overdetermined',
      /`height` at B is redundant.*contradicts them by 2 mm/,
      /`height`/,
      0,
    ],
    [
      'coaxial cylinders',
      [{ datum: 'B', azimuth: 1 }, { datum: 'D' }, { datum: 'A' }],
      20,
      'touch-overdetermined',
      /touch on D.*contradicts them by 90 mm/,
      /remove that touch/,
      1,
    ],
    [
      'a fourth touch that disagrees',
      [{ datum: 'A' }, { datum: 'S' }, { datum: 'E' }, { datum: 'B' }],
      20,
      'touch-overdetermined',
      /touch on B.*contradicts/,
      /remove that touch/,
      3,
    ],
    [
      'a vee and a plane along it',
      [{ datum: 'A' }, { datum: 'V', height: 0 }],
      20,
      'touch-overdetermined',
      /touch on V is redundant/,
      /remove that touch/,
      1,
    ],
    [
      'a ball too large for its bore',
      [{ datum: 'D' }, { datum: 'A' }],
      120,
      'touch-impossible',
      /ball of 120 mm does not fit into cylinder D, whose inside diameter is 100 mm/,
      /at most 100 mm/,
      0,
    ],
    [
      'a ball too large for its bowl',
      [{ datum: 'H' }],
      81,
      'touch-impossible',
      /81 mm.*sphere H.*80 mm/,
      /at most 80 mm/,
      0,
    ],
    [
      'a plane out of reach of a sphere',
      [{ datum: 'K', azimuth: 0 }, { datum: 'O' }],
      20,
      'touch-impossible',
      /the touch on K, the touch on O and `azimuth` at K together: the best fit misses by 940 mm/,
      /another diameter/,
      0,
    ],
    [
      'two of them already out of reach',
      [{ datum: 'K' }, { datum: 'O' }],
      20,
      'touch-impossible',
      /the best fit misses by 940 mm/,
      /another diameter/,
      0,
    ],
    [
      'an azimuth on the far side',
      [{ datum: 'B', azimuth: 0, x: -130 }, { datum: 'A' }],
      20,
      'touch-overdetermined',
      /`x` at B.*contradicts/,
      /`x`/,
      0,
    ],
    [
      'an azimuth away from where two planes put the ball',
      [{ datum: 'W' }, { datum: 'A', azimuth: 0 }],
      20,
      'touch-impossible',
      /far side.*180 deg/,
      /azimuth: 180 deg/,
      1,
    ],
    ['no such datum', [{ datum: 'X' }], 20, 'touch-impossible', /no datum X/, /A, S, E/, 0],
    ['no ball', [{ datum: 'A' }], 0, 'touch-impossible', /diameter is 0 mm/, /above 0/, 0],
    [
      'a cylinder and two planes',
      [{ datum: 'B' }, { datum: 'A' }, { datum: 'S' }],
      20,
      'touch-ambiguous',
      /2 centres.*\[10, -129.6148, -10\], \[10, 129.6148, -10\]/,
      /`azimuth` at B: 274.4117 deg or 85.5883 deg/,
      0,
    ],
    [
      'a word meant to choose that chooses none',
      [{ datum: 'B', y: 120 }, { datum: 'A' }, { datum: 'S' }],
      20,
      'touch-ambiguous',
      /`y` at B misses the nearest by 9.6148 mm/,
      /`azimuth` at B/,
      0,
    ],
    [
      'three points',
      [{ datum: 'P' }, { datum: 'Q' }, { datum: 'R' }],
      2 * Math.sqrt(35),
      'touch-ambiguous',
      /\[3, 3, -4.1231\], \[3, 3, 4.1231\]/,
      /`height` at P: -4.1231 or 4.1231/,
      0,
    ],
  ])('%s', (_, touches, diameter, code, message, hint, touch) => {
    const more: Datum[] = [
      { id: 'O', kind: 'plane', point: [0, 0, 1000], normal: [0, 0, -1] },
      { id: 'W', kind: 'plane', point: [-40, 0, 0], normal: [-1, 0, 0] },
    ];
    const result = place(touches, diameter, [...datums, ...more]);
    expect(result).toMatchObject({
      code,
      message: expect.stringMatching(message),
      hint: expect.stringMatching(hint),
    });
    expect((result as { touch?: number }).touch).toBe(touch);
  });

  it('refuses datums without a direction or an angle', () => {
    const broken: [Datum, RegExp][] = [
      [{ ...B, axis: [0, 0, 0] } as Datum, /no axis/],
      [{ ...A, normal: [0, 0, 0] } as Datum, /no normal/],
      [{ ...vee, normal: [0, 2, 0] } as Datum, /no normal perpendicular to its axis/],
      [{ ...cone, angle: Math.PI } as Datum, /angle of 180 deg/],
    ];
    for (const [datum, message] of broken)
      expect(place([{ datum: datum.id }], 20, [datum])).toMatchObject({
        code: 'touch-impossible',
        message: expect.stringMatching(message),
      });
  });
});

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const direction = fc
  .tuple(number(-1, 1), number(0, 2 * Math.PI))
  .map(([z, a]): Vec3 => [Math.sqrt(1 - z * z) * Math.cos(a), Math.sqrt(1 - z * z) * Math.sin(a), z]);
const somePlace = fc.tuple(number(-100, 100), number(-100, 100), number(-100, 100));

/** A datum that a ball of radius r at c touches, made from the contact backwards. */
function touchedAt(c: Vec3, r: number, id: string): fc.Arbitrary<{ datum: Datum; holds: number }> {
  return fc
    .record({
      kind: fc.constantFrom('plane', 'cylinder', 'bore', 'cone', 'funnel', 'sphere', 'bowl', 'point', 'vee'),
      n: direction,
      t: direction,
      size: number(5, 120),
      run: number(-60, 60),
      angle: number(0.4, 2.6),
    })
    .filter(({ n, t }) => length(cross(n, t)) > 0.2)
    .map(({ kind, n, t, size, run, angle }) => {
      const contact = subtract(c, scale(n, r));
      const along = unit(cross(n, t));
      const [cos, sin] = [Math.cos(angle / 2), Math.sin(angle / 2)];
      const slide = (p: Vec3): Vec3 => add(p, scale(along, run));
      switch (kind) {
        case 'plane':
          return {
            datum: { id, kind, point: add(slide(contact), scale(cross(n, along), size)), normal: n },
            holds: 1,
          };
        case 'cylinder':
          return {
            datum: {
              id,
              kind,
              point: slide(subtract(contact, scale(n, size))),
              axis: along,
              diameter: 2 * size,
              side: 'outside',
            },
            holds: 1,
          };
        case 'bore':
          return {
            datum: {
              id,
              kind: 'cylinder',
              point: slide(add(contact, scale(n, size + r))),
              axis: along,
              diameter: 2 * (size + r),
              side: 'inside',
            },
            holds: 1,
          };
        case 'cone':
          // The flank runs along `along` from the apex, the normal n: axis = along·cos − n·sin.
          return {
            datum: {
              id,
              kind,
              apex: subtract(contact, scale(along, size)),
              axis: subtract(scale(along, cos), scale(n, sin)),
              angle,
              side: 'outside',
            },
            holds: 1,
          };
        case 'funnel': {
          // Deep enough that the near flank is the nearest: size·tan(angle/2) > r.
          const depth = r / Math.tan(angle / 2) + size;
          return {
            datum: {
              id,
              kind: 'cone',
              apex: subtract(contact, scale(along, depth)),
              axis: add(scale(along, cos), scale(n, sin)),
              angle,
              side: 'inside',
            },
            holds: 1,
          };
        }
        case 'sphere':
          return {
            datum: {
              id,
              kind,
              centre: subtract(contact, scale(n, size)),
              diameter: 2 * size,
              side: 'outside',
            },
            holds: 1,
          };
        case 'bowl':
          return {
            datum: {
              id,
              kind: 'sphere',
              centre: add(contact, scale(n, size + r)),
              diameter: 2 * (size + r),
              side: 'inside',
            },
            holds: 1,
          };
        case 'point':
          return { datum: { id, kind, point: contact }, holds: 1 };
        default:
          return {
            datum: {
              id,
              kind: 'vee',
              point: slide(subtract(c, scale(n, r / sin))),
              axis: along,
              normal: n,
              angle,
            },
            holds: 2,
          };
      }
    });
}

/** The distance from a point to a datum's surface, by other formulas than the solver's: angles and cross products. */
function distanceTo(datum: Datum, c: Vec3): number[] {
  switch (datum.kind) {
    case 'plane':
      return [dot(subtract(c, datum.point), datum.normal)];
    case 'cylinder': {
      const away = length(cross(subtract(c, datum.point), datum.axis)) / length(datum.axis);
      return [datum.side === 'outside' ? away - datum.diameter / 2 : datum.diameter / 2 - away];
    }
    case 'sphere': {
      const away = distance(c, datum.centre);
      return [datum.side === 'outside' ? away - datum.diameter / 2 : datum.diameter / 2 - away];
    }
    case 'torus': {
      const v = subtract(c, datum.centre);
      const [across, up] = [length(cross(v, datum.axis)), dot(v, datum.axis)];
      const away = Math.hypot(across - datum.diameter / 2, up) - datum.tube / 2;
      return [datum.side === 'outside' ? away : -away];
    }
    case 'asphere': {
      // The nearest of a fine net of its points, a paraboloid's here: no shorter way is missed by more than the net's own sag.
      throw new Error(`no distance by other formulas for the asphere ${datum.id}`);
    }
    case 'point':
      return [distance(c, datum.point)];
    case 'cone': {
      const v = subtract(c, datum.apex);
      const off = Math.atan2(length(cross(v, datum.axis)), dot(v, datum.axis)) - datum.angle / 2;
      if (datum.side === 'inside') return [length(v) * Math.sin(-off)];
      return [off > Math.PI / 2 ? length(v) : length(v) * Math.sin(off)];
    }
    case 'vee': {
      const v = subtract(c, datum.point);
      const off = Math.atan2(dot(v, cross(datum.axis, datum.normal)), dot(v, datum.normal));
      const across = length(cross(v, datum.axis));
      return [across * Math.sin(datum.angle / 2 - off), across * Math.sin(datum.angle / 2 + off)];
    }
  }
}

const scene = fc
  .record({
    c: somePlace,
    r: number(2, 25),
    origin: somePlace,
    angles: fc.tuple(number(-3, 3), number(-3, 3), number(-3, 3)),
  })
  .chain(({ c, r, origin, angles }) =>
    fc.record({
      c: fc.constant(c),
      r: fc.constant(r),
      part: fc.constant<Frame>({ origin, rotation: rotationFromAngles(angles) }),
      made: fc.tuple(touchedAt(c, r, 'D1'), touchedAt(c, r, 'D2'), touchedAt(c, r, 'D3')),
    }),
  );

describe('a ball on random datums, made from its place backwards', () => {
  it('stands there, or at another place that meets every touch; choosing by coordinates finds it', () => {
    fc.assert(
      fc.property(scene, ({ c, r, part, made }) => {
        const [taken, list] = firstThree(made);
        fc.pre(heldFirmly(taken, list, c));
        const result = place(taken, 2 * r, list, part);
        const found = 'at' in result ? result.at : undefined;
        if (found !== undefined) {
          for (const datum of list)
            for (const away of distanceTo(datum, placeFromParent(part, found)))
              expect(Math.abs(away - r)).toBeLessThan(1e-9);
        } else expect(result).toMatchObject({ code: 'touch-ambiguous' });
        const choice = { x: c[0], y: c[1], z: c[2] };
        const chosen = found ?? centreOf([{ ...taken[0]!, ...choice }, ...taken.slice(1)], 2 * r, list, part);
        expect(distance(placeFromParent(part, chosen), c)).toBeLessThan(1e-4);
      }),
      { numRuns: 80 },
    );
  });

  it('is told by its normals: each is the way the distance to its datum grows fastest', () => {
    fc.assert(
      fc.property(scene, direction, ({ c, part, made }, way) => {
        const list = made.map(({ datum }) => datum);
        const at = add(part.origin, rotate(part.rotation, c));
        const normals = touchNormals(
          list.map(({ id }) => ({ datum: id })),
          list,
          at,
          part,
        );
        const step = 1e-4;
        const distances = (sign: 1 | -1): number[] =>
          list.flatMap((datum) => distanceTo(datum, placeFromParent(part, add(at, scale(way, sign * step)))));
        const [ahead, behind] = [distances(1), distances(-1)];
        expect(normals).toHaveLength(ahead.length);
        normals.forEach(({ normal }) => {
          expect(length(normal)).toBeCloseTo(1, 12);
        });
        const slopes = ahead.map((value, k) => (value - behind[k]!) / (2 * step));
        // A vee's two flanks may come in either order.
        const told = normals.map(({ normal }) => dot(normal, way));
        const byDatum = (values: readonly number[]) =>
          list.map((d) => values.filter((_, k) => normals[k]!.datum === d.id).sort((a, b) => a - b));
        const [x, y] = [byDatum(told).flat(), byDatum(slopes).flat()];
        x.forEach((value, k) => {
          expect(Math.abs(value - y[k]!)).toBeLessThan(1e-6);
        });
      }),
      { numRuns: 100 },
    );
  });
});

it.each([bead, groove])('normals on a torus are the way the distance to it grows fastest: $side', (datum) => {
  const at: Vec3 = [70, 45, 11];
  const { normal } = touchNormals([{ datum: datum.id }], [datum], at, HERE)[0]!;
  const step = 1e-5;
  for (const k of [0, 1, 2]) {
    const along = scale([k === 0 ? 1 : 0, k === 1 ? 1 : 0, k === 2 ? 1 : 0], step);
    const slope =
      (distanceTo(datum, add(at, along))[0]! - distanceTo(datum, subtract(at, along))[0]!) / (2 * step);
    expect(normal[k]!).toBeCloseTo(slope, 8);
  }
});

describe('normals of a ball seated all round', () => {
  it.each<[string, Datum, number, number]>([
    ['in a cone', funnel, 10 + 5 / half, 3],
    ['in a bore it fills', bore, 20, 2],
  ])('%s', (_, datum, z, count) => {
    const normals = touchNormals([{ datum: datum.id }], [datum], [0, 0, z], HERE);
    expect(normals).toHaveLength(count);
    for (const { normal } of normals) expect(length(normal)).toBeCloseTo(1, 12);
    if (count === 3)
      expect(
        Math.abs(dot(normals[0]!.normal, cross(normals[1]!.normal, normals[2]!.normal))),
      ).toBeGreaterThan(0.1);
  });

  it('refuses a datum it does not know', () => {
    expect(() => touchNormals([{ datum: 'X' }], [A], [0, 0, 0], HERE)).toThrow(/no datum X/);
  });
});

/** Whether three normals hold the ball at c, none too nearly square to what the others leave. */
function heldFirmly(taken: readonly Touch[], list: readonly Datum[], c: Vec3): boolean {
  const [n, m, l] = touchNormals(taken, list, c, HERE).map(({ normal }) => normal);
  return l !== undefined && Math.abs(dot(n!, cross(m!, l))) > 0.05;
}

/** Touches whose conditions are three: as many of the datums as that takes, or fewer conditions where two vees stand first. */
function firstThree(made: readonly { datum: Datum; holds: number }[]): [Touch[], Datum[]] {
  const list: Datum[] = [];
  let held = 0;
  for (const { datum, holds } of made)
    if (held + holds <= 3) {
      list.push(datum);
      held += holds;
    }
  return [list.map(({ id }) => ({ datum: id })), list];
}
