/**
 * Waves in air that meet a surface of revolution at normal incidence, as eikonals of space, mm: all their rays are straight and normal to
 * parallel surfaces. About the axis â through O, with X − O = ρρ̂ + ζâ:
 *   cone of half-angle α from its apex O along â   E = σ(−ρ cos α + ζ sin α)   σ = 1 onto its outside, −1 onto its inside
 *   torus whose tube runs on the circle ρ = R      E = ∓√((ρ − R)² + ζ²)       − toward the circle, + away from it
 * Both satisfy |∇E| = 1 and are, to a constant, the signed distance from the surface: Born & Wolf, Principles of Optics, §3.1.2
 * (the theorem of Malus and Dupin). A sphere and a plane have the point wave and the plane wave of their own files.
 */
import { dot, length, scale, squareTo, subtract, type Vec3 } from '../geometry/vector.ts';

export interface AirWave {
  /** E at a place, mm, and the unit direction of the ray there. */
  at(place: Vec3): { readonly path: number; readonly direction: Vec3 };
  /** No curvature of the wave within `reach` of a place is larger, 1/mm. */
  curvatureBound(place: Vec3, reach: number): number;
}

/** `axis` is a unit vector from the apex into the opening. */
export function conicalWave(apex: Vec3, axis: Vec3, halfAngle: number, side: 'outside' | 'inside'): AirWave {
  const [cos, sin] = [Math.cos(halfAngle), Math.sin(halfAngle)];
  const sign = side === 'outside' ? 1 : -1;
  return {
    at(place) {
      const { rho, zeta, radial } = aboutAxis(place, apex, axis);
      const direction = combined(radial, -sign * cos, axis, sign * sin);
      return { path: sign * (-rho * cos + zeta * sin), direction };
    },
    curvatureBound(place, reach) {
      const least = aboutAxis(place, apex, axis).rho - reach;
      return least > 0 ? cos / least : Number.POSITIVE_INFINITY;
    },
  };
}

/** `sense` 1: the light runs toward the circle of `radius` about the axis through `centre`; −1: away from it. */
export function ringFocusWave(centre: Vec3, axis: Vec3, radius: number, sense: 1 | -1): AirWave {
  const away = (place: Vec3) => {
    const { rho, zeta, radial } = aboutAxis(place, centre, axis);
    return { rho, zeta, radial, distance: Math.sqrt((rho - radius) ** 2 + zeta * zeta) };
  };
  return {
    at(place) {
      const { rho, zeta, radial, distance } = away(place);
      const factor = -sense / distance;
      return {
        path: -sense * distance,
        direction: combined(radial, factor * (rho - radius), axis, factor * zeta),
      };
    },
    curvatureBound(place, reach) {
      const { rho, distance } = away(place);
      const least = Math.min(rho, distance) - reach;
      return least > 0 ? 1 / least : Number.POSITIVE_INFINITY;
    },
  };
}

/** ρ, ζ and ρ̂; on the axis itself any direction square to it serves, since only rings about it are lit. */
export function aboutAxis(
  place: Vec3,
  origin: Vec3,
  axis: Vec3,
): { readonly rho: number; readonly zeta: number; readonly radial: Vec3 } {
  const from = subtract(place, origin);
  const zeta = dot(from, axis);
  const across = subtract(from, scale(axis, zeta));
  const rho = length(across);
  if (rho > 0) return { rho, zeta, radial: scale(across, 1 / rho) };
  const any = squareTo(Math.abs(axis[0]) < 0.5 ? [1, 0, 0] : [0, 1, 0], axis);
  return { rho, zeta, radial: scale(any, 1 / length(any)) };
}

const combined = (a: Vec3, p: number, b: Vec3, q: number): Vec3 => [
  p * a[0] + q * b[0],
  p * a[1] + q * b[1],
  p * a[2] + q * b[2],
];
