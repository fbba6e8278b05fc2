/**
 * The part's datum features and the ways a ball touches them. Places and directions are in the part frame, mm and radians.
 */

import type { SagGrid } from '../geometry/grid-sag.ts';
import type { Outline } from '../geometry/outline.ts';
import type { XyTerm, ZernikeTerm } from '../geometry/polynomial-sag.ts';
import type { AsphereTerm } from '../geometry/sag.ts';
import type { Vec3 } from '../geometry/vector.ts';

export type Datum =
  | {
      readonly id: string;
      readonly kind: 'plane';
      readonly point: Vec3;
      readonly normal: Vec3;
      /** Of the flat, about `point` (datum-extent.ts); undefined: endless. */
      readonly extent?: Outline;
    }
  | {
      readonly id: string;
      readonly kind: 'cylinder';
      readonly point: Vec3;
      readonly axis: Vec3;
      readonly diameter: number;
      /** From `point` along the axis; undefined: endless. */
      readonly length?: number;
      readonly side: 'outside' | 'inside';
    }
  | {
      /** The cone opens from `apex` along `axis`; `angle` is the full angle at the apex. */
      readonly id: string;
      readonly kind: 'cone';
      readonly apex: Vec3;
      readonly axis: Vec3;
      readonly angle: number;
      readonly side: 'outside' | 'inside';
    }
  | {
      readonly id: string;
      readonly kind: 'sphere';
      readonly centre: Vec3;
      readonly diameter: number;
      readonly side: 'outside' | 'inside';
    }
  | {
      /** `diameter` is that of the circle on which the tube's centre runs, `tube` that of the tube itself, the smaller one. */
      readonly id: string;
      readonly kind: 'torus';
      readonly centre: Vec3;
      readonly axis: Vec3;
      readonly diameter: number;
      readonly tube: number;
      readonly side: 'outside' | 'inside';
    }
  | { readonly id: string; readonly kind: 'point'; readonly point: Vec3 }
  | Asphere
  | {
      /** A straight groove: its bottom line through `point` along `axis`, open toward `normal`, `angle` between its flanks. */
      readonly id: string;
      readonly kind: 'vee';
      readonly point: Vec3;
      readonly axis: Vec3;
      readonly normal: Vec3;
      readonly angle: number;
    };

/** A surface by its sag from the vertex (optics/sag.ts has the formula); its own x lies along `x`, its z along `axis`. */
export interface Asphere {
  readonly id: string;
  readonly kind: 'asphere';
  readonly vertex: Vec3;
  readonly axis: Vec3;
  /** Square to the axis. */
  readonly x: Vec3;
  /** mm; positive where the centre of curvature lies on the axis's + side; undefined: flat but for its terms. */
  readonly radius: number | undefined;
  readonly conic: number;
  readonly terms: readonly AsphereTerm[];
  /** Freeform terms, added to the sag: of xⁱ yʲ in mm^(1 − i − j). Empty where there are none. */
  readonly xy: readonly XyTerm[];
  /** About the vertex, on a disc of `radius`. */
  readonly zernike?: { readonly radius: number; readonly terms: readonly ZernikeTerm[] };
  /** `file` as the scenario names it. The surface ends where the grid does. */
  readonly grid?: { readonly file: string } & SagGrid;
  /** Which side of the surface is air: that of the axis's + or − side. */
  readonly faces: '+' | '-';
}

/**
 * One touch of a reference's ball on a datum, with what fixes the freedom that the touch leaves:
 * `azimuth` about the datum's axis, right-handed, from the part's +x made square to the axis (from +y for an axis along x):
 * the centre lies in that half-plane; `height` along the axis from the datum's own point, apex or centre; `x`, `y`, `z` the
 * ball centre's part-frame coordinates. The axis of a plane is its normal, that of a sphere or a point the part's +z.
 * Where the touches alone leave several centres, a word chooses among them by passing one within 0.01 mm.
 */
export interface Touch {
  readonly datum: string;
  readonly azimuth?: number;
  readonly height?: number;
  readonly x?: number;
  readonly y?: number;
  readonly z?: number;
}

export { LEAST_NODES, type SagGrid } from '../geometry/grid-sag.ts';
