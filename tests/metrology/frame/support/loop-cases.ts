/** Jobs whose parts are brought to their place by the camera's frames alone. */
import { exampleDesign } from '../../support/bench.ts';
import { frameLoop } from './frame-loop.ts';

export interface LoopCase {
  readonly example: string;
  /** Of the frame: few, so that many starts can be made. */
  readonly pixels: number;
  /** Frames in phase steps: balls with a tilt as a bias leave the sign open in one. */
  readonly steps: number;
  /** mm and rad each way: some ten fringes of what is sensed best. */
  readonly most: readonly number[];
}

export const LOOP_CASES: readonly LoopCase[] = [
  { example: 'steer-mirror-on-stage', pixels: 320, steps: 1, most: [0.1, 0.1, 0.3, 3e-4, 3e-4, 2e-4] },
  { example: 'converging-retroreflectors', pixels: 320, steps: 1, most: [0.2, 0.2, 1, 4e-4, 4e-4, 4e-4] },
  { example: 'diverging-balls', pixels: 320, steps: 3, most: [0.01, 0.01, 0.02, 1e-4, 1e-4, 1e-4] },
];

export const loopOf = ({ example, pixels, steps }: LoopCase) =>
  frameLoop(exampleDesign(example), pixels, steps);
