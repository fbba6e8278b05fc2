/**
 * Zernike terms by their definition, ISO 24157: factorials in the radial part, unit root mean square over the disc, cosines for m ≥ 0
 * and sines for m < 0, counted j = (n(n + 2) + m)/2. Shares no code with src/.
 */
const factorial = (n: number): number => (n < 2 ? 1 : n * factorial(n - 1));

export function zernike(n: number, m: number, u: number, v: number): number {
  const [rho, theta, k] = [Math.hypot(u, v), Math.atan2(v, u), Math.abs(m)];
  let radial = 0;
  for (let s = 0; s <= (n - k) / 2; s++) {
    radial +=
      ((s % 2 ? -1 : 1) * factorial(n - s) * rho ** (n - 2 * s)) /
      (factorial(s) * factorial((n + k) / 2 - s) * factorial((n - k) / 2 - s));
  }
  const norm = Math.sqrt((m === 0 ? 1 : 2) * (n + 1));
  return norm * radial * (m < 0 ? Math.sin(k * theta) : Math.cos(k * theta));
}

export const zernikeIndex = (n: number, m: number): number => (n * (n + 2) + m) / 2;
