/** Rounds of an alignment with an independent operator (tests/independent/stage-operator.ts) at the stage of an example, until it is said to be done. */
import { checkMoves } from '../../../src/metrology/steering/moves-check.ts';
import { movesFindings } from '../../../src/metrology/steering/moves-findings.ts';
import { type PredictedReading, predictedReadings } from '../../../src/metrology/steering/moves-predicted.ts';
import { progressOf } from '../../../src/metrology/steering/progress.ts';
import { stageTurns } from '../../../src/metrology/steering/stage.ts';
import { steer } from '../../../src/metrology/steering/steering.ts';
import { stepOf } from '../../../src/metrology/steering/step.ts';
import { askedMoves } from '../../../src/metrology/steering/told-moves.ts';
import type { BenchReading } from '../../../src/scenario/bench-reading.ts';
import { PLAIN_ORIENTATION } from '../../../src/scenario/camera-orientation.ts';
import { deviates } from '../../independent/random.ts';
import {
  after,
  type LinePatch,
  type Pose,
  rotationAbout,
  type Screw,
  screwMotion,
  shown,
  sixOf,
  type Vector,
} from '../../independent/stage-operator.ts';
import { exampleDesign } from './bench.ts';

/** The example's figures, written out: a ring of 260 mm, patches 60 mm from the axis, three for each retroreflector. */
const RING = 260;
const WHERE = 60;
const DEGREE = Math.PI / 180;
const around = (radius: number, degrees: number): readonly [number, number] => [
  radius * Math.cos(degrees * DEGREE),
  radius * Math.sin(degrees * DEGREE),
];

export const PATCHES: readonly LinePatch[] = [
  ['north', 90],
  ['west', 210],
  ['east', 330],
].flatMap(([name, azimuth]): LinePatch[] => {
  const degrees = azimuth as number;
  const [x, y] = around(RING, degrees);
  const whole = { onPart: [x, y, 0], target: [x, y, 1000], side: 10 } as const;
  const tangent = degrees - 90;
  return [
    { ...whole, id: `${name}-near`, centre: around(WHERE, degrees), lineAngle: tangent },
    { ...whole, id: `${name}-far`, centre: around(WHERE, degrees + 180), lineAngle: tangent },
    { ...whole, id: `${name}-rim`, centre: around(WHERE, degrees + 20), lineAngle: degrees },
  ];
});

export const SCREWS: readonly Screw[] = [
  { id: 'across', kind: 'moves', direction: [1, 0, 0], through: [0, 0, 0], perTurn: 0.5 },
  { id: 'up', kind: 'moves', direction: [0, 1, 0], through: [0, 0, 0], perTurn: 0.5 },
  { id: 'focus', kind: 'moves', direction: [0, 0, 1], through: [0, 0, 0], perTurn: 1 },
  { id: 'tip', kind: 'turns', direction: [1, 0, 0], through: [0, -280, 0], perTurn: 2e-3 },
  { id: 'tilt', kind: 'turns', direction: [0, 1, 0], through: [0, 0, 0], perTurn: 2e-3 },
  { id: 'clock', kind: 'turns', direction: [0, 0, 1], through: [0, 0, 0], perTurn: 1e-3 },
];

/** A start up to so many mm along each axis and as many mrad about it. */
export function misaligned(random: () => number, most: number): Pose {
  const draw = (): number => most * (2 * random() - 1);
  const turns = (
    [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const
  ).map((axis): Pose => {
    return { rotation: rotationAbout(axis, draw() * 1e-3), shift: [0, 0, 0] };
  });
  const shift: Vector = [draw(), draw(), draw()];
  return turns.reduce(after, { rotation: rotationAbout([1, 0, 0], 0), shift });
}

/** An operator's reading error: normal, and rounded to a tenth. Half of the example's `readable` of 0.1. */
const NOISE = 0.05;
/** Of each turn of a screw. */
const TURN_ERROR = 0.03;

export interface Bench {
  readonly read: (pose: Pose) => ReadonlyMap<string, number>;
  readonly turned: (pose: Pose, turns: (screw: string) => number) => Pose;
}

export function benchOf(normal: () => number): Bench {
  return {
    read: (pose) =>
      new Map(
        PATCHES.map((patch) => [patch.id, Math.round((shown(patch, pose) + NOISE * normal()) * 10) / 10]),
      ),
    turned: (pose, turns) =>
      SCREWS.reduce(
        (now, screw) => after(now, screwMotion(screw, turns(screw.id) * (1 + TURN_ERROR * normal()))),
        pose,
      ),
  };
}

export interface Ended {
  readonly rounds: number;
  readonly done: boolean;
  /** The largest of the six errors at the end, over its full standard uncertainty. */
  readonly worst: number;
  /** Codes of what was said on the way. */
  readonly said: readonly string[];
}

const MOST_ROUNDS = 12;
const design = exampleDesign('steer-mirror-on-stage');

export function alignFrom(seed: number, most: number): Ended {
  const { uniform, normal } = deviates(seed);
  const bench = benchOf(normal);
  let pose = misaligned(uniform, most);
  let predicted: readonly PredictedReading[] | undefined;
  let confirmed = false;
  let settledBefore: readonly string[] = [];
  const said: string[] = [];
  for (let rounds = 1; ; rounds++) {
    const readings = [...bench.read(pose)].map(
      ([patch, count]): BenchReading => ({
        kind: 'fringes',
        patch,
        fringes: [count],
        signKnown: true,
        uncertainty: undefined,
      }),
    );
    if (predicted !== undefined) {
      const findings = movesFindings(checkMoves(design, { predicted, taken: readings }, PLAIN_ORIENTATION));
      said.push(
        ...findings.map(({ rule }) => rule).filter((rule) => !confirmed || rule !== 'moves-undecided'),
      );
      confirmed ||= findings.length === 0;
    }
    const steering = steer(design, readings);
    const { done, settled } = progressOf(design, steering, settledBefore);
    settledBefore = settled;
    if (done || rounds === MOST_ROUNDS) {
      const { combined } = steering.part.uncertainty;
      const worst = Math.max(...sixOf(pose).map((value, k) => Math.abs(value / combined[k]!)));
      return { rounds, done, worst, said };
    }
    const { fraction } = stepOf(design, steering, confirmed);
    const asked = askedMoves(steering, fraction);
    predicted = predictedReadings(design, steering, asked);
    const { size } = steering.part.pose;
    const { turns } = stageTurns(design.scenario.stage, asked.part!, size);
    pose = bench.turned(pose, (id) => turns[SCREWS.findIndex((screw) => screw.id === id)]!);
  }
}
