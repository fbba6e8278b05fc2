/**
 * Readings after a move, by an operator at a camera that is turned otherwise than he believes: each of the eight orientations, patches told
 * apart or mistaken for those in their places, and all signs wrong. Pictures and readings by independent code.
 */
import { describe, expect, test } from 'vitest';
import { randomFrom } from '../../src/algebra/random.ts';
import type { Design } from '../../src/design/design.ts';
import { checkMoves } from '../../src/metrology/steering/moves-check.ts';
import { movesFindings } from '../../src/metrology/steering/moves-findings.ts';
import { predictedReadings } from '../../src/metrology/steering/moves-predicted.ts';
import { steer } from '../../src/metrology/steering/steering.ts';
import { toldMoves } from '../../src/metrology/steering/told-moves.ts';
import type { BenchReading } from '../../src/scenario/bench-reading.ts';
import { type CameraOrientation, PLAIN_ORIENTATION } from '../../src/scenario/camera-orientation.ts';
import { SIXTEEN, type Turn } from '../independent/camera-seen.ts';
import { type CameraBench, operatorReads } from '../independent/operator-at-camera.ts';
import { designFrom, pointPatch } from './support/design-from.ts';

type Place = readonly [number, number];
type Vector = readonly [number, number, number];

const DIAMETER = 14;
const EIGHT = SIXTEEN.filter(({ view }) => view === 'interferometer');

function benchOf(centres: readonly Place[]): { readonly bench: CameraBench; readonly design: Design } {
  const patches = centres.map(([x, y], k) => {
    return { id: `b${k + 1}`, centre: [x, y] as Place, target: [1.2 * x, 1.2 * y, 130] as Vector };
  });
  const design = designFrom({
    references: patches.map(({ id, target }) => ({
      ...{ id, kind: 'ball', diameter: 12.7, at: target, frame: 'substrate' },
    })),
    patches: patches.map(({ id, centre }) => pointPatch(id, id, centre, DIAMETER)),
  });
  return { bench: { wavelength: 632.8e-6, diameter: DIAMETER, half: 80, patches }, design };
}

/** Each ball off by some fringes across the light, and along it. */
function displacements(bench: CameraBench, seed: string): ReadonlyMap<string, Vector> {
  const random = randomFrom(seed);
  const about = (size: number): number =>
    size * (0.6 + 0.4 * random.uniform()) * Math.sign(random.uniform() - 0.5);
  return new Map(bench.patches.map(({ id }) => [id, [about(0.012), about(0.009), about(0.7)] as const]));
}

interface Case {
  readonly turn: Turn;
  readonly byPlace?: boolean;
  readonly sign?: 1 | -1;
}

/** Reads, makes the moves that steering tells, and reads again. */
function afterMoves({ bench, design }: ReturnType<typeof benchOf>, how: Case, share = 1) {
  const off = displacements(bench, JSON.stringify(how));
  const read = (at: (id: string) => Vector): BenchReading[] =>
    [...operatorReads(bench, at, how.turn, how)].map(([patch, fringes]) => {
      return { kind: 'fringes', patch, fringes, signKnown: true, uncertainty: undefined };
    });
  const before = read((id) => off.get(id)!);
  const was = steer(design, before);
  const told = toldMoves(design, was);
  const references = new Map(
    [...told.references].map(([id, move]) => [id, move.map((way) => share * way) as unknown as Vector]),
  );
  const moves = { ...told, references };
  const moved = (id: string): Vector =>
    off.get(id)!.map((at, k) => at + references.get(id)![k]!) as unknown as Vector;
  const predicted = predictedReadings(design, was, moves);
  return { before, predicted, taken: read(moved) };
}

const orientationOf = (turn: Turn): CameraOrientation => turn as CameraOrientation;
/** No turn or mirroring brings one onto another. */
const APART = benchOf([
  [50, 10],
  [-20, 40],
  [-30, -45],
]);
/** Mirroring left for right, top for bottom and both bring each onto another. */
const ALIKE = benchOf([
  [45, 20],
  [-45, 20],
  [-45, -20],
  [45, -20],
]);

describe.each(EIGHT)('the camera turned $turned, mirrored $mirrored', (turn) => {
  const isPlain = turn.turned === 0 && !turn.mirrored;

  test('is found by the readings after the first moves, patches being told apart', () => {
    for (const scene of [APART, ALIKE]) {
      const check = checkMoves(scene.design, afterMoves(scene, { turn }), PLAIN_ORIENTATION);
      expect(check.fits).toEqual([
        isPlain
          ? { kind: 'as predicted' }
          : { kind: 'camera turned', orientation: orientationOf(turn), byPlace: false },
      ]);
      expect(movesFindings(check).map(({ rule }) => rule)).toEqual(isPlain ? [] : ['camera-turned']);
    }
  });

  const looksAlike = turn.mirrored ? turn.turned % 180 === 0 : turn.turned === 180;
  test.runIf(looksAlike)('is found where patches are mistaken for those in their places', () => {
    const check = checkMoves(ALIKE.design, afterMoves(ALIKE, { turn, byPlace: true }), PLAIN_ORIENTATION);
    expect(check.fits).toEqual([{ kind: 'camera turned', orientation: orientationOf(turn), byPlace: true }]);
  });

  test('is no fault where it is what the operator believes', () => {
    // He then reads what one reads who rightly believes in the plain picture.
    const check = checkMoves(APART.design, afterMoves(APART, { turn: EIGHT[0]! }), orientationOf(turn));
    expect(check.fits).toEqual([{ kind: 'as predicted' }]);
  });
});

test('all signs wrong at once are found, and told from a camera turned by half a turn by the power', () => {
  const turn = EIGHT[0]!;
  const check = checkMoves(APART.design, afterMoves(APART, { turn, sign: -1 }), PLAIN_ORIENTATION);
  expect(check.fits).toEqual([{ kind: 'all signs wrong' }]);
  expect(movesFindings(check)[0]).toMatchObject({ severity: 'error', rule: 'moves-reversed' });
});

test('the whole move is predicted to leave nothing, from where a reading is no longer proportional to the displacement', () => {
  const { predicted } = afterMoves(APART, { turn: EIGHT[0]! });
  const values = predicted.flatMap((reading) => reading.values);
  expect(Math.max(...values.map(({ before }) => Math.abs(before)))).toBeGreaterThan(5);
  for (const { before, change } of values) expect(Math.abs(before + change)).toBeLessThan(1e-4);
});

test('a move that is too small to tell is not taken for a proof', () => {
  const check = checkMoves(APART.design, afterMoves(APART, { turn: EIGHT[0]! }, 0.005), PLAIN_ORIENTATION);
  expect(check.fits.length).toBeGreaterThan(1);
  expect(movesFindings(check)[0]).toMatchObject({ severity: 'warning', rule: 'moves-undecided' });
});

test('a ball whose screws were not turned is explained by no orientation', () => {
  const { before, predicted, taken } = afterMoves(APART, { turn: EIGHT[0]! });
  const mixed = [before[0]!, ...taken.slice(1)];
  const check = checkMoves(APART.design, { predicted, taken: mixed }, PLAIN_ORIENTATION);
  expect(movesFindings(check).map(({ rule }) => rule)).toEqual(['moves-differ']);
});
