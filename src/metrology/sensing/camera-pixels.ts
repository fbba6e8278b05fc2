/** The interferometer's camera as it samples the pattern: lengths in mm on the pattern. */
import type { Design } from '../../design/design.ts';

/** Length on the pattern that one camera pixel sees, mm. */
export const pixelPitch = (design: Design): number =>
  design.beam.cameraDiameter / design.scenario.interferometer.pixelsAcrossBeam;

/** The sampling theorem's limit: fringes closer than this are not seen for what they are. */
export const MOST_FRINGES_PER_PIXEL = 0.5;
