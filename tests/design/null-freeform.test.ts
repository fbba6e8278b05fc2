/**
 * The main pattern's phase of freeform surfaces (powers of x and y, Zernike terms, a grid of heights) against their normals followed back
 * by code of its own. mm, waves.
 */
import { describe, expect, it, test } from 'vitest';
import { followedBack, type Height } from '../independent/surface-sheets.ts';
import {
  bump,
  CASES,
  designOf,
  FOCUS,
  type FreeformCase,
  GLASS,
  gridCsv,
  places,
  toSubstrate,
} from './support/freeform-cases.ts';

const WAVELENGTH = 632.8e-6;
/** Anywhere, waves. */
const BOUND = 2e-4;
const arriving = (x: number, y: number): number => Math.hypot(x - FOCUS[0], y - FOCUS[1], FOCUS[2]);

/** Phase asked for less phase designed, over the places, its middle taken out. */
function errors({ words, height, glass }: FreeformCase): readonly number[] {
  const { main } = designOf(words, glass);
  const waves = places.map(([u, v]) => {
    const { on, path } = followedBack({ height, toSubstrate }, u, v, glass ? GLASS : undefined);
    return main!.phase.phase(...on) - (-path - arriving(...on)) / WAVELENGTH;
  });
  const middle = (Math.max(...waves) + Math.min(...waves)) / 2;
  return waves.map((wave) => wave - middle);
}

describe.each(CASES)('$what', (one) => {
  it('has the phase that its normals ask for, to 2e-4 waves', () => {
    expect(Math.max(...errors(one).map(Math.abs))).toBeLessThan(BOUND);
  });

  it('would be off by far more with x and y mirrored', () => {
    const mirrored: Height = (x, y) => one.height(x, -y);
    expect(Math.max(...errors({ ...one, height: mirrored }).map(Math.abs))).toBeGreaterThan(0.5);
  });
});

test('light cannot meet a surface past the end of its grid', () => {
  const { words } = CASES[2]!;
  expect(() => designOf(words, false, gridCsv(bump, 120))).toThrow(/surface M square on at x .* mm/);
});

test('a grid that ends at the aperture leaves the pattern’s margin without a phase, which is refused', () => {
  const { words } = CASES[2]!;
  expect(() => designOf(words, false, gridCsv(bump, 130))).toThrow(/ends within the margin .* at x/);
  expect(designOf(words, false, gridCsv(bump, 135)).main).toBeDefined();
});
