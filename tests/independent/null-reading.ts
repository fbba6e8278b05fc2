/**
 * What an operator reads of a null, by rays traced to the displaced surface and home: how much shorter the return has become, in waves, over the
 * circle about the footprint, by Zernike terms of ISO 24157 up to order 4 (normal equations). In air, mm. Shares no code with src/.
 */
import { fitted } from './equations.ts';
import { displacedReturn, movedSheet, type Standing } from './null-traced.ts';
import { followedBack } from './surface-sheets.ts';
import { zernike } from './zernike.ts';

interface Aperture {
  readonly diameter: number;
  readonly centre: readonly [number, number];
}

const ORDERS = [0, 1, 2, 3, 4].flatMap((n) =>
  Array.from({ length: n + 1 }, (_, k) => [n, 2 * k - n] as const),
);
const RINGS = 14;
const AZIMUTHS = 24;
const EDGE = 360;

/** The coefficient of Z_n^m, waves, for a motion T, θ of the part about its origin. */
export type Shown = (n: number, m: number) => number;

/** The circle is that about the middle of the footprint's extent. */
export function nullReader(standing: Standing, { diameter, centre: [cx, cy] }: Aperture, wavelength: number) {
  const still = movedSheet(standing, [0, 0, 0, 0, 0, 0]);
  const around = (rho: number, count: number, start: number) =>
    Array.from({ length: count }, (_, k): readonly [number, number] => {
      const angle = start + (2 * Math.PI * k) / count;
      return [cx + (rho * diameter * Math.cos(angle)) / 2, cy + (rho * diameter * Math.sin(angle)) / 2];
    });
  const edge = around(1, EDGE, 0).map(([x, y]) => followedBack(still, x, y, undefined).on);
  const middle = [0, 1].map((axis) => {
    const along = edge.map((place) => place[axis]!);
    return (Math.min(...along) + Math.max(...along)) / 2;
  });
  const radius = Math.max(...edge.map(([x, y]) => Math.hypot(x - middle[0]!, y - middle[1]!)));
  const points = Array.from({ length: RINGS }, (_, k) =>
    around(Math.sqrt((k + 0.5) / RINGS), AZIMUTHS, k),
  ).flat();
  const read = (motion: readonly number[]): Shown => {
    const seen = points.map(([x, y]) => displacedReturn(standing, motion, x, y));
    const rows = seen.map(({ home }) =>
      ORDERS.map(([n, m]) => zernike(n, m, (home[0] - middle[0]!) / radius, (home[1] - middle[1]!) / radius)),
    );
    const found = fitted(
      rows,
      seen.map(({ path }) => -path / wavelength),
    );
    return (n, m) => found[ORDERS.findIndex(([order, azimuth]) => order === n && azimuth === m)]!;
  };
  return { read, middle, radius };
}
