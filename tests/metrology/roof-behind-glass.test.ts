/**
 * A roof's ridge and its fringes with the glass on either side of the pattern and the light aslant, against rays traced by other means:
 * from the ridge a ray comes straight back on itself, and in each half W has the slope asked for. Where too few rays come home to tell,
 * the rule says so and gives no figure. mm, waves.
 */
import { describe, expect, test } from 'vitest';
import { seenAtNull } from '../../src/metrology/sensing/null-fringes.ts';
import { biasCancels } from '../../src/rules/bias-cancels.ts';
import { fitted } from '../independent/equations.ts';
import { offBall, offCube, returned } from '../independent/returned-ray.ts';
import {
  lineDirectionOf,
  type PatchWords,
  type ReferenceWords,
  type Scene,
  targetOf,
} from '../independent/scene.ts';
import { edgePoints, isInside } from '../independent/scene-outline.ts';
import { incidentPath, scenePhase, sceneSmoothPhase } from '../independent/scene-phase.ts';
import { designFrom } from './support/design-from.ts';

type Vector = readonly [number, number, number];
const FRINGES = 2;
const scene = (reference: object, patch: object, substrate: object): Scene => ({
  light: { wavelength: 632.8e-6 },
  interferometer: { focus: [0, 0, -500] },
  substrate: { outline: { circle: { diameter: 200 } }, ...substrate } as Scene['substrate'],
  references: [{ id: 'r', ...reference } as ReferenceWords],
  patches: [
    { id: 'p', reference: 'r', bias: { shape: 'roof', fringes: FRINGES }, ...patch } as unknown as PatchWords,
  ],
});
const slab = (thickness: number, index: number) => (patternFaces: string) => ({
  thickness,
  index,
  patternFaces,
});
const cube = (at: Vector) => ({ kind: 'smr', diameter: 38.1, at });
const line = (lineAngle: number, more: object = {}) => {
  const outline = { rectangle: { width: 14, height: 14, rotation: lineAngle } };
  return { focus: 'line', centre: [20, -30], lineAngle, outline, ...more };
};

const CASES = ['part', 'interferometer'].flatMap((faces): readonly (readonly [string, Scene])[] => {
  const [thin, thick] = [slab(6.35, 1.457)(faces), slab(14, 1.9)(faces)];
  const on = `pattern facing the ${faces}`;
  return [
    [`${on}, a line along the slope, 25°`, scene(cube([20, 350, 800]), line(90), thin)],
    [`${on}, the same 45° aslant`, scene(cube([20, 670, 700]), line(90), thin)],
    [`${on}, thick glass of high index`, scene(cube([20, 350, 800]), line(90), thick)],
    [
      `${on}, a line aslant to the slope, order −1`,
      scene(cube([-250, 300, 700]), line(25, { order: -1 }), thick),
    ],
    [`${on}, a line across the slope`, scene(cube([20, 350, 800]), line(0), thick)],
    [
      `${on}, a ball`,
      scene(
        { kind: 'ball', diameter: 25.4, at: [60, 40, 150] },
        { focus: 'point', centre: [20, -30], outline: { circle: { diameter: 14 } } },
        thin,
      ),
    ],
  ];
});

/** Rays traced home by other means, through the phase given. */
function tracer(of: Scene, phase: (x: number, y: number) => number) {
  const [patch] = of.patches as readonly [PatchWords];
  const { thickness = 0, index = 1, patternFaces } = of.substrate;
  const incident = incidentPath(of);
  const pattern = {
    wavelength: of.light.wavelength,
    order: patch.order ?? 1,
    phase,
    incident: (x: number, y: number) => incident([x, y, 0]),
    ...(patternFaces === 'interferometer' ? { glassAfter: { thickness, index } } : {}),
  };
  const [reference] = of.references as readonly [ReferenceWords];
  const at = targetOf(of, patch);
  const bounce = reference.kind === 'ball' ? offBall(at, reference.diameter! / 2) : offCube(at);
  return (x: number, y: number) => returned(pattern, bounce, x, y)!;
}

/** Some two hundred points, turned out of all symmetries. */
function latticeIn(words: PatchWords): readonly (readonly [number, number])[] {
  const across = 20;
  const reach = Math.max(
    ...edgePoints(words).map(([x, y]) => Math.hypot(x - words.centre[0], y - words.centre[1])),
  );
  return Array.from({ length: across * across }, (_, k) => {
    const [u, v] = [(k % across) + 0.4, Math.floor(k / across) + 0.6].map((step) => (2 * step) / across - 1);
    const turned = [u! * Math.cos(0.4) - v! * Math.sin(0.4), u! * Math.sin(0.4) + v! * Math.cos(0.4)];
    return [words.centre[0] + reach * turned[0]!, words.centre[1] + reach * turned[1]!] as const;
  }).filter((point) => isInside(words, point));
}

/**
 * A roof of N fringes turns the rays by θ = λN/(2 v_max) and lengthens their way by sθ², a hundredth of a wave here; a ball also magnifies
 * what comes back beside by s/R.
 */
const CLOSE = 0.04;

describe.each(CASES)('%s', (_, of) => {
  const design = designFrom(of as unknown as Record<string, unknown>);
  const [patch] = design.patches as readonly [(typeof design.patches)[number]];
  const [words] = of.patches as readonly [PatchWords];
  const { centre, direction, reach } = patch.bias!;
  const run = (x: number, y: number) => (x - centre[0]) * direction[0] + (y - centre[1]) * direction[1];

  test('the ray from the ridge comes straight back on itself', () => {
    const home = tracer(of, sceneSmoothPhase(of, 'p'))(...centre);
    expect(Math.hypot(home.x - centre[0], home.y - centre[1])).toBeLessThan(1e-6);
  });

  test('each half shows the fringes asked for, by rays all over it, and the program counts as many', () => {
    const home = tracer(of, scenePhase(of, 'p'));
    const rays = latticeIn(words).map(([x, y]) => home(x, y));
    const slopes = [1, -1].map((side) => {
      const own = rays.filter(({ x, y }) => side * run(x, y) > 0.2 * reach);
      const across = words.focus === 'line' ? lineDirectionOf(of, words) : [1, 0];
      const rows = own.map(({ x, y }) => [1, run(x, y), x * across[1]! - y * across[0]!]);
      return fitted(
        rows,
        own.map(({ waves }) => waves),
      )[1]!;
    });
    const counted = ((slopes[0]! - slopes[1]!) / 2) * reach;
    expect(Math.abs(counted - FRINGES)).toBeLessThan(CLOSE);
    expect(Math.abs(slopes[0]! + slopes[1]!) * reach).toBeLessThan(CLOSE);
    const seen = seenAtNull(design, patch);
    expect('fringes' in seen ? Math.abs(seen.fringes - counted) : Number.NaN).toBeLessThan(CLOSE);
    expect(biasCancels.find(design)).toEqual([]);
  });
});

test('a patch that lies all on one side of its fold: too few rays to judge, and no figure', () => {
  const outline = { rectangle: { width: 6, height: 6, rotation: 90 } };
  const design = designFrom(
    scene(cube([20, 670, 700]), line(90, { outline }), slab(60, 1.9)('interferometer')) as unknown as Record<
      string,
      unknown
    >,
  );
  const found = biasCancels.find(design);
  expect(found.map(({ where, value }) => [where, value])).toEqual([['p', undefined]]);
  expect(found[0]!.message).toMatch(/cannot be counted: only 0 of 400 rays along it come back in one half/);
  expect(found[0]!.message).not.toMatch(/shows \d/);
});
