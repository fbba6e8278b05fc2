/** From places on the pattern (mm, substrate frame) to a frame's pixels, and back. The middle of the first pixel, top left, is [0, 0]. */
import type { Vec2 } from '../../geometry/vector.ts';
import {
  type CameraOrientation,
  type PixelGrid,
  pixelAt,
  placeOfPixel,
} from '../../scenario/camera-orientation.ts';

export interface FrameMap {
  readonly orientation: CameraOrientation;
  /** Length on the pattern that a pixel sees in the middle of the picture, mm. */
  readonly pitch: number;
  /** [column, row], fractions and all. */
  readonly toPixel: (place: Vec2) => Vec2;
  readonly toPattern: (pixel: Vec2) => Vec2;
  /** Standard uncertainty of where a place is seen, pixels. */
  readonly uncertainty: number;
  /** The map's independent errors at a place, each by its standard deviation, where more is known than its uncertainty: columns and rows in turn, pixels. */
  readonly errorsAt?: (place: Vec2) => Float64Array;
}

/** A camera without distortion, its pixels where the grid says. */
export const plainMap = (orientation: CameraOrientation, grid: PixelGrid, uncertainty = 0): FrameMap => ({
  orientation,
  pitch: grid.pitch,
  toPixel: (place) => pixelAt(orientation, grid, place),
  toPattern: (pixel) => placeOfPixel(orientation, grid, pixel),
  uncertainty,
});
