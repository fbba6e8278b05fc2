import { bench, describe } from 'vitest';
import { idealCube } from '../../src/optics/corner-cube.ts';
import { type DiffractedPatch, diffractedReturn } from '../../src/optics/diffraction-return.ts';
import { traceRoundTrip } from '../../src/optics/round-trip.ts';
import { grid, patchCase, WAVELENGTH } from './patch-for-tracing.ts';

const patch: DiffractedPatch = {
  wavelength: WAVELENGTH,
  order: 1,
  distance: 200,
  reference: { kind: 'ball', radius: 6.35 },
  halfWidths: [5, 5],
  contains: (u, v) => Math.hypot(u, v) <= 5,
  displacement: [0.001, 0, 0],
};

describe('one picture of a patch, 128 samples across', () => {
  bench('of a ball', () => {
    diffractedReturn(patch);
  });
  bench('of a cube with losses', () => {
    diffractedReturn({ ...patch, reference: { kind: 'cube', loses: (q, v) => Math.hypot(q, v) < 0.1 } });
  });
});

describe('10 000 rays there and back', () => {
  const {
    patch: traced,
    centre,
    width,
  } = patchCase({ focus: 'line', target: [0, 60, 1000], centre: [0, 60], glass: 'after' });
  const { xs, ys } = grid(centre, width, 100);
  bench('by a cube, through glass', () => {
    traceRoundTrip(traced, { kind: 'cube', ...idealCube([0, 60, 1000], [0, 60, 0]) }, xs, ys);
  });
});
