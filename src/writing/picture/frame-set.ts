/** The whole frames that `fringes --camera` makes: one with all in place, and one for each displacement of the user's. */
import type { Design } from '../../design/design.ts';
import type { GreyPicture } from '../../metrology/camera/fringe-picture.ts';
import type { Displacements } from '../../metrology/camera/fringe-picture-displacements.ts';
import { type FrameWishes, wholeFrame } from '../../metrology/camera/whole-frame.ts';

interface NamedFrame {
  readonly file: string;
  /** Number of the displacement, from 1; undefined where all is in place. */
  readonly displacement: number | undefined;
  readonly picture: GreyPicture;
}

/** One after the other: a large camera's frames need not be held together. Throws a RangeError as `wholeFrame` does. */
export function* frameSet(
  design: Design,
  displaced: readonly Displacements[],
  wishes: Omit<FrameWishes, 'displacements' | 'seed'>,
): Generator<NamedFrame> {
  for (const [k, displacements] of [{}, ...displaced].entries()) {
    const file = k === 0 ? 'frame-aligned.png' : `frame-displaced-${k}.png`;
    const picture = wholeFrame(design, { ...wishes, displacements, seed: file });
    yield { file, displacement: k === 0 ? undefined : k, picture };
  }
}
