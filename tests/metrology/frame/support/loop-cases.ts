/** Jobs whose parts are brought to their place by the camera's frames alone. */
import { exampleDesign } from '../../support/bench.ts';
import { frameLoop } from './frame-loop.ts';

export interface LoopCase {
  readonly example: string;
  /** Frames in phase steps, which tell all signs; in one, balls with a tilt as a bias show two readings alike. */
  readonly steps: number;
  /** mm and rad each way: some ten fringes of what is sensed best. */
  readonly most: readonly number[];
  /** Random ones: some 0.3 to 0.6 s of CPU each; a bench with few patches is quicker. */
  readonly starts: number;
}

const ON_STAGE = [0.1, 0.1, 0.3, 3e-4, 3e-4, 2e-4];
const FAR_CUBES = [0.2, 0.2, 1, 4e-4, 4e-4, 4e-4];
const NEAR_BALLS = [0.01, 0.01, 0.02, 1e-4, 1e-4, 1e-4];

export const LOOP_CASES: readonly LoopCase[] = [
  { example: 'steer-mirror-on-stage', steps: 1, most: ON_STAGE, starts: 84 },
  { example: 'converging-retroreflectors', steps: 1, most: FAR_CUBES, starts: 84 },
  { example: 'diverging-balls', steps: 1, most: NEAR_BALLS, starts: 168 },
  { example: 'diverging-balls', steps: 3, most: NEAR_BALLS, starts: 168 },
];

/** Of the frame's smaller side: few, so that many starts can be made. */
const PIXELS = 280;

export const loopOf = ({ example, steps }: LoopCase) => frameLoop(exampleDesign(example), PIXELS, steps);
