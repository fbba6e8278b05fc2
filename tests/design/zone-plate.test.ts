/**
 * A round patch in collimated light with a point focus over its centre is a zone plate: its fringes must stand at the radii about it that
 * r_m² = m λ f + (m λ/2)² gives for its half-wave zones, two to a period. Formula: Jenkins & White, Fundamentals of Optics, ch. 18 (from memory); the radii were
 * recomputed from it by an independent program.
 */
import { expect, test } from 'vitest';
import { collimated, makePatch } from './support/make-patch.ts';

/** Off both axes, each by its own amount, so that x is told from y. */
const CENTRE = [11, -6] as const;
const AZIMUTHS = [0, 0.4, 1.3, 2.2, 3.6, 5];

const RADII: readonly (readonly [wavelength: number, focus: number, zone: number, radius: number])[] = [
  [632.8e-6, 100, 1, 0.251555362],
  [632.8e-6, 100, 100, 2.515750602],
  [632.8e-6, 100, 1000, 7.961162538],
  [632.8e-6, 100, 10000, 25.353715625],
  [500e-6, 500, 1, 0.5000000625],
  // Jenkins & White, problem 18.1: the first zone 0.425 mm across at 447.1 nm has f = 10.0998 cm (recomputed).
  [447.1e-6, 100.998, 1, 0.2125],
];

test.each(RADII)('λ %d mm, f %d mm: zone %d ends at %d mm', (wavelength, focus, zone, radius) => {
  const patch = makePatch({
    at: [...CENTRE, focus],
    centre: CENTRE,
    outline: { shape: 'circle', centre: CENTRE, radius: 26 },
    beam: collimated(),
    wavelength,
  });
  // The path to the focus grows outward by λ/2 a zone: Φ = −m/2 there, to what nine digits of a radius tell.
  for (const azimuth of AZIMUTHS) {
    const [x, y] = [CENTRE[0] + radius * Math.cos(azimuth), CENTRE[1] + radius * Math.sin(azimuth)];
    expect(Math.abs(patch.phase.phase(x, y) + zone / 2)).toBeLessThan(1e-6);
  }
});
