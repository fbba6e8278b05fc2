/**
 * Motions that the measured figure does not show, and maps that look alike, against symmetry and against third- and fifth-order figures by hand.
 * mm, radians.
 */
import { describe, expect, it } from 'vitest';
import { alikeMaps, hiddenMotions } from '../../src/metrology/null/hidden-motions.ts';
import { motionMaps } from '../../src/metrology/null/motion-maps.ts';
import { designFrom, type Words } from './support/design-from.ts';

const scene = (datum: Words, aperture: Words, test: Words = {}, origin = [0, 0, 2600]) =>
  designFrom({
    substrate: { outline: { circle: { diameter: 500 } }, thickness: 0 },
    part: { origin, datums: { M: datum } },
    test: { surface: 'M', aperture, order: 1, ...test },
  });
const conic = (constant: number, vertex = [0, 0, 0]): Words => ({
  asphere: { vertex, axis: [0, 0, 1], radius: -2000, conic: constant },
});
const disc = (diameter: number, centre = [0, 0]): Words => ({ circle: { diameter, centre } });
const wordsOf = (...given: Parameters<typeof scene>): readonly string[] =>
  hiddenMotions(scene(...given))!.map(({ words }) => words);
const Z_AXIS = "to turn about the part's z axis";

describe('a sphere', () => {
  const sphere = { sphere: { centre: [20, -10, 400], diameter: 2000, side: 'inside' } };
  const about = (axis: string): string =>
    `to turn about an axis along ${axis} through ${{ x: 'x = 0 mm, y = -10 mm, z = 400 mm', y: 'x = 20 mm, y = 0 mm, z = 400 mm', z: 'x = 20 mm, y = -10 mm, z = 0 mm' }[axis]}`;
  const centre = [20, -10, 400];
  it('hides its turns about its centre and nothing else where the evaluation leaves tilt, and they leave nothing', () => {
    const hidden = hiddenMotions(scene(sphere, disc(300, [10, 5]), { removed: ['piston'] }, [0, 0, 500]))!;
    expect(hidden.map(({ words }) => words)).toEqual(['x', 'y', 'z'].map(about));
    for (const { left, motion, isTurn } of hidden) {
      expect(left).toBeLessThan(1e-9);
      expect(isTurn).toBe(true);
      // T + θ × c = 0.
      const [x, y, z, a, b, c] = motion as [number, number, number, number, number, number];
      const [u, v, w] = centre as [number, number, number];
      expect(Math.hypot(x + b * w - c * v, y + c * u - a * w, z + a * v - b * u)).toBeLessThan(1e-6);
    }
  });
  it('hides its decentre too where tilt is taken out', () => {
    const words = wordsOf(sphere, disc(300, [10, 5]), {}, [0, 0, 500]);
    expect(words.slice(0, 2)).toEqual(['to move along x', 'to move along y']);
    expect(words).toHaveLength(5);
  });
});

it('a flat hides all six: piston and tilt are all that it shows', () => {
  const plane = { plane: { point: [0, 0, 0], normal: [0, 0, -1] } };
  expect(wordsOf(plane, disc(100), {}, [0, 0, 500])).toHaveLength(6);
  expect(wordsOf(plane, disc(100), { removed: [] }, [0, 0, 500])).toEqual([
    'to move along x',
    'to move along y',
    Z_AXIS,
  ]);
});

describe('a paraboloid of D 500 mm, R 2000 mm', () => {
  it('hides tilt against decentre up to the fifth order: a turn about an axis 0.3 a²/R before its vertex, and about its own axis', () => {
    // About the vertex the height is −y(1 + s⁴/8), s = h/R; a decentre z₀ adds its coma z₀ y s²/(2R). Of ρ⁵ the coma is 1.2 ρ³
    // (Z 5,1 = √12 (10ρ⁵ − 12ρ³ + 3ρ) cos θ), so that z₀ = 0.3 a²/R, and Z 5,1 is left: a⁵/(80R⁴)/√12.
    const hidden = hiddenMotions(scene(conic(-1), disc(500)))!;
    expect(hidden.map(({ isTurn }) => isTurn)).toEqual([true, true, true]);
    expect(hidden[2]!.words).toBe(Z_AXIS);
    for (const [k, axis] of ['x', 'y'].entries()) {
      const { words, left } = hidden[k]!;
      const z = Number(
        new RegExp(`^to turn about an axis along ${axis} through x = 0 mm, y = 0 mm, z = ([\\d.]+) mm$`).exec(
          words,
        )![1],
      );
      expect(z / ((0.3 * 250 ** 2) / 2000)).toBeCloseTo(1, 2);
      expect(left / (250 ** 5 / (80 * 2000 ** 4) / Math.sqrt(12))).toBeCloseTo(1, 1);
    }
  });
  it('the hidden turn stays where the surface is, wherever the part has its origin', () => {
    const [first] = hiddenMotions(scene(conic(-1, [0, 0, 500]), disc(500), {}, [0, 0, 2100]))!;
    expect(first!.words).toMatch(
      /^to turn about an axis along x through x = 0 mm, y = 0 mm, z = 509\.3\d+ mm$/,
    );
  });
  it('shows all but its turn about its own axis where the evaluation leaves tilt', () => {
    expect(wordsOf(conic(-1), disc(500), { removed: ['piston'] })).toEqual([Z_AXIS]);
  });
});

describe('maps that look alike', () => {
  const names = alikeMaps(motionMaps(scene(conic(-1), disc(500)))!).map(({ one, other, correlation }) => ({
    pair: `${one.of} ${one.degree}, ${other.of} ${other.degree}`,
    correlation,
  }));
  const found = (pair: string): number | undefined => names.find((one) => one.pair === pair)?.correlation;
  it('decentre of part and hologram leave coma both, the other way round; of x and y the comas differ', () => {
    expect(found('part x, hologram x')!).toBeCloseTo(-1, 3);
    expect(found('part y, hologram y')!).toBeCloseTo(-1, 3);
    expect(found('part x, part y')).toBeUndefined();
    expect(found('part x, part z')).toBeUndefined();
  });
  it('tilt about the vertex is like decentre as far as ρ⁵ is like ρ³, √24/5 after tilt', () => {
    // ρ⁵ less tilt is √(1/12)/10 of Z 5,1 and 1.2/(3√8) of Z 3,1.
    const [fifth, third] = [1 / (10 * Math.sqrt(12)), 1.2 / (3 * Math.sqrt(8))];
    const share = third / Math.hypot(third, fifth);
    expect(share).toBeCloseTo(Math.sqrt(24) / 5, 4);
    expect(Math.abs(found('part y, part rx')!)).toBeCloseTo(share, 2);
  });
  it('a degree that leaves nothing is like no other', () => {
    expect(names.some(({ pair }) => pair.includes('rz'))).toBe(false);
  });
  it('falls from the closest on, none under 0.95', () => {
    const sizes = names.map(({ correlation }) => Math.abs(correlation));
    expect(sizes).toEqual([...sizes].sort((a, b) => b - a));
    expect(sizes.at(-1)!).toBeGreaterThanOrEqual(0.95);
    expect(sizes[0]!).toBeLessThanOrEqual(1);
  });
});
