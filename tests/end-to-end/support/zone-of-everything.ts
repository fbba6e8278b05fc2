/**
 * The zone at normal incidence of the job with everything, by rays in air to the displaced asphere and home. Its formula and figures are the
 * scenario's, written out: ISO 10110-12 with Zernike terms by ISO 24157. mm. The glass before it shifts each ray aside by a share of its
 * slope, and is left out.
 */
import { coordinatesAt, displacedReturn, movedSheet } from '../../independent/null-traced.ts';
import { type Height, isoAsphere } from '../../independent/surface-sheets.ts';
import { zernike } from '../../independent/zernike.ts';
import type { Zone } from './bench-of-job.ts';

const WAVELENGTH = 632.8e-6;
const RADIUS = 50;
const asphere = isoAsphere(-560, -0.6);
const TERMS = [
  [2, 2, 0.03],
  [3, 1, 0.008],
  [3, -3, 0.005],
  [4, 0, 0.001],
] as const;
const height: Height = (x, y) =>
  TERMS.reduce((sum, [n, m, size]) => sum + size * zernike(n, m, x / RADIUS, y / RADIUS), asphere(x, y));
const STANDING = { height, vertex: [0, 0, 0], origin: [0, -12, 150] } as const;

/** The surface's coordinates for each place of the pattern: the same in every round. */
const met = new Map<string, readonly [number, number]>();
function metFrom(x: number, y: number): readonly [number, number] {
  const key = `${x} ${y}`;
  const known = met.get(key);
  if (known !== undefined) return known;
  const found = coordinatesAt(movedSheet(STANDING, [0, 0, 0, 0, 0, 0]), [x, y], x, y + 12);
  met.set(key, found);
  return found;
}

export const zoneOfEverything: Zone = (motion) => (x, y) => {
  const [u, v] = metFrom(x, y);
  return displacedReturn(STANDING, motion, u, v).path / WAVELENGTH;
};
