/**
 * Fresnel’s integrals C(w) = ∫₀ʷ cos(πt²/2) dt and S(w) with sin, by Simpson’s rule fine enough for 1e-9: a second way to what the
 * program gets by Fourier transforms. Source: Born & Wolf, Principles of Optics, §8.7.2.
 */
export function fresnelIntegrals(w: number): { c: number; s: number } {
  const steps = 2 * Math.ceil(200 + 100 * w * w);
  const h = w / steps;
  let [c, s] = [0, 0];
  for (let i = 0; i <= steps; i++) {
    const weight = i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2;
    const angle = (Math.PI / 2) * (i * h) ** 2;
    c += weight * Math.cos(angle);
    s += weight * Math.sin(angle);
  }
  return { c: (c * h) / 3, s: (s * h) / 3 };
}
