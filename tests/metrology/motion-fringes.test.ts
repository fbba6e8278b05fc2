/**
 * Fringes that a return ring and annular datums show for each motion, by the path to the thing moved in earnest, in a scene without any
 * symmetry: sectors, a beam off its axis, a part that is turned and stands aside, so that x is told from y and rx from ry.
 */
import { describe, expect, it } from 'vitest';
import { edgeOf, gridIn, type Point, type Shape } from '../independent/outline-points.ts';
import { dot, minus, normed, size, type Vector } from '../independent/ray.ts';
import { designFrom, type Words } from './support/design-from.ts';
import { normalIncidenceFringes, returnRingFringes } from './support/reported.ts';

const LAMBDA = 632.8e-6;
const DEG = Math.PI / 180;
const FOCUS: Vector = [12, -7, -500];
const ORIGIN: Vector = [15, 10, 300];
/** About z only: the part's x and y in the substrate frame. */
const TURNED = 35;
const BALL: Vector = [20, -12, 90];
const RADIUS = 130;

const sector = (from: number, to: number): Words => ({ sector: { inner: 110, outer: 130, from, to } });
const patch = (id: string, focus: string, outline: Words): Words => ({
  ...{ id, reference: id, focus, centre: [0, 0] },
  outline,
});
const design = designFrom({
  interferometer: { focus: FOCUS, fNumber: 3, pixelsAcrossBeam: 2000, readable: 0.1 },
  part: {
    origin: ORIGIN,
    rotation: [0, 0, TURNED],
    datums: {
      P: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } },
      S: { sphere: { centre: BALL, diameter: 2 * RADIUS } },
    },
  },
  references: [
    { id: 'back', kind: 'return' },
    { id: 'plane', kind: 'datum', datum: 'P' },
    { id: 'ball', kind: 'datum', datum: 'S' },
  ],
  patches: [
    patch('back', 'return', sector(10, 70)),
    patch('plane', 'normal', sector(100, 150)),
    patch('ball', 'normal', sector(190, 260)),
  ],
});
const shapeOf = (from: number, to: number): Shape => ({
  ...{ shape: 'sector', centre: [0, 0], inner: 55, outer: 65 },
  ...{ from: from * DEG, to: to * DEG },
});

const [c, s] = [Math.cos(TURNED * DEG), Math.sin(TURNED * DEG)];
/** From the part's directions to the substrate's. */
const fromPart = ([x, y, z]: Vector): Vector => [c * x - s * y, s * x + c * y, z];
const plus = (a: Vector, b: Vector): Vector => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

/** The path there and back that a hologram moved as P + T + θ × P has more of: to the beam's focus, which stays. */
const toFocus = (at: Point, move: Vector, turn: Vector): number => {
  const place: Vector = [at[0], at[1], 0];
  const moved = plus(place, plus(move, cross(turn, place)));
  return 2 * (size(minus(moved, FOCUS)) - size(minus(place, FOCUS)));
};

/** Twice what the surface's point that the light meets square on moves along the light: second order apart. */
const toSurface =
  (meets: (at: Point) => { readonly at: Vector; readonly along: Vector }) =>
  (point: Point, move: Vector, turn: Vector): number => {
    const { at, along } = meets(point);
    return 2 * dot(along, plus(fromPart(move), cross(fromPart(turn), minus(at, ORIGIN))));
  };
const plane = toSurface(([x, y]) => ({ at: [x, y, ORIGIN[2]], along: [0, 0, 1] }));
const centre = plus(ORIGIN, fromPart(BALL));
const ball = toSurface(([x, y]) => {
  const along = normed(minus(centre, [x, y, 0]));
  return { at: plus(centre, [-RADIUS * along[0], -RADIUS * along[1], -RADIUS * along[2]]), along };
});

/** Fringes from peak to valley for a µm or a µrad of each motion. */
function counted(outline: Shape, path: (at: Point, move: Vector, turn: Vector) => number): number[] {
  const points = [...edgeOf(outline), ...gridIn(outline)];
  return [0, 1, 2, 3, 4, 5].map((degree) => {
    const unit = [0, 0, 0, 0, 0, 0].map((_, k) => (k === degree ? (degree < 3 ? 1e-3 : 1e-6) : 0));
    const [move, turn] = [unit.slice(0, 3), unit.slice(3)] as unknown as [Vector, Vector];
    const waves = points.map((at) => path(at, move, turn) / LAMBDA);
    return Math.max(...waves) - Math.min(...waves);
  });
}

/** The program looks at sixty points of the edge. */
const SAMPLED = 0.02;

describe.each([
  ['a return ring', 0, returnRingFringes, shapeOf(10, 70), toFocus],
  ['a plane', 1, normalIncidenceFringes, shapeOf(100, 150), plane],
  ['a sphere', 2, normalIncidenceFringes, shapeOf(190, 260), ball],
] as const)('%s', (_, index, fringesOf, outline, path) => {
  const shown = fringesOf(design, design.patches[index]!)!;
  const { fringesPerUm: um, fringesPerUrad: urad } = shown;
  const expected = counted(outline, path);

  it.each(['x', 'y', 'z', 'rx', 'ry', 'rz'].map((degree, k) => [degree, k] as const))('%s', (__, k) => {
    const found = [um.x, um.y, um.z, urad.rx, urad.ry, urad.rz][k]!;
    expect(Math.abs(found - expected[k]!)).toBeLessThan(SAMPLED * expected[k]! + 1e-5);
  });

  it('tells x from y', () => {
    const largest = Math.max(expected[3]!, expected[4]!);
    expect(Math.abs(expected[3]! - expected[4]!)).toBeGreaterThan(5 * SAMPLED * largest);
  });
});
