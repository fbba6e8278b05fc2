/**
 * What a bias shows at the design place, by trace: the doubled even part of it. A cube inverts along its line, so a tilt along
 * the line cancels and a roof stays; a ball sends each ray back to where it came from, so both stay.
 */
import { describe, expect, test } from 'vitest';
import type { Design } from '../../src/design/design.ts';
import { fringesAtNull } from '../../src/metrology/null-fringes.ts';
import { diverging, HENE, makePatch, type PatchRecipe } from '../design/support/make-patch.ts';

const GLASS_AFTER = { name: 'x', index: 1.457, thickness: 6.35, side: 'after' } as const;
const cube: PatchRecipe = {
  at: [30, 250, 2800],
  centre: [0, 60],
  outline: { shape: 'rectangle', centre: [0, 60], width: 10, height: 10, rotation: 0 },
  lineAngle: 0.3,
};
const ball: PatchRecipe = {
  at: [0, 90, 130],
  centre: [0, 60],
  outline: { shape: 'circle', centre: [0, 60], radius: 6 },
  kind: 'ball',
  diameter: 12.7,
};
const roof = (fringes: number) => ({ shape: 'roof', fringes, direction: undefined }) as const;
const tilt = (fringes: number, direction?: number) => ({ shape: 'tilt', fringes, direction }) as const;

/**
 * Fringes: a roof of N fringes turns the rays by θ = λN/(2 v_max) and so lengthens the way by s θ², 0.018 waves for these.
 */
const CLOSE = 0.03;

const CASES: readonly (readonly [string, PatchRecipe, number])[] = [
  ['a roof on a cube', { ...cube, bias: roof(1) }, 1],
  ['a roof on a cube, order -1', { ...cube, bias: roof(2), order: -1 }, 2],
  ['a roof on a cube, order 2', { ...cube, bias: roof(1.5), order: 2 }, 1.5],
  ['a roof on a cube through glass', { ...cube, bias: roof(1), glass: GLASS_AFTER }, 1],
  ['a tilt along the line of a cube', { ...cube, bias: tilt(2) }, 0],
  ['a tilt along the line of a cube through glass', { ...cube, bias: tilt(2), glass: GLASS_AFTER }, 0],
  ['a tilt on a ball', { ...ball, bias: tilt(1, 0) }, 1],
  ['a tilt on a ball, order -1, oblique', { ...ball, bias: tilt(3, 2), order: -1 }, 3],
  ['a tilt on a ball through glass', { ...ball, bias: tilt(1, 1), glass: GLASS_AFTER }, 1],
  ['a roof on a ball', { ...ball, bias: { shape: 'roof', fringes: 1, direction: 0.5 } }, 1],
  [
    'a roof whose ridge the glass doubles',
    {
      ...cube,
      at: [160, -40, 1250],
      centre: [-44, 0],
      lineAngle: 0,
      bias: roof(1),
      glass: { ...GLASS_AFTER, thickness: 9 },
      outline: { shape: 'rectangle', centre: [-44, 0], width: 16, height: 10, rotation: 0.26 },
    },
    1,
  ],
  [
    'a tilt on a sector far from its centre',
    {
      ...ball,
      centre: [0, 0],
      outline: { shape: 'sector', centre: [0, 0], inner: 33, outer: 50, from: 1.2, to: 1.9 },
      at: [30, 95, 240],
      bias: tilt(2, Math.PI / 2),
    },
    2,
  ],
  ['no bias on a cube', cube, 0],
  ['no bias on a ball', ball, 0],
];

describe('fringes at the design place', () => {
  test.each(CASES)('%s: %#', (_, recipe, expected) => {
    const patch = makePatch(recipe);
    const fringes = fringesAtNull(designOf(recipe), patch);
    expect(fringes).toBeDefined();
    expect(Math.abs((fringes as number) - expected)).toBeLessThan(CLOSE);
  });

  test('a screen sends nothing back', () => {
    expect(fringesAtNull(designOf(ball), makePatch({ ...ball, kind: 'screen' }))).toBeUndefined();
  });
});

/** As much of a design as the trace looks at. */
const designOf = (recipe: PatchRecipe): Design =>
  ({
    light: { wavelength: HENE, airIndex: undefined },
    beam: { eikonal: diverging(500) },
    glass: recipe.glass ?? { name: 'none', index: 1, thickness: 0, side: 'before' },
  }) as unknown as Design;
