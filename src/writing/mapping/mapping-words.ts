/** The mapping and the camera's pixels in words: one wording for every file that gives them. */
import type { Design } from '../../design/design.ts';
import type { Distortion } from '../../metrology/null/mapping.ts';
import { type CameraOrientation, PLAIN_ORIENTATION } from '../../scenario/camera-orientation.ts';
import { degrees, significant } from '../page/figures.ts';
import { axesWords, orientationWords } from '../page/orientation-words.ts';

/** The best similarity, and how far the mapping is from it. */
export function departureWords({ scale, rms, largest, diameter, rotation, isMirrored }: Distortion): string {
  const percent = (length: number): string => `${significant((100 * length) / diameter, 2)} %`;
  return (
    `1 mm of pattern shows ${significant(scale)} mm of surface, turned by ${degrees(rotation)}°${isMirrored ? ' and mirrored' : ''}; ` +
    `distortion ${percent(rms)} of the aperture rms, ${percent(largest)} at most`
  );
}

/** How the camera's columns and rows count. */
export function cameraWords(
  { scenario, beam }: Design,
  orientation: CameraOrientation = PLAIN_ORIENTATION,
): string {
  const { pixelsAcrossBeam } = scenario.interferometer;
  const spanned = beam.radius === undefined ? 'the substrate’s wider side' : 'the beam’s circle';
  return (
    `pixels of a square frame of ${pixelsAcrossBeam} that ${spanned} spans, centred, ${orientationWords(orientation)}: ${axesWords(orientation).replace('x', 'x of the pattern')}; ` +
    'columns from the left, rows from the top, the middle of the first pixel is 0.'
  );
}
