/**
 * The grating equation: what a pattern of local grating vector ∇Φ (waves/mm at order 1) does to a ray in order m.
 * Direction cosines (l, m) along the pattern's x and y; lengths mm, angles radians.
 *   n₂ (l, m)₂ = n₁ (l, m)₁ + order · λ · ∇Φ, λ in vacuum where n₁ and n₂ are absolute, in air where they are relative to air.
 * Shares no code with src/. Source: W. T. Welford, *Aberrations of Optical Systems*, ch. 5 (tracing through holograms); in a plane across the
 * grooves it is M. Born, E. Wolf, *Principles of Optics*, sec. 8.6.1.
 */
type Vec2 = readonly [number, number];
type Vec3 = readonly [number, number, number];

/**
 * The ray after the pattern, going the same way along z as before; undefined where the order is evanescent.
 * `direction` is a unit vector in the medium of index `indexBefore`; `gratingVector` in waves/mm.
 */
export function diffractedRay(
  direction: Vec3,
  gratingVector: Vec2,
  order: number,
  wavelength: number,
  indexBefore = 1,
  indexAfter = 1,
): Vec3 | undefined {
  const l = (indexBefore * direction[0] + order * wavelength * gratingVector[0]) / indexAfter;
  const m = (indexBefore * direction[1] + order * wavelength * gratingVector[1]) / indexAfter;
  const left = 1 - l * l - m * m;
  if (!(left > 0)) return undefined;
  return [l, m, Math.sign(direction[2]) * Math.sqrt(left)];
}

/**
 * Angle of an order in the plane across straight grooves, sin β = mλ/d − sin α, both angles on the same side of the normal
 * where positive (the sign that is usual for reflection gratings); undefined where the order is evanescent.
 */
export function diffractionAngle(
  incidence: number,
  period: number,
  order: number,
  wavelength: number,
): number | undefined {
  const sine = (order * wavelength) / period - Math.sin(incidence);
  return Math.abs(sine) < 1 ? Math.asin(sine) : undefined;
}

/** Angle at which an order returns along the incident ray, 2 d sin θ = mλ (Littrow); undefined where there is none. */
export function littrowAngle(period: number, order: number, wavelength: number): number | undefined {
  const sine = (order * wavelength) / (2 * period);
  return Math.abs(sine) < 1 ? Math.asin(sine) : undefined;
}

/** Period that sends an order back along a ray at `angle` (Littrow). */
export const littrowPeriod = (angle: number, order: number, wavelength: number): number =>
  (order * wavelength) / (2 * Math.sin(angle));
