/** A tracker's measurement of a point: where it is and how well, tracker frame; mm, covariances 3 × 3 row-major, mm². */
import type { Vec3 } from '../../geometry/vector.ts';
import type { Measured } from '../../scenario/tracked-point.ts';

/** Standard uncertainties where the file gives none; common practice of laser trackers, no source beyond the trade. */
export const TRACKER_PRACTICE = {
  /** mm, each axis of a Cartesian point. */
  axis: 0.02,
  /** mm */
  range: 0.01,
  /** rad: a second of arc, 5 µm at a metre. */
  angle: Math.PI / 180 / 3600,
} as const;

/** No tracked coordinate is taken as better than this, mm: ten nanometres. */
const LEAST = 1e-5;

/** x, y, z of a point, tracker frame. */
export function placeOf(measured: Measured): Vec3 {
  if (measured.kind === 'cartesian') return measured.at;
  const { range, azimuth, elevation } = measured;
  const level = range * Math.cos(elevation);
  return [level * Math.cos(azimuth), level * Math.sin(azimuth), range * Math.sin(elevation)];
}

/** Ranges are better than angles: the ellipsoid of a spherical reading lies flat across the line of sight. */
export function measuredCovariance(measured: Measured): Float64Array {
  if (measured.kind === 'cartesian') {
    const { axis } = TRACKER_PRACTICE;
    const [x, y, z] = measured.sigma ?? [axis, axis, axis];
    return diagonal([Math.max(x, LEAST), Math.max(y, LEAST), Math.max(z, LEAST)]);
  }
  const { range, azimuth, elevation } = measured;
  const { range: u, angle } = TRACKER_PRACTICE;
  const sigma = measured.sigma ?? [u, angle, angle];
  const [ca, sa] = [Math.cos(azimuth), Math.sin(azimuth)];
  const [ce, se] = [Math.cos(elevation), Math.sin(elevation)];
  const covariance = new Float64Array(9);
  addAlong(covariance, [ce * ca, ce * sa, se], Math.max(sigma[0], LEAST));
  addAlong(covariance, [-sa, ca, 0], Math.max(range * ce * sigma[1], LEAST));
  addAlong(covariance, [-se * ca, -se * sa, ce], Math.max(range * sigma[2], LEAST));
  return covariance;
}

export const diagonal = ([x, y, z]: Vec3): Float64Array =>
  Float64Array.of(x * x, 0, 0, 0, y * y, 0, 0, 0, z * z);

/** Adds u² along a unit vector. */
export function addAlong(covariance: Float64Array, direction: Vec3, u: number): void {
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++) covariance[i * 3 + j]! += direction[i]! * direction[j]! * u * u;
}
