/**
 * Where the null of a surface goes when the waves change, against paraxial optics by hand, and what a measured length has to say then. A
 * concave sphere, R 2000 mm, its centre of curvature C 600 mm behind the pattern, in a beam from 500 mm before it: the pattern's phase has
 * the curvature −(1/600 + 1/500)/mm, and the wave that leaves it ends in C. mm and rad.
 */
import { describe, expect, it } from 'vitest';
import type { ErrorSource } from '../../src/metrology/budget/error-source.ts';
import { poseOf } from '../../src/metrology/estimate/pose-estimate.ts';
import { motionMaps } from '../../src/metrology/null/motion-maps.ts';
import { designFrom } from './support/design-from.ts';
import { everyEffect } from './support/effects.ts';
import { parabolaScene } from './support/parabola-scene.ts';

const [BEFORE, BEHIND, RADIUS] = [500, 600, 2000];
const CURVATURE = 1 / BEHIND + 1 / BEFORE;

const design = designFrom(
  parabolaScene({
    test: { aperture: { circle: { diameter: 80 } } },
    words: {
      part: {
        origin: [0, 0, 2600],
        datums: { M: { sphere: { centre: [0, 0, -RADIUS], diameter: 2 * RADIUS, side: 'inside' } } },
      },
      measurements: [{ id: 'spacer', reference: 'c0', direction: [0, 0, 1], uncertainty: '5 um' }],
    },
  }),
);
const { sources, readings } = poseOf(design);
const sourceOf = (name: string): ErrorSource => sources.find((one) => one.name === name)!;
const moveOf = (name: string): Float64Array => sourceOf(name).ofNull!.move;
/** The centre of curvature goes with the part: T + θ × C. */
const centreMoves = (name: string): readonly number[] => {
  const [x, y, z, rx, ry] = moveOf(name) as unknown as [number, number, number, number, number];
  return [x - RADIUS * ry, y + RADIUS * rx, z];
};

/** The footprint reaches 12 mm out at 500 mm: the square of the angle. */
const PARAXIAL = 1e-3;

describe('the centre of curvature that a null asks for', () => {
  const CASES: readonly (readonly [what: string, name: string, axis: number, byHand: number])[] = [
    // E_out′ = −ρ²/2 (1/600 + κ(1/600 + 1/500)).
    [
      'a wavelength longer by the part κ: nearer by κ s²(1/s + 1/f)',
      'wavelength',
      2,
      -(BEHIND ** 2) * CURVATURE,
    ],
    // ΔE = −mλ∇Φ·ε tilts the wave by ε(1/s + 1/f).
    ['the pattern shifted by ε: farther than it by ε s(1/s + 1/f)', 'main x', 0, BEHIND * CURVATURE],
    ['the same along y', 'main y', 1, BEHIND * CURVATURE],
    // The source at f images to s with the sides of a lens: −s/f across, (s/f)² along.
    ['a beam displaced across', 'beam x', 0, -BEHIND / BEFORE],
    ['a beam displaced along', 'beam z', 2, (BEHIND / BEFORE) ** 2],
  ];
  it.each(CASES)('%s', (_, name, axis, byHand) => {
    expect(centreMoves(name)[axis]! / byHand).toBeCloseTo(1, -Math.log10(2 * PARAXIAL));
    centreMoves(name).forEach((move, other) => {
      if (other !== axis) expect(Math.abs(move / byHand)).toBeLessThan(PARAXIAL);
    });
  });

  it('the null itself stays a null but for the higher orders', () => {
    const { rest } = sourceOf('beam x').ofNull!;
    // 1 mm of the beam tilts the wave by 1/500 over 12 mm.
    expect(Math.hypot(...motionMaps(design)!.leftOf(rest))).toBeLessThan(PARAXIAL * (12 / BEFORE));
  });
});

describe('readings, less what the null goes along with', () => {
  it('a measured length shows nothing of a beam out of line, and is wrong by the way of the null', () => {
    const spacer = readings.findIndex(({ name }) => name === 'spacer');
    const { effects, inHologram } = sourceOf('beam z');
    expect(inHologram!.at).not.toContain(spacer);
    const [, , z, rx, ry] = moveOf('beam z') as unknown as number[];
    const [x0, y0] = readings[spacer]!.reference.at;
    expect(everyEffect(effects, readings.length)[spacer]).toBeCloseTo(-(z! + rx! * y0! - ry! * x0!), 9);
  });
});
