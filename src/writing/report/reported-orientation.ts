/** In `report.json`, whether the lit outlines tell the camera's eight orientations apart, and what does where they do not; µm. */
import type { Design } from '../../design/design.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { type OrientationCheck, orientationOf } from '../../metrology/camera/orientation-check.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';

export interface ReportedOrientation {
  readonly toldApart: boolean;
  /** Against the picture seen from the interferometer. */
  readonly alike: readonly Pick<CameraOrientation, 'turned' | 'mirrored'>[];
  /** Ids of patches to cover one after the other. */
  readonly cover: readonly string[];
  readonly trial: {
    readonly patch: string;
    readonly reference: string;
    readonly direction: Vec3;
    readonly move_um: number;
  } | null;
  readonly settledBy: OrientationCheck['settledBy'];
}

export function reportedOrientation(design: Design): ReportedOrientation {
  const { alike, cover, trial, settledBy } = orientationOf(design);
  return {
    toldApart: alike.length === 0,
    alike: alike.map(({ turned, mirrored }) => ({ turned, mirrored })),
    cover: cover.map(({ id }) => id),
    trial:
      trial === undefined
        ? null
        : {
            patch: trial.patch.id,
            reference: trial.patch.reference.id,
            direction: trial.sense.direction,
            move_um: UM_PER_MM / trial.sense.fringesPerMm,
          },
    settledBy,
  };
}

/** For `check`, one line. */
export function orientationLine({ alike, cover, settledBy }: ReportedOrientation): string {
  if (settledBy === 'outlines') return '  camera the lit outlines tell its eight orientations apart';
  const head = `  camera ${alike.length + 1} of its eight orientations look alike`;
  const covering = cover.length === 0 ? [] : [`cover patch ${cover.join(', then ')} and see what goes dark`];
  const more =
    settledBy === 'trial'
      ? ['make a trial move']
      : settledBy === 'card'
        ? ['move a card in from +x and from +y']
        : [];
  return `${head}: ${[...covering, ...more].join('; ')}`;
}
