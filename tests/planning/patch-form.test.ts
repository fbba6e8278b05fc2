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
