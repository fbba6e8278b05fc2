/**
 * The loop that a camera closes: a part off its place, a frame traced by independent code, read, steered by, the part moved as told, with an
 * error, and again, until steering says that it is done. Everything in this process. The camera stands still, so that it is found once. mm, rad.
 */
import type { Design } from '../../../../src/design/design.ts';
import { movesWithPart } from '../../../../src/kinds/reference.ts';
import { toBenchReading } from '../../../../src/metrology/frame/to-bench-reading.ts';
import { locateHologram } from '../../../../src/metrology/location/locate.ts';
import { checkMoves } from '../../../../src/metrology/steering/moves-check.ts';
import { movesFindings } from '../../../../src/metrology/steering/moves-findings.ts';
import { predictedReadings } from '../../../../src/metrology/steering/moves-predicted.ts';
import { progressOf } from '../../../../src/metrology/steering/progress.ts';
import { settledSigns } from '../../../../src/metrology/steering/settled-signs.ts';
import { type Steering, steer } from '../../../../src/metrology/steering/steering.ts';
import { displacementOf } from '../../../../src/metrology/steering/steering-part.ts';
import { stepOf } from '../../../../src/metrology/steering/step.ts';
import { askedMoves } from '../../../../src/metrology/steering/told-moves.ts';
import type { AskedMoves } from '../../../../src/scenario/bench-session.ts';
import type { CameraOrientation } from '../../../../src/scenario/camera-orientation.ts';
import { unsureWords } from '../../../../src/writing/frame/fault-words.ts';
import { deviates } from '../../../independent/random.ts';
import type { Vector } from '../../../independent/ray.ts';
import { after, type Pose, rotationAbout, sixOf } from '../../../independent/stage-operator.ts';
import { goodOf, readAt } from './read-taken.ts';
import { taker } from './taken.ts';

export interface Ended {
  readonly rounds: number;
  readonly done: boolean;
  /** The largest error at the end of what is seen, over its full standard uncertainty; and over that of the readings alone. */
  readonly worst: number;
  readonly worstOfReadings: number;
  /** Readings given as good ones whose sign was wrong. */
  readonly reversed: number;
  readonly trials: number;
  /** How often the part was set by eye again, as near as at the start. */
  readonly byEye: number;
  /** What was said against the moves, and of frames that showed nothing. */
  readonly said: readonly string[];
}

const MOVE_ERROR = 0.03;
/** Where one frame leaves signs open, trial moves take most of them: 8 on the average, 32 were seen. */
const MOST_ROUNDS = 40;
/** Rounds in which fringes finer than the pixels are named, one after the other, until the operator does what is said: aligns by eye again. */
const PATIENCE = 5;
const NOISE = 0.03;
const DISTORTION = 0.02;

/** A motion of the part about its origin by a move and a rotation vector. */
function poseBy([x, y, z, a, b, c]: readonly number[]): Pose {
  const angle = Math.hypot(a!, b!, c!);
  const shift: Vector = [x!, y!, z!];
  if (angle === 0) return { rotation: rotationAbout([1, 0, 0], 0), shift };
  return { rotation: rotationAbout([a! / angle, b! / angle, c! / angle], angle), shift };
}

/** `steps`: frames a round; from three on they tell all signs. All references move with the part, which has the bench's axes. */
export function frameLoop(design: Design, pixels: number, steps = 1) {
  if (!design.references.every(movesWithPart)) throw new Error('a loop is of the part alone');
  const take = taker({ design, features: {} });
  /** `most`: of the start each way, mm and rad. */
  return (seed: number, most: readonly number[]): Ended => {
    const random = deviates(seed);
    const setByEye = (): Pose => poseBy(most.map((each) => each * (2 * random.uniform() - 1)));
    let part = setByEye();
    const moveBy = (six: readonly number[]): void => {
      part = after(part, poseBy(six.map((value) => value * (1 + MOVE_ERROR * random.normal()))));
    };
    const first = take(random, { part }, { pixels, noise: NOISE, distortion: DISTORTION, steps });
    const { camera } = first;
    let map: ReturnType<typeof locateHologram>['map'];
    let [reversed, trials, byEye, still] = [0, 0, 0, 0];
    let before: { readonly steering: Steering; readonly asked: AskedMoves | undefined } | undefined;
    let [confirmed, settled]: [boolean, readonly string[]] = [false, []];
    const said: string[] = [];
    for (let rounds = 1; ; rounds++) {
      const taken =
        rounds === 1
          ? first
          : take(random, { part }, { pixels, noise: NOISE, distortion: DISTORTION, steps, camera });
      map ??= locateHologram(design, taken.frames, { orientation: camera.turn as CameraOrientation }).map;
      const all = map === undefined ? [] : readAt(design, taken, map, steps > 1 ? { stepping: 1 } : {});
      const read = goodOf(all);
      reversed += read.filter(({ isReversed }) => isReversed).length;
      const seen = read.flatMap(({ reading }) => toBenchReading(reading) ?? []);
      if (seen.length === 0) {
        said.push(
          ...(map === undefined ? ['not found'] : all.map(({ reading }) => unsureWords(reading).seen)),
        );
        // A frame that shows nothing is taken again.
        if (rounds < MOST_ROUNDS) continue;
        return {
          ...{ rounds, done: false, worst: Number.NaN, worstOfReadings: Number.NaN },
          ...{ reversed, trials, byEye, said },
        };
      }
      const readings =
        before === undefined ? seen : settledSigns(design, before.steering, before.asked, seen).readings;
      if (before?.asked !== undefined) {
        const predicted = predictedReadings(design, before.steering, before.asked);
        const findings = movesFindings(
          checkMoves(design, { predicted, taken: seen }, camera.turn as CameraOrientation),
        );
        confirmed ||= findings.length === 0;
        said.push(...findings.map(({ rule }) => rule).filter((rule) => rule !== 'moves-undecided'));
      }
      const steering = steer(design, readings);
      const progress = progressOf(design, steering, settled);
      settled = progress.settled;
      if (progress.done || rounds === MOST_ROUNDS)
        return { rounds, done: progress.done, ...offAtEnd(part, steering), reversed, trials, byEye, said };
      const { trial, pose } = steering.part;
      const asked = progress.undecided
        ? undefined
        : askedMoves(steering, stepOf(design, steering, confirmed).fraction);
      before = { steering, asked: asked?.part && asked };
      if (progress.undecided && trial !== undefined) trials++;
      const move = asked?.part ?? (progress.undecided && trial && displacementOf(trial.unknowns, pose.size));
      if (move) moveBy([...move.translation, ...move.rotation]);
      const areFine = all.some(({ reading }) => reading.faults.includes('moire'));
      still = areFine ? still + 1 : 0;
      if (still < PATIENCE) continue;
      [part, before, confirmed, settled, still] = [setByEye(), undefined, false, [], 0];
      byEye++;
    }
  };
}

function offAtEnd(part: Pose, { part: { uncertainty } }: Steering): Pick<Ended, 'worst' | 'worstOfReadings'> {
  const over = (stated: readonly (number | undefined)[]): number =>
    Math.max(...sixOf(part).map((value, k) => Math.abs(value / (stated[k] ?? Number.POSITIVE_INFINITY))));
  return { worst: over(uncertainty.combined), worstOfReadings: over(uncertainty.sigma) };
}
