/** That the hologram was not found in a frame, or not surely: what was seen, and what to do about it, for the operator. */
import type { Design } from '../../design/design.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import type { LocationFault } from '../../metrology/location/locate.ts';
import type { CameraFrame } from '../../scenario/camera-frame.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { orientationWords } from '../page/orientation-words.ts';

const STATE_PLACE = 'state in a bench file where the beam is: `camera: {centre, pixelsPerMm}`';
export const CHECK_STATED = 'check --bench, --view, --turned and --mirrored before you move anything';

/** Means of a frame without any picture in it, as a part of full scale. */
const DARK_BELOW = 0.1;
const BRIGHT_ABOVE = 0.9;
/** Of the frame's smaller side against the pixels that the scenario has across the beam: beyond this the frame is of another size. */
const SAME_SIZE = 0.1;

/** Of the first file; the frame's own words for it. */
export function unlocated(design: Design, file: string, frame: CameraFrame, fault: LocationFault): Finding {
  const { seen, remedy } = fault === 'blank' ? blankWords(frame) : OTHER[fault];
  const size = fault === 'not-found' ? sizeWords(design, frame) : '';
  return errorFinding('unread-patch', file, `${seen}${size}`, remedy);
}

interface Words {
  readonly seen: string;
  readonly remedy: string;
}

const OTHER: Readonly<Record<Exclude<LocationFault, 'blank'>, Words>> = {
  'sizes-differ': {
    seen: 'the frames have different sizes',
    remedy: 'give frames of one camera and one setting',
  },
  'not-found': {
    seen: 'the outlines of this hologram’s patches were not found in the frame',
    remedy: `check that the frame shows this hologram, all of it and in focus; or ${STATE_PLACE}`,
  },
  'too-few-lit': {
    seen: 'too few patches are lit to find the hologram in the frame',
    remedy: `align more references by eye first; or ${STATE_PLACE}`,
  },
};

function blankWords({ values }: CameraFrame): Words {
  const mean = values.reduce((sum, value) => sum + (Number.isFinite(value) ? value : 0), 0) / values.length;
  if (mean < DARK_BELOW) {
    return {
      seen: 'the frame is dark',
      remedy:
        'check that nothing blocks the light and that the references are in their seats; or expose longer',
    };
  }
  if (mean > BRIGHT_ABOVE)
    return { seen: 'the frame is saturated all over', remedy: 'expose for less time, or dim the light' };
  return {
    seen: 'the frame is the same grey all over',
    remedy: 'check that the camera looks at the hologram and is in focus',
  };
}

function sizeWords({ scenario }: Design, { width, height }: CameraFrame): string {
  const { pixelsAcrossBeam } = scenario.interferometer;
  if (Math.abs(Math.min(width, height) / pixelsAcrossBeam - 1) <= SAME_SIZE) return '';
  return `, which has ${width} × ${height} pixels (the scenario has ${pixelsAcrossBeam} across the beam)`;
}

/** A phase map may have no edge of its own to go by: its place is then that of a frame of which nothing is said. */
export function assumedPlace(file: string): Finding {
  const message =
    'the hologram was not found in the map; the beam is assumed to fill the map’s smaller side, centred';
  return { ...errorFinding('open-orientation', file, message, STATE_PLACE), severity: 'warning' };
}

export function contradiction(stated: CameraOrientation, seen: CameraOrientation): Finding {
  const message = `the picture is read as stated, ${orientationWords(stated)}; its outlines fit one ${orientationWords(seen)}`;
  return { ...errorFinding('open-orientation', '--bench', message, CHECK_STATED), severity: 'warning' };
}
