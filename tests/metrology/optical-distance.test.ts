/**
 * Fringes for a move where the distance alone does not tell: through glass after the pattern, and of an outline beside the patch's
 * centre; against a picture traced independently with the reference moved one way and the other.
 */
import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/geometry/vector.ts';
import { opticalDistances } from '../../src/metrology/sensing/optical-distance.ts';
import { sensesOf } from '../../src/metrology/sensing/sensitivity.ts';
import { cameraWaves, type PatchSetup, type Place2 } from '../independent/round-trip.ts';
import { designFrom, linePatch, pointPatch } from './support/design-from.ts';

const AFTER = { thickness: 9.5, index: 1.457, patternFaces: 'interferometer' };
const THICK = { thickness: 20, index: 1.9, patternFaces: 'interferometer' };
const PLAIN = { thickness: 0, index: 1.5, patternFaces: 'interferometer' };

const BALL = { id: 'r', kind: 'ball', diameter: 12.7 };
const SECTOR = { sector: { inner: 66, outer: 100, from: '70 deg', to: '110 deg' } };

interface Case {
  readonly name: string;
  readonly glass: typeof AFTER;
  readonly at: Vec3;
  readonly patch: Readonly<Record<string, unknown>>;
  /** Round the middle of the outline, at which the fringes are counted; half the extents along x and y. */
  readonly middle: Place2;
  readonly half: Place2;
}
const round = pointPatch('p', 'r', [-30, 20], 12);
const CASES: readonly Case[] = [
  {
    name: 'a ball through silica',
    glass: AFTER,
    at: [-45, 60, 110],
    patch: round,
    middle: [-30, 20],
    half: [6, 6],
  },
  {
    name: 'a ball through 20 mm',
    glass: THICK,
    at: [-33, 26, 80],
    patch: round,
    middle: [-30, 20],
    half: [6, 6],
  },
  {
    ...{ name: 'a line through 20 mm', glass: THICK, at: [60, 90, 300], middle: [0, 50], half: [5, 5] },
    patch: { ...linePatch('p', 'r', [0, 50], 25), outline: { circle: { diameter: 10 } } },
  },
  {
    ...{ name: 'a sector about the origin', glass: PLAIN, at: [30, 95, 240] },
    patch: { id: 'p', reference: 'r', focus: 'point', centre: [0, 0], outline: SECTOR },
    // From 33 cos 70° to 50 high, and 50 cos 70° to either side.
    middle: [0, (33 * Math.sin((70 * Math.PI) / 180) + 50) / 2],
    half: [0, 0],
  },
];

describe.each(CASES)('$name', ({ glass, at, patch, middle, half }) => {
  const isLine = patch.focus === 'line';
  const design = designFrom({
    substrate: { outline: { circle: { diameter: 150 } }, ...glass },
    references: [{ ...BALL, kind: isLine ? 'smr' : 'ball', at }],
    patches: [patch],
  });
  const designed = design.patches[0]!;
  const setup: PatchSetup = {
    wavelength: design.light.wavelength,
    centre: patch.centre as Place2,
    target: at,
    reference: isLine ? { kind: 'cube' } : { kind: 'ball', radius: 6.35 },
    ...(isLine ? { lineAngle: (25 * Math.PI) / 180 } : {}),
    ...(glass.thickness > 0 ? { glass } : {}),
  };
  /** What a mm along a sense adds to W about the middle, to first order: differences of small moves either way. */
  const added = (direction: Vec3): ((dx: number, dy: number) => number) => {
    const move = 1e-3;
    const [back, forth] = [-move, move].map((by) =>
      cameraWaves(setup, [by * direction[0], by * direction[1], by * direction[2]]),
    ) as [ReturnType<typeof cameraWaves>, ReturnType<typeof cameraWaves>];
    return (dx, dy) => {
      const [x, y] = [middle[0] + dx, middle[1] + dy];
      return (forth(x, y) - back(x, y)) / (2 * move);
    };
  };

  it('shows as many fringes for a move as are traced', () => {
    for (const { kind, direction, fringesPerMm, width } of sensesOf(design, designed)) {
      const waves = added(direction);
      if (kind === 'tilt') {
        const slope = Math.hypot(waves(1, 0) - waves(-1, 0), waves(0, 1) - waves(0, -1)) / 2;
        const lateral = Math.hypot(direction[0], direction[1]);
        expect((slope * width) / lateral / fringesPerMm).toBeCloseTo(1, 2);
      } else if (half[0] > 0) {
        const edges = [
          [1, 0],
          [-1, 0],
          [0, 1],
          [0, -1],
        ].map(([dx, dy]) => waves(dx! * half[0], dy! * half[1]) - waves(0, 0));
        const mean = edges.reduce((sum, edge) => sum + edge, 0) / edges.length;
        // Obliquely the edge of the patch is nearer in one direction, and the ball's curvature shows.
        expect(Math.abs(Math.abs(mean) / fringesPerMm - 1)).toBeLessThan(0.06);
      }
    }
  });
});

it('in silica of 9.5 mm and in 20 mm of n = 1.9, a fringe straight ahead is worth s − t(1 − 1/n)', () => {
  for (const [glass, s] of [
    [AFTER, 60],
    [AFTER, 198],
    [THICK, 62],
  ] as const) {
    const design = designFrom({
      substrate: { outline: { circle: { diameter: 150 } }, ...glass },
      references: [{ ...BALL, at: [0, 0, s] }],
      patches: [pointPatch('p', 'r', [0, 0])],
    });
    const less = glass.thickness * (1 - 1 / glass.index);
    for (const found of opticalDistances(design, design.patches[0]!)) expect(found).toBeCloseTo(s - less, 2);
  }
});
