/** One frame of a camera, or one phase map, as read from a file. The first value is the picture's top left; rows follow each other downward. */
export interface CameraFrame {
  /** Pixels. */
  readonly width: number;
  readonly height: number;
  /** Row by row. Intensity: 0 dark to 1 full scale. Phase: waves of the return; NaN where the map has no value. */
  readonly values: Float32Array;
  readonly holds: 'intensity' | 'phase';
  /** Grey levels from dark to full scale (255 for 8 bits); undefined for a phase map, or where the file holds fractions. */
  readonly levels?: number;
}
