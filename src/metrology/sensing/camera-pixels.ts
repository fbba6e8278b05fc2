/** The interferometer's camera as it samples the pattern: lengths in mm on the pattern. */
import type { Design } from '../../design/design.ts';

/** Length on the pattern that one camera pixel sees, mm. */
export const pixelPitch = (design: Design): number =>
  design.beam.cameraDiameter / design.scenario.interferometer.pixelsAcrossBeam;

/** The sampling theorem's limit: fringes closer than this are not seen for what they are. */
export const MOST_FRINGES_PER_PIXEL = 0.5;

/**
 * Fringes closer than this an eye does not count: with five pixels to a fringe, the brightest of them is never dimmer than
 * cos(π/5) = 0.81 of the fringe's amplitude, with two and a half (0.8 of the camera's limit) now 0.31 and now 1, which is moiré.
 */
export const MOST_COUNTABLE_PER_PIXEL = 0.2;
