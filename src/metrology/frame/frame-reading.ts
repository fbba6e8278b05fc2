/** What a frame says of each patch. Fringes and their signs are those of a reading for `steer` (scenario/bench-reading.ts). */
import type { DesignedPatch } from '../../design/design.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import type { FrameMap } from '../location/frame-map.ts';

/** Why a patch is not read, or is read badly. */
export type FrameFault =
  | 'outside' // of the picture
  | 'dark' // little or no light comes back
  | 'saturated'
  | 'no-fringes' // light, but no contrast: less than a fringe, or fringes washed out, or none
  | 'washed-out' // the like, of a patch that shows fringes wherever its reference stands
  | 'moire' // fringes closer than the pixels can tell, or that may be
  | 'blurred' // fewer pixels, or less contrast, than a fit needs
  | 'misfit'; // what is seen is no picture of the patch

export interface FittedValue {
  /** Beyond what the patch shows at its design place. */
  readonly fringes: number;
  /** Standard, fringes. */
  readonly uncertainty: number;
  /** The part of it that is for what diffraction does, which a frame's own noise does not show; undefined where no model tells it. */
  readonly diffraction: number | undefined;
}

export interface PatchReading {
  readonly patch: DesignedPatch;
  /** One a sensed direction, in the order of the patch's senses (of a ring: along x, along y, power); undefined where it was not read. */
  readonly values: readonly (FittedValue | undefined)[];
  /** False: all signs may be the other way, together. */
  readonly signKnown: boolean;
  /**
   * The other reading that the picture shows as well, of a tilt bias: which of the two it is, one frame does not tell. That of the values is
   * right as long as the tilt along the bias is less than the bias. Undefined where there is none, or it is the values with all signs turned.
   */
  readonly other?: readonly FittedValue[];
  /** (I_max − I_min)/(I_max + I_min). */
  readonly visibility: FittedValue['fringes'] | undefined;
  /** 0, nothing to be had, to 1: the fit leaves no more than the frame's noise, and no reading that is not told fits nearly as well. */
  readonly quality: number;
  /** Worst first; empty where all is well. */
  readonly faults: readonly FrameFault[];
}

export interface FrameReading {
  readonly map: FrameMap;
  /** The outlines in the picture tell which way the camera is turned. */
  readonly toldApart: boolean;
  /** Orientations that show the same outlines as the one taken; it is not among them. */
  readonly alike: readonly CameraOrientation[];
  /** In the order of the design. Screens are left out. */
  readonly patches: readonly PatchReading[];
}
