/**
 * What a bias shows at the design place, by trace: the doubled even part of it. A cube inverts along its line, so a tilt along
 * the line cancels and a roof stays; a ball sends each ray back to where it came from, so both stay.
 */
import { describe, expect, test } from 'vitest';
import type { Design } from '../../src/design/design.ts';
import { fringesAtNull } from '../../src/metrology/sensing/null-fringes.ts';
import { diverging, HENE, makePatch, type PatchRecipe } from '../design/support/make-patch.ts';
import { fitted } from '../independent/equations.ts';
import { foldOf } from '../independent/fold.ts';
import { gridIn, rangeOver } from '../independent/outline-points.ts';
import { dot, minus, normed, type Vector } from '../independent/ray.ts';
import { offBall, offCube, returned } from '../independent/returned-ray.ts';

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

/** How fringes run over the pattern, seen by rays all over the patch: the slope of W in each half, waves/mm, curvature fitted beside. */
function seen(recipe: PatchRecipe): {
  readonly halves: readonly (readonly [number, number])[];
  readonly from: readonly [number, number];
} {
  const { phase } = makePatch(recipe);
  const pattern = {
    wavelength: HENE,
    order: recipe.order ?? 1,
    phase: (x: number, y: number) => phase.phase(x, y),
    incident: (x: number, y: number) => Math.hypot(x, y, 500),
    ...(recipe.glass === undefined ? {} : { glassAfter: recipe.glass }),
  };
  const bounce = recipe.kind === 'ball' ? offBall(recipe.at, recipe.diameter! / 2) : offCube(recipe.at);
  const [dx, dy] = directionOf(recipe);
  const rays = gridIn(recipe.outline).flatMap(([x, y]) => returned(pattern, bounce, x, y) ?? []);
  const from = ([x0, y0]: readonly [number, number], x: number, y: number): number =>
    (x - x0) * dx + (y - y0) * dy;
  const isRoof = recipe.bias?.shape === 'roof';
  const middle = isRoof ? ridgeOf(recipe) : recipe.centre;
  const reach = Math.max(
    ...rangeOver(recipe.outline, (x, y) => from(middle, x, y)).map((run) => Math.abs(run)),
  );
  const halves = isRoof ? [1, -1] : [0];
  return {
    from: middle,
    halves: halves.map((side) => {
      const own = rays.filter(({ x, y }) => side === 0 || side * from(middle, x, y) > 0.25 * reach);
      const rows = own.map(({ x, y }) => {
        const [u, v] = [x - recipe.centre[0], y - recipe.centre[1]];
        return [1, u, v, ...(isRoof ? [] : [u * u, u * v, v * v])];
      });
      const [, gx, gy] = fitted(
        rows,
        own.map(({ waves }) => waves),
      );
      return [gx!, gy!] as const;
    }),
  };
}

/** A roof on a cube has its ridge where the light comes straight back. */
function ridgeOf({ at, centre, lineAngle, glass, kind }: PatchRecipe): readonly [number, number] {
  if (kind === 'ball' || lineAngle === undefined) return centre;
  return foldOf(
    centre,
    lineAngle,
    lineOf(at, centre, lineAngle),
    at,
    glass?.side === 'after' ? glass : undefined,
  );
}

/** The direction that the bias was asked for along: as given, else the line's as seen in the pattern. */
function directionOf({ at, centre, lineAngle, bias }: PatchRecipe): readonly [number, number] {
  if (bias?.direction !== undefined) return [Math.cos(bias.direction), Math.sin(bias.direction)];
  if (lineAngle === undefined) return [1, 0];
  const [lx, ly] = lineOf(at, centre, lineAngle);
  return [lx / Math.hypot(lx, ly), ly / Math.hypot(lx, ly)];
}

/** The line as drawn, made square to the chief ray. */
function lineOf(at: Vector, centre: readonly [number, number], lineAngle: number): Vector {
  const ray = normed([at[0] - centre[0], at[1] - centre[1], at[2]]);
  const line: Vector = [Math.cos(lineAngle), Math.sin(lineAngle), 0];
  const along = dot(line, ray);
  return normed(minus(line, [along * ray[0], along * ray[1], along * ray[2]]));
}

describe('fringes at the design place', () => {
  test.each(CASES)('%s: %#', (_, recipe, expected) => {
    const fringes = fringesAtNull(designOf(recipe), makePatch(recipe));
    expect(fringes).toBeDefined();
    expect(Math.abs((fringes as number) - expected)).toBeLessThan(CLOSE);
  });

  test.each(CASES)(
    '%s runs along the direction asked for, and nowhere else, by rays all over the patch',
    (_, recipe, expected) => {
      const { halves, from } = seen(recipe);
      const [dx, dy] = directionOf(recipe);
      const run = (x: number, y: number): number => (x - from[0]) * dx + (y - from[1]) * dy;
      const aside = (x: number, y: number): number =>
        (y - recipe.centre[1]) * dx - (x - recipe.centre[0]) * dy;
      const [least, most] = rangeOver(recipe.outline, run);
      const [low, high] = rangeOver(recipe.outline, aside);
      const counted = recipe.bias?.shape === 'roof' ? Math.max(-least, most) : most - least;
      halves.forEach(([gx, gy], half) => {
        // A roof falls on its other side.
        const along = (gx * dx + gy * dy) * (half === 0 ? 1 : -1) * counted;
        expect(Math.abs(along - expected)).toBeLessThan(CLOSE);
        expect(Math.abs((gy * dx - gx * dy) * (high - low))).toBeLessThan(CLOSE);
      });
    },
  );

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
