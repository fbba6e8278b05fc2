/**
 * The loop that a camera closes: a part off its place, a frame traced by independent code, read, steered by, the part moved with an error,
 * and again, until steering says that it is done. Everything in this process. mm, rad.
 */
import type { Design } from '../../../../src/design/design.ts';
import { movesWithPart } from '../../../../src/kinds/reference.ts';
import { toBenchReading } from '../../../../src/metrology/frame/to-bench-reading.ts';
import { progressOf } from '../../../../src/metrology/steering/progress.ts';
import { steer } from '../../../../src/metrology/steering/steering.ts';
import { displacementOf } from '../../../../src/metrology/steering/steering-part.ts';
import { onlySolution } from '../../../../src/metrology/steering/steering-signs.ts';
import { stepOf } from '../../../../src/metrology/steering/step.ts';
import { deviates } from '../../../independent/random.ts';
import type { Vector } from '../../../independent/ray.ts';
import { after, type Pose, rotationAbout, sixOf } from '../../../independent/stage-operator.ts';
import { goodOf, readTaken } from './read-taken.ts';
import { taker } from './taken.ts';

export interface Ended {
  readonly rounds: number;
  readonly done: boolean;
  /** The largest error at the end of what is seen, over its full standard uncertainty; and over that of the readings alone. */
  readonly worst: number;
  readonly worstOfReadings: number;
  /** Readings given as good ones whose sign was wrong. */
  readonly reversed: number;
}

const MOVE_ERROR = 0.03;
const MOST_ROUNDS = 20;
const NOISE = 0.03;
const DISTORTION = 0.02;

/** A motion of the part about its origin by a move and a rotation vector. */
function poseBy([x, y, z, a, b, c]: readonly number[]): Pose {
  const angle = Math.hypot(a!, b!, c!);
  const shift: Vector = [x!, y!, z!];
  if (angle === 0) return { rotation: rotationAbout([1, 0, 0], 0), shift };
  return { rotation: rotationAbout([a! / angle, b! / angle, c! / angle], angle), shift };
}

/** `most`: of the start each way, mm and rad. All references move with the part, which has the bench's axes. */
/** `steps`: frames a round; from three on they tell all signs. */
export function frameLoop(design: Design, pixels: number, steps = 1) {
  if (!design.references.every(movesWithPart)) throw new Error('a loop is of the part alone');
  const take = taker({ design, features: {} });
  return (seed: number, most: readonly number[]): Ended => {
    const random = deviates(seed);
    let part = poseBy(most.map((each) => each * (2 * random.uniform() - 1)));
    let settled: readonly string[] | undefined;
    let reversed = 0;
    for (let rounds = 1; ; rounds++) {
      const taken = take(random, { part }, { pixels, noise: NOISE, distortion: DISTORTION, steps });
      const read = goodOf(readTaken(design, taken, steps > 1 ? { stepping: 1 } : {}) ?? []);
      reversed += read.filter(({ isReversed }) => isReversed).length;
      const readings = read.flatMap(({ reading }) => toBenchReading(reading) ?? []);
      // A frame in which nothing is found is taken again.
      if (readings.length === 0 && rounds < MOST_ROUNDS) continue;
      if (readings.length === 0)
        return { rounds, done: false, worst: Number.NaN, worstOfReadings: Number.NaN, reversed };
      const steering = steer(design, readings);
      const progress = progressOf(design, steering, settled);
      settled = progress.settled;
      if (progress.done || rounds === MOST_ROUNDS) {
        const { combined, sigma } = steering.part.uncertainty;
        const over = (stated: readonly (number | undefined)[]): number =>
          Math.max(...sixOf(part).map((value, k) => Math.abs(value / (stated[k] ?? Infinity))));
        return { rounds, done: progress.done, worst: over(combined), worstOfReadings: over(sigma), reversed };
      }
      const solution = onlySolution(steering.part.candidates);
      if (solution === undefined) continue;
      const { translation, rotation } = displacementOf(solution.unknowns, steering.part.pose.size);
      const { fraction } = stepOf(design, steering, rounds > 1);
      const by = [...translation, ...rotation].map(
        (value) => -fraction * value * (1 + MOVE_ERROR * random.normal()),
      );
      part = after(part, poseBy(by));
    }
  };
}
