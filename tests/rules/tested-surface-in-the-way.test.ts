/**
 * The surface under test, within its aperture, stands in the light of patches and in the way of balls. Against rays that step along their way
 * and ask on which side of the printed formula they are. mm, part frame at the vertex.
 */
import { describe, expect, it, test } from 'vitest';
import { blocked } from '../../src/rules/blocked.ts';
import { collision } from '../../src/rules/collision.ts';
import { type Height, isoAsphere } from '../independent/surface-sheets.ts';
import { designFrom, type Words } from '../metrology/support/design-from.ts';

const DISTANCE = 700;
const RADIUS = 6;
const PATCH = { centre: [55, 0], size: 12 } as const;

interface Surface {
  readonly words: Words;
  readonly height: Height;
  readonly aperture: Words;
  readonly isIn: (x: number, y: number) => boolean;
}

const concave: Surface = {
  words: { radius: -1500, conic: -1 },
  height: isoAsphere(-1500, -1),
  aperture: { circle: { diameter: 100 } },
  isIn: (x, y) => Math.hypot(x, y) < 50,
};
const convex: Surface = {
  ...concave,
  words: { radius: 300, conic: 0.3 },
  height: isoAsphere(300, 0.3),
  aperture: { rectangle: { width: 60, height: 100, centre: [10, 0] } },
  isIn: (x, y) => Math.abs(x - 10) < 30 && Math.abs(y) < 50,
};
const freeform: Surface = {
  ...concave,
  words: { radius: -1500, xy: { '2,1': 2e-6 } },
  height: (x, y) => isoAsphere(-1500, 0)(x, y) + 2e-6 * x * x * y,
};
const holed: Surface = {
  ...concave,
  aperture: { ring: { inner: 40, outer: 100 } },
  isIn: (x, y) => Math.hypot(x, y) < 50 && Math.hypot(x, y) > 20,
};

const designOf = ({ words, aperture }: Surface, at: readonly number[], more: Words = {}) =>
  designFrom({
    substrate: { outline: { circle: { diameter: 200 } } },
    part: {
      origin: [0, 0, DISTANCE],
      datums: { M: { asphere: { vertex: [0, 0, 0], axis: [0, 0, 1], ...words } } },
      ...more,
    },
    test: { surface: 'M', aperture },
    references: [{ id: 'b', kind: 'ball', diameter: 2 * RADIUS, at, frame: 'part' }],
    patches: [
      {
        id: 'p',
        reference: 'b',
        focus: 'point',
        centre: PATCH.centre,
        outline: { rectangle: { width: PATCH.size, height: PATCH.size } },
      },
    ],
  });

/** The share of rays from the patch to the ball's own surface that come to the other side of the surface, %. */
function shareBehind({ height, isIn }: Surface, at: readonly number[]): number {
  const side = 15;
  const met = Array.from({ length: side * side }, (_, k) => {
    const offset = (i: number): number => ((i + 0.5) / side - 0.5) * PATCH.size;
    const from = [
      PATCH.centre[0] + offset(k % side),
      PATCH.centre[1] + offset(Math.floor(k / side)),
      -DISTANCE,
    ];
    const way = from.map((value, axis) => at[axis]! - value);
    const end = 1 - RADIUS / Math.hypot(...way);
    const above = (share: number): number => {
      const [x, y, z] = from.map((value, axis) => value + share * way[axis]!) as [number, number, number];
      return z - height(x, y);
    };
    let [near, far] = [0, end];
    if (above(near) * above(far) > 0) return false;
    for (let half = 0; half < 40; half++) {
      const middle = (near + far) / 2;
      if (above(middle) * above(near) > 0) near = middle;
      else far = middle;
    }
    return isIn(from[0]! + near * way[0]!, from[1]! + near * way[1]!);
  });
  return (100 * met.filter(Boolean).length) / met.length;
}

/** On the light's side and touching: from a point of the surface along its normal by the ball's radius. */
function touching({ height }: Surface, x: number, y: number): readonly number[] {
  const h = 1e-3;
  const [zx, zy] = [
    (height(x + h, y) - height(x - h, y)) / (2 * h),
    (height(x, y + h) - height(x, y - h)) / (2 * h),
  ];
  const size = Math.hypot(zx, zy, 1);
  return [x + (zx * RADIUS) / size, y + (zy * RADIUS) / size, height(x, y) - RADIUS / size];
}

const CASES: readonly (readonly [string, Surface, readonly number[], 'all' | 'some' | 'none'])[] = [
  ['a ball behind the middle of a concave mirror', concave, [5, 3, 20], 'all'],
  ['a ball far behind its rim', concave, [47.9, 0, 300], 'some'],
  ['a ball behind, past its rim', concave, [70, 0, 30], 'none'],
  ['a ball before it', concave, [-20, 10, -40], 'none'],
  ['a ball that touches it', concave, touching(concave, -20, 10), 'none'],
  ['a ball behind a convex mirror', convex, [0, 0, 25], 'all'],
  ['a ball that touches a convex mirror at its foot’s far side', convex, touching(convex, -15, 20), 'none'],
  ['a ball far behind the side of its rectangle', convex, [33.5, 20, 300], 'some'],
  ['a ball behind a freeform', freeform, [10, 30, 16], 'all'],
  ['a ball that touches a freeform', freeform, touching(freeform, 10, 30), 'none'],
  ['a ball behind the hole of a mirror', holed, [-3, 0, 40], 'none'],
  ['a ball far behind the edge of that hole', holed, [-52, 0, 300], 'some'],
];

describe.each(CASES)('%s', (_what, surface, at, expected) => {
  const share = shareBehind(surface, at);
  it(`loses ${expected} of its patch’s light`, () => {
    const found = blocked.find(designOf(surface, at));
    if (expected === 'none') expect(share).toBe(0);
    else if (expected === 'all') expect(share).toBe(100);
    else expect(Math.abs(share - 50)).toBeLessThan(45);
    expect(found.map(({ where }) => where)).toEqual(share === 0 ? [] : ['p']);
    if (share === 0) return;
    // The skin's edge is that of cells of a 128th of the aperture, 0.8 mm; the light there is 3.6 mm wide.
    expect(Math.abs(found[0]!.value! - share)).toBeLessThan(12);
    expect(found[0]!.message).toMatch(/^the surface under test M blocks .* from patch p to b$/);
  });
});

test('an aperture narrower than the cells of the skin blocks nothing', () => {
  const thin = { ...concave, aperture: { ring: { inner: 59.8, outer: 60 } } };
  expect(blocked.find(designOf(thin, [5, 3, 30]))).toEqual([]);
});

test('light that the envelope blocks already is said once', () => {
  const envelope = [{ cylinder: { point: [0, 0, 5], axis: [0, 0, 1], diameter: 120, length: 10 } }];
  const found = blocked.find(designOf(concave, [5, 3, 30], { envelope }));
  expect(found.map(({ message }) => message)).toEqual([
    'the part’s envelope 1 (cylinder) blocks about 100 % of the light from patch p to b'.replace('’', "'"),
  ]);
});

describe('a ball at the surface', () => {
  const overlap = (surface: Surface, at: readonly number[], more?: Words) =>
    collision
      .find(designOf(surface, at, more))
      .map(({ message, value }) => [/cuts (.*):/.exec(message)?.[1], value]);
  const [x, y, z] = touching(freeform, 10, 30) as [number, number, number];

  it('that touches it does not cut it', () => {
    expect(overlap(freeform, [x, y, z])).toEqual([]);
  });

  it('cuts it by as much as it goes deeper along the normal, and from behind', () => {
    // The normal is within 3° of the axis: 0.3 mm along z is 0.3 mm to 0.2 %.
    const [deeper] = overlap(freeform, [x, y, z + 0.3]);
    expect(deeper![0]).toBe('the surface under test M');
    expect(deeper![1]).toBeCloseTo(0.3, 2);
    const [behind] = overlap(freeform, [10, 30, freeform.height(10, 30) + 2]);
    expect(behind![1]).toBeCloseTo(RADIUS - 2, 1);
  });

  it('cuts its rim, and not what is past the aperture', () => {
    const rim = concave.height(50, 0);
    expect(overlap(concave, [50 + RADIUS - 1, 0, rim])[0]![1]).toBeGreaterThan(0.1);
    expect(overlap(concave, [50 + RADIUS + 0.1, 0, rim])).toEqual([]);
    // 3 mm past the rim and 5.8 mm before it is 6.5 mm from it, though the surface, were it there, would be nearer.
    expect(overlap(concave, [50 + 3, 0, rim - 5.8])).toEqual([]);
    expect(overlap(concave, [50 + 1, 0, rim - 5.8])[0]![1]).toBeCloseTo(RADIUS - Math.hypot(1, 5.8), 1);
  });

  it('that cuts the envelope there too is said once', () => {
    const envelope = [{ cylinder: { point: [0, 0, -4], axis: [0, 0, 1], diameter: 120, length: 10 } }];
    expect(overlap(concave, [5, 3, 0], { envelope }).map(([what]) => what)).toEqual([
      "the part's envelope 1 (cylinder)",
    ]);
  });
});
