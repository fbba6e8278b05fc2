import { expect, it } from 'vitest';
import type { Design } from '../../src/design/design.ts';
import { diffractionBlur } from '../../src/rules/diffraction-blur.ts';
import { AIR, HENE, makePatch, type PatchRecipe } from '../design/support/make-patch.ts';

const centre = [0, 0] as const;
const square = (width: number) =>
  ({ shape: 'rectangle', centre, width, height: width, rotation: 0 }) as const;
const ball = (distance: number, width = 10, diameter = 12.7): PatchRecipe => ({
  kind: 'ball',
  at: [0, 0, distance],
  centre,
  outline: square(width),
  diameter,
});
const cube = (distance: number, width = 10): PatchRecipe => ({
  at: [0, 0, distance],
  centre,
  outline: square(width),
  lineAngle: 0.3,
});
const screen: PatchRecipe = { ...ball(3000), kind: 'screen' };
const find = (recipe: PatchRecipe) =>
  diffractionBlur.find({
    light: { wavelength: HENE, airIndex: undefined },
    glass: AIR,
    patches: [makePatch(recipe)],
  } as unknown as Design);

// Figures of common practice: balls from some 25 mm to some 300 mm, cubes with a line focus out to several metres.
it.each([
  ['a ball at 25 mm', ball(25)],
  ['a ball at 300 mm', ball(300)],
  ['a cube at 5 m, along its line and across it at a number of 3.95', cube(5000)],
  ['a cube at 10 m with a 25 mm patch', cube(10000, 25)],
  ['a screen, which sends nothing back', screen],
])('is content with %s', (_, recipe) => {
  expect(find(recipe)).toEqual([]);
});

it.each([
  ['a ball at 600 mm', ball(600), 1],
  ['a small ball', ball(300, 10, 6), 1],
  ['a small patch', ball(300, 5), 1],
  ['a cube with a 2 mm patch at 3 m', cube(3000, 2), 2],
  ['a cube with a 10 mm patch at 10 m, at a number of 1.98', cube(10_000), 2],
])('warns of %s', (_, recipe, limit) => {
  const [finding, ...others] = find(recipe);
  expect(others).toEqual([]);
  expect(finding).toMatchObject({
    severity: 'warning',
    rule: 'diffraction-blur',
    limit,
    path: ['patches', 0, 'id'],
  });
  expect(finding.value).toBeLessThan(limit);
});

it('gives the number: a²R/(2λs(s − R)) is 0.35 for a 10 mm patch on a half-inch ball at 600 mm', () => {
  expect(find(ball(600))[0].value).toBeCloseTo((25 * 6.35) / (2 * HENE * 600 * (600 - 6.35)), 6);
});

it.each([
  [3, 20, /0\.593 across its line; below 2/, /wider across its line/],
  [20, 3, /0\.593 along its line; below 2/, /longer along its line/],
  [3, 3, /0\.593 along and across its line; below 2/, /make the patch larger/],
] as const)(
  'a strip %d mm across its line and %d mm along it, at 3 m: the narrower governs, by name',
  (across, along, message, hint) => {
    const outline = { shape: 'rectangle', centre, width: along, height: across, rotation: 0.3 } as const;
    const [finding] = find({ ...cube(3000), outline });
    expect(finding?.message).toMatch(message);
    expect(finding?.hint).toMatch(hint);
  },
);
