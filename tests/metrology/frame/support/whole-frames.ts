/** Whole frames that the program draws of an example, by rays or by scalar diffraction, found and read as `read` does. Fringes, mm. */
import type { Design } from '../../../../src/design/design.ts';
import type { Vec3 } from '../../../../src/geometry/vector.ts';
import { wholeFrame } from '../../../../src/metrology/camera/whole-frame.ts';
import { readFrames } from '../../../../src/metrology/frame/read-frames.ts';
import { tracedFringes } from '../../../../src/metrology/sensing/traced-readings.ts';
import type { CameraFrame } from '../../../../src/scenario/camera-frame.ts';
import { PLAIN_ORIENTATION } from '../../../../src/scenario/camera-orientation.ts';
import { type Judged, judged } from './judged.ts';

interface Drawn {
  /** How far each reference is off. */
  readonly references: ReadonlyMap<string, Vec3>;
  readonly seed: string;
  readonly by: 'rays' | 'waves';
}

/** Of full scale. */
const NOISE = 0.02;

/** Each patch of a focus that has a reference so moved. */
export function readWhole(design: Design, { references, seed, by }: Drawn): readonly Judged[] {
  const { width, height, grey } = wholeFrame(design, {
    ...{ orientation: PLAIN_ORIENTATION, displacements: { references } },
    ...{ noise: NOISE, seed, diffraction: by === 'waves' },
  });
  const values = Float32Array.from(grey, (level) => level / 255);
  const frame: CameraFrame = { width, height, values, holds: 'intensity', levels: 255 };
  return readFrames(design, [frame]).patches.flatMap((reading) => {
    const { id, reference } = reading.patch;
    const move = references.get(reference.id);
    const truth = move && tracedFringes(design, reading.patch)?.(move);
    if (truth === undefined) return [];
    return [judged({ id, kind: truth.length === 1 ? 'line' : 'ball', truth }, reading, by)];
  });
}
