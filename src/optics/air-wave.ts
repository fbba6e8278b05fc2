/**
 * Waves in air that meet a surface of revolution at normal incidence, as eikonals of space, mm: all their rays are straight and normal to
 * parallel surfaces. About the axis â through O, with X − O = ρρ̂ + ζâ:
 *   cone of half-angle α from its apex O along â   E = σ(−ρ cos α + ζ sin α)   σ = 1 onto its outside, −1 onto its inside
 *   torus whose tube runs on the circle ρ = R      E = ∓√((ρ − R)² + ζ²)       − toward the circle, + away from it
 * Both satisfy |∇E| = 1 and are, to a constant, the signed distance from the surface: Born & Wolf, Principles of Optics, §3.1.2
 * (the theorem of Malus and Dupin). A sphere and a plane have the point wave and the plane wave of their own files.
 */
import { dot, length, scale, squareTo, subtract, type Vec3 } from '../geometry/vector.ts';
import type { WaveRay } from './eikonal.ts';

export interface AirWave {
  /** E at a place and the lateral direction cosines of the ray there, into `found`: it is asked millions of times. */
  at(x: number, y: number, z: number, found: WaveRay): void;
  /** No curvature of the wave within `reach` of a place is larger, 1/mm. */
  curvatureBound(place: Vec3, reach: number): number;
  /** Whether it converges, or is straight, in every direction: no second derivative of E is positive. */
  readonly converges: boolean;
}

/** `axis` is a unit vector from the apex into the opening. */
export function conicalWave(apex: Vec3, axis: Vec3, halfAngle: number, side: 'outside' | 'inside'): AirWave {
  const [cos, sin] = [Math.cos(halfAngle), Math.sin(halfAngle)];
  const sign = side === 'outside' ? 1 : -1;
  const about = aroundAxis(apex, axis);
  return {
    converges: side === 'outside',
    at(x, y, z, found) {
      const { rho, zeta, rx, ry } = about(x, y, z);
      found.path = sign * (-rho * cos + zeta * sin);
      found.px = sign * (-cos * rx + sin * axis[0]);
      found.py = sign * (-cos * ry + sin * axis[1]);
    },
    curvatureBound([x, y, z], reach) {
      const least = about(x, y, z).rho - reach;
      return least > 0 ? cos / least : Number.POSITIVE_INFINITY;
    },
  };
}

/** `sense` 1: the light runs toward the circle of `radius` about the axis through `centre`; −1: away from it. */
export function ringFocusWave(centre: Vec3, axis: Vec3, radius: number, sense: 1 | -1): AirWave {
  const about = aroundAxis(centre, axis);
  return {
    converges: false,
    at(x, y, z, found) {
      const { rho, zeta, rx, ry } = about(x, y, z);
      const distance = Math.sqrt((rho - radius) ** 2 + zeta * zeta);
      const factor = -sense / distance;
      found.path = -sense * distance;
      found.px = factor * ((rho - radius) * rx + zeta * axis[0]);
      found.py = factor * ((rho - radius) * ry + zeta * axis[1]);
    },
    curvatureBound([x, y, z], reach) {
      const { rho, zeta } = about(x, y, z);
      const distance = Math.sqrt((rho - radius) ** 2 + zeta * zeta) - reach;
      if (!(rho > reach && distance > 0)) return Number.POSITIVE_INFINITY;
      // 1/distance in the plane of the axis, across it the sine toward the axis over ρ.
      const sine = Math.min(1, (Math.abs(rho - radius) + reach) / distance);
      return Math.max(1 / distance, sine / (rho - reach));
    },
  };
}

/** As `aboutAxis`, the lateral part of ρ̂ alone, always in the same object. */
function aroundAxis(origin: Vec3, axis: Vec3) {
  const [ax, ay, az] = axis;
  const found = { rho: 0, zeta: 0, rx: 0, ry: 0 };
  return (x: number, y: number, z: number) => {
    const [dx, dy, dz] = [x - origin[0], y - origin[1], z - origin[2]];
    const zeta = dx * ax + dy * ay + dz * az;
    const [ux, uy, uz] = [dx - zeta * ax, dy - zeta * ay, dz - zeta * az];
    const rho = Math.sqrt(ux * ux + uy * uy + uz * uz);
    const [rx, ry] = rho > 0 ? [ux / rho, uy / rho] : aboutAxis(origin, origin, axis).radial;
    found.rho = rho;
    found.zeta = zeta;
    found.rx = rx;
    found.ry = ry;
    return found;
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
