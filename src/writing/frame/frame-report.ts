/** What `read --json` prints, and what `steer --frame` adds to its document: the camera as it was found, and each patch. Fringes as for `steer`. */
import type { Design } from '../../design/design.ts';
import type { Finding } from '../../finding/finding.ts';
import type { FrameReading, PatchReading } from '../../metrology/frame/frame-reading.ts';
import { sensesOf } from '../../metrology/sensing/sensitivity.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import type { CameraFrame } from '../../scenario/camera-frame.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { reportedFinding } from '../report/reported-finding.ts';
import { faultRemedy, faultSeen, isSure } from './fault-words.ts';

/** A file of frames as it was taken. */
export interface TakenFile {
  readonly file: string;
  /** Such as `8-bit PNG`. */
  readonly form: string;
  readonly frames: readonly CameraFrame[];
}

/** What was read of frames, and what is known of them. */
export interface ReadPicture {
  readonly taken: readonly TakenFile[];
  readonly reading: FrameReading;
  /** Options or a bench file say how the camera is turned. */
  readonly stated: boolean;
}

export function frameReport(
  design: Design,
  { taken, reading, stated }: ReadPicture,
  findings: readonly Finding[],
) {
  const { map, toldApart, alike, patches } = reading;
  return {
    ok: findings.every(({ severity }) => severity !== 'error'),
    frames: taken.map(({ file, form, frames }) => ({
      ...{ file, form, count: frames.length, columns: frames[0]!.width, rows: frames[0]!.height },
      holds: frames[0]!.holds,
    })),
    camera: {
      ...orientationRow(map.orientation),
      ...{ stated, toldApart, alike: alike.map(orientationRow) },
      pixel_um: map.pitch * UM_PER_MM,
      uncertainty_pixels: map.uncertainty,
    },
    patches: patches.map((patch) => patchRow(design, patch)),
    findings: findings.map(reportedFinding),
  };
}

/** Of frames in which the hologram was not found: only what is said of them. */
export const unreadFrameReport = (findings: readonly Finding[]) => ({
  ...{ ok: findings.every(({ severity }) => severity !== 'error'), frames: [], camera: null, patches: [] },
  findings: findings.map(reportedFinding),
});

const orientationRow = ({ view, turned, mirrored }: CameraOrientation) => ({ view, turned, mirrored });

/** As the pictures and the sheet number them. */
export const numberOf = ({ patches }: Design, { patch }: PatchReading): number => patches.indexOf(patch) + 1;

function patchRow(design: Design, reading: PatchReading) {
  const { patch, values, signKnown, other, visibility, quality, faults } = reading;
  return {
    ...{ id: patch.id, number: numberOf(design, reading), sure: isSure(reading), signKnown, quality },
    visibility: visibility ?? null,
    values: valueNames(design, reading).map((name, k) => ({
      name,
      fringes: values[k]?.fringes ?? null,
      uncertainty_fringes: values[k]?.uncertainty ?? null,
      diffraction_fringes: values[k]?.diffraction ?? null,
    })),
    ...(other === undefined
      ? {}
      : {
          other: other.map(({ fringes, uncertainty }) => ({ fringes, uncertainty_fringes: uncertainty })),
        }),
    faults: faults.map((fault) => ({ fault, message: faultSeen(fault), remedy: faultRemedy(fault) })),
  };
}

/** `tilt` or `power`, in the order of the values; of a ring which way its tilt is counted. */
export function valueNames(design: Design, { patch }: PatchReading): readonly string[] {
  const senses = sensesOf(design, patch);
  return senses.length > 0 ? senses.map(({ kind }) => kind) : ['tilt along x', 'tilt along y', 'power'];
}
