/**
 * A retroreflector as a laser tracker found it, and where it sat: at its focus, where the hologram's light says it should be, or
 * touching the part's datums. Tracker frame, right-handed: azimuth from its +x toward its +y, elevation up from that plane.
 */
import type { Place } from '../finding/finding.ts';
import type { Vec3 } from './placing.ts';

export interface TrackedPoint {
  /** A reference's id, or that with `@hologram` or `@part`. */
  readonly name: string;
  readonly reference: string;
  readonly side: 'hologram' | 'part';
  readonly measured: Measured;
  /** Where its name stands in the file. */
  readonly place?: Place;
}

/** mm and radians; standard uncertainties undefined where the file gives none. */
export type Measured =
  | { readonly kind: 'cartesian'; readonly at: Vec3; readonly sigma: Vec3 | undefined }
  | {
      readonly kind: 'spherical';
      readonly range: number;
      readonly azimuth: number;
      readonly elevation: number;
      /** Of range (mm), azimuth and elevation (rad). */
      readonly sigma: Vec3 | undefined;
    };
