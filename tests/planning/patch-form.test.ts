/**
 * The least sizes of planned patches: one Fresnel zone of the round trip to a ball, two of that to a cube, and twenty camera pixels, with B
 * the ray matrix's element there and back: 2s by a cube, along its line and across it, 2s(s − R)/R by a ball (A. E. Siegman, *Lasers*, ch. 20); sizes rise by quarters. mm.
 */
import { describe, expect, test } from 'vitest';
import { formsOf } from '../../src/planning/patch-form.ts';
import { designFrom, linePatch, type Words } from '../metrology/support/design-from.ts';

const LAMBDA = 632.8e-6;
/** What a slanted view may take off a size, and the grain to which sizes are rounded up. */
const [SPARE, GRAIN] = [1.05, 0.1];

/** `across`: pixels over the beam, which is 150 mm wide at the pattern. */
const design = (references: readonly Words[], across: number) =>
  designFrom({
    interferometer: { collimated: true, beamDiameter: 150, pixelsAcrossBeam: across },
    references: [{ id: 'far', kind: 'smr', diameter: 38.1, at: [0, 60, 900] }, ...references],
    patches: [linePatch('given', 'far', [0, 50], 0)],
  });
const ball = (diameter: number): Words => ({ id: 'r', kind: 'ball', diameter, at: [40, 0, 200] });
const cube: Words = { id: 'r', kind: 'smr', diameter: 38.1, at: [40, 0, 2000] };
const screen: Words = { id: 'r', kind: 'screen', at: [40, 0, 200] };

const formsFor = (
  reference: Words,
  focus: 'point' | 'line',
  distance: number,
  slant = 1,
  across = 100_000,
) => {
  const made = design([reference], across);
  return formsOf(made, made.references[1], focus, distance, slant, undefined, undefined);
};
const roundedUp = (size: number): number => Math.ceil(size / GRAIN - 1e-9) * GRAIN;

describe('a point focus', () => {
  test.each([
    [12.7, 130, 1],
    [12.7, 400, 1],
    [25.4, 400, 1],
    [50.8, 90, 0.8],
  ])(
    'on a ball of %d mm, %d mm off, seen at a cosine of %d: a Fresnel zone of the trip',
    (diameter, s, slant) => {
      const radius = diameter / 2;
      const halfWidth = Math.sqrt((2 * LAMBDA * s * (s - radius)) / radius);
      const { sizes, leastBy } = formsFor(ball(diameter), 'point', s, slant);
      expect(sizes[0]).toBeCloseTo(roundedUp((2 * halfWidth * SPARE) / slant), 9);
      expect(leastBy).toBe('diffraction-blur');
    },
  );

  test('on a screen: twenty pixels, whose pitch is 1.5 mm here', () => {
    const { sizes, leastBy } = formsFor(screen, 'point', 200, 1, 100);
    expect(sizes[0]).toBeCloseTo(30.1, 9);
    expect(leastBy).toBe('undersampled');
  });
});

describe('a line focus on a cube', () => {
  test.each([
    [900, 1],
    [2500, 1],
    [2500, 0.7],
  ])('%d mm off, seen at a cosine of %d: two Fresnel zones along its line and across it', (s, slant) => {
    const { sizes, lengthOf, leastBy } = formsFor(cube, 'line', s, slant);
    const least = (2 * Math.sqrt(2 * 2 * LAMBDA * s) * SPARE) / slant;
    expect(lengthOf(sizes[0])).toBeCloseTo(roundedUp(least), 9);
    expect(sizes[0]).toBeCloseTo(roundedUp(least), 9);
    expect(leastBy).toBe('diffraction-blur');
  });

  test('wide ones are no more than three times as wide as long, until the cube is filled', () => {
    const { lengthOf } = formsFor(cube, 'line', 900);
    expect(lengthOf(9)).toBeCloseTo(3.2, 9);
    expect(lengthOf(12)).toBeCloseTo(4, 9);
    expect(lengthOf(1000)).toBeLessThan(38.1);
  });
});

/**
 * 2 m off the least width is 4.7 mm, and the line 0.7 of the clear diameter D/√3, or √(4sλN/0.05) where a roof asks for more: 10 mm by one
 * fringe, 24.6 mm by six. Widths end at 25 mm.
 */
test.each([
  [12.7, 0, true],
  [22.2, 0, false],
  [38.1, 0, false],
  [12.7, 1, false],
  [12.7, 6, true],
  [38.1, 6, true],
])(
  'a cube of %d mm, a roof of %d fringes: strips of 3 : 1 at most either way; thinner ones only where slivers are allowed: %s',
  (diameter, fringes, hasThinner) => {
    const made = design([{ ...cube, diameter }], 100_000);
    const bias = fringes === 0 ? undefined : ({ shape: 'roof', fringes, direction: undefined } as const);
    const drawnOut = (slivers: boolean): number => {
      const { sizes, lengthOf } = formsOf(
        made,
        made.references[1],
        'line',
        2000,
        1,
        undefined,
        bias,
        slivers,
      );
      expect(sizes.length).toBeGreaterThan(0);
      return Math.max(...sizes.flatMap((size) => [size / lengthOf(size), lengthOf(size) / size]));
    };
    expect(drawnOut(false)).toBeLessThanOrEqual(3 + 1e-9);
    expect(drawnOut(true) > 3 + 1e-9).toBe(hasThinner);
  },
);

test('sizes rise by no more than a quarter and the grain, up to the largest', () => {
  const { sizes } = formsFor(ball(25.4), 'point', 400);
  sizes.slice(1).forEach((size, k) => {
    expect(size).toBeGreaterThan(sizes[k]);
    expect(size).toBeLessThanOrEqual(1.25 * sizes[k] + GRAIN + 1e-9);
  });
  expect(sizes.at(-1)).toBe(25);
});

test('a range that the scenario states bounds them', () => {
  const made = design([ball(12.7)], 100_000);
  const range = { least: 8, most: 11.03 };
  const { sizes } = formsOf(made, made.references[1], 'point', 130, 1, range, undefined);
  expect([sizes[0], sizes.at(-1)]).toEqual([8, 11]);
});
