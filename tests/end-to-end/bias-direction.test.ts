/**
 * Which way a bias rises and by how much, from the numbers of the phase command: the phase with the bias less the phase without it.
 *
 * The pattern is crossed twice, so that N fringes on the camera are N/(2m) waves in the phase: of a tilt from edge to edge, of a roof from
 * ridge to edge. A direction runs from +x toward +y, and a roof on a line focus along the line as it lies in the pattern plane. The extents
 * of the outlines are worked out from their corners here.
 */
import { expect, test } from 'vitest';
import { dot, minus, normed, type Vector } from '../independent/ray.ts';
import { type Point, phasesOf, type Words } from './support/command.ts';

const RAD = Math.PI / 180;
const CENTRE: Point = [12, 50];
const TARGETS = { point: [30, 90, 150], line: [-150, 260, 620] } as const satisfies Record<string, Vector>;
/** Waves: nine digits are printed of a phase of thousands. */
const ROUNDING = 5e-9;

function scenario(focus: 'point' | 'line', outline: Words, more: Words): Words {
  const line = focus === 'line' ? { lineAngle: 25 } : {};
  return {
    references: [{ id: 'r', kind: focus === 'line' ? 'smr' : 'ball', diameter: 38.1, at: TARGETS[focus] }],
    patches: [{ id: 'p', reference: 'r', focus, centre: CENTRE, outline, ...line, ...more }],
  };
}

/** The corners of a rectangle about the patch's centre, turned from +x toward +y. */
const corners = (width: number, height: number, turn: number, [cx, cy]: Point = [0, 0]): readonly Point[] =>
  [
    [1, 1],
    [-1, 1],
    [-1, -1],
    [1, -1],
  ].map(([a, b]): Point => {
    const [u, v] = [(a! * width) / 2, (b! * height) / 2];
    return [
      CENTRE[0] + cx + u * Math.cos(turn * RAD) - v * Math.sin(turn * RAD),
      CENTRE[1] + cy + u * Math.sin(turn * RAD) + v * Math.cos(turn * RAD),
    ];
  });

const along = (angle: number): Point => [Math.cos(angle * RAD), Math.sin(angle * RAD)];
const runOf =
  (direction: Point) =>
  ([x, y]: Point): number =>
    (x - CENTRE[0]) * direction[0] + (y - CENTRE[1]) * direction[1];

/** The line of a line focus as it lies in the pattern plane: the stated direction made square to the chief ray. */
const lineInPlane = ((): Point => {
  const chief = normed(minus(TARGETS.line, [...CENTRE, 0]));
  const stated: Vector = [...along(25), 0];
  const line = normed(minus(stated, chief.map((c) => c * dot(stated, chief)) as unknown as Vector));
  return [line[0], line[1]];
})();

const TURNED = { rectangle: { width: 14, height: 6, rotation: '33 deg' } };
const ASIDE = { rectangle: { width: 8, height: 8, centre: [2, -1] } };
const ROUND = { circle: { diameter: 11 } };
/** Of a circle the two points on its edge along the direction are its corners. */
const edgesOfRound = (angle: number): readonly Point[] =>
  [5.5, -5.5].map((r): Point => [CENTRE[0] + r * along(angle)[0], CENTRE[1] + r * along(angle)[1]]);

interface Case {
  readonly name: string;
  readonly focus: 'point' | 'line';
  readonly outline: Words;
  readonly order?: number;
  readonly bias: Words;
  readonly direction: Point;
  readonly corners: readonly Point[];
}

const CASES: readonly Case[] = [
  {
    name: 'a tilt toward 70° over a turned rectangle',
    focus: 'point',
    outline: TURNED,
    bias: { shape: 'tilt', fringes: 3, direction: '70 deg' },
    direction: along(70),
    corners: corners(14, 6, 33),
  },
  {
    name: 'a tilt toward −120°, given in radians, at order −1',
    focus: 'point',
    outline: TURNED,
    order: -1,
    bias: { shape: 'tilt', fringes: 2, direction: `${-120 * RAD} rad` },
    direction: along(-120),
    corners: corners(14, 6, 33),
  },
  {
    name: 'a tilt without a direction rises toward +x',
    focus: 'point',
    outline: ROUND,
    bias: { shape: 'tilt', fringes: 1.5 },
    direction: [1, 0],
    corners: edgesOfRound(0),
  },
  {
    name: 'a tilt over a round patch at order 2',
    focus: 'point',
    outline: ROUND,
    order: 2,
    bias: { shape: 'tilt', fringes: 4, direction: 200 },
    direction: along(200),
    corners: edgesOfRound(200),
  },
  {
    name: 'a tilt over a rectangle beside the patch’s centre',
    focus: 'point',
    outline: ASIDE,
    bias: { shape: 'tilt', fringes: 2, direction: 15 },
    direction: along(15),
    corners: corners(8, 8, 0, [2, -1]),
  },
  {
    name: 'a roof on a point focus, ridge square to its direction',
    focus: 'point',
    outline: TURNED,
    bias: { shape: 'roof', fringes: 2, direction: 70 },
    direction: along(70),
    corners: corners(14, 6, 33),
  },
  {
    name: 'a roof along the line of a line focus',
    focus: 'line',
    outline: TURNED,
    bias: { shape: 'roof', fringes: 1 },
    direction: lineInPlane,
    corners: corners(14, 6, 33),
  },
  {
    name: 'a roof of a line focus at order −1 on a rectangle beside the centre',
    focus: 'line',
    outline: ASIDE,
    order: -1,
    bias: { shape: 'roof', fringes: 1.5 },
    direction: lineInPlane,
    corners: corners(8, 8, 0, [2, -1]),
  },
];

test.each(CASES)('$name', async (each) => {
  const { focus, outline, order = 1, bias, direction } = each;
  const points: readonly Point[] = [...each.corners, CENTRE, [CENTRE[0] + 1.3, CENTRE[1] - 0.7]];
  const [biased, plain] = await Promise.all([
    phasesOf(scenario(focus, outline, { order, bias }), 'p', points),
    phasesOf(scenario(focus, outline, { order }), 'p', points),
  ]);
  const run = runOf(direction);
  const runs = each.corners.map(run);
  const { shape, fringes } = bias as { shape: string; fringes: number };
  const reach = shape === 'tilt' ? Math.max(...runs) - Math.min(...runs) : Math.max(...runs.map(Math.abs));
  points.forEach((point, k) => {
    const at = shape === 'tilt' ? run(point) : Math.abs(run(point));
    expect(Math.abs(biased[k]! - plain[k]! - (fringes / (2 * order)) * (at / reach))).toBeLessThan(ROUNDING);
  });
});
