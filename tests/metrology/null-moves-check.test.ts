/**
 * Readings of the null after the part was moved by what they told: rays traced to the surface before and after by independent code, and, where
 * the camera is turned otherwise than believed, the map turned point by point and fitted again.
 */
import { expect, test } from 'vitest';
import { misread, type Subject } from '../../src/metrology/steering/misread-changes.ts';
import { checkMoves } from '../../src/metrology/steering/moves-check.ts';
import { movesFindings } from '../../src/metrology/steering/moves-findings.ts';
import { predictedReadings } from '../../src/metrology/steering/moves-predicted.ts';
import { alongSenses } from '../../src/metrology/steering/seen-readings.ts';
import { steer } from '../../src/metrology/steering/steering.ts';
import { askedMoves } from '../../src/metrology/steering/told-moves.ts';
import { readReadings } from '../../src/reading/bench/read-readings.ts';
import type { BenchReading, NullValue } from '../../src/scenario/bench-reading.ts';
import {
  type CameraOrientation,
  PLAIN_ORIENTATION,
  takenFor,
} from '../../src/scenario/camera-orientation.ts';
import { SIXTEEN, type Turn } from '../independent/camera-seen.ts';
import { fitted } from '../independent/equations.ts';
import { nullReader } from '../independent/null-reading.ts';
import { isoAsphere } from '../independent/surface-sheets.ts';
import { zernike } from '../independent/zernike.ts';
import '../machine/patience.ts';
import { designFrom } from './support/design-from.ts';
import { ORIGIN, PARABOLA, parabolaScene } from './support/parabola-scene.ts';

const { radius, conic, diameter } = PARABOLA;
const design = designFrom(
  parabolaScene({ test: { ownFigure: { tilt: '1 nm', power: '1 nm', coma: '0.1 nm' } } }),
);
const nullOf = nullReader(
  { height: isoAsphere(radius, conic), vertex: [0, 0, 0], origin: ORIGIN },
  { diameter, centre: [0, 0] },
  632.8e-6,
);
/** rz shows nothing of a surface about its axis. */
const MOVED = [0, 0, 0.05, 9e-5, -4e-5, 0];
const EIGHT = SIXTEEN.filter(({ view }) => view === 'interferometer');
const TERMS: readonly (readonly [NullValue['term'], 0 | 1, number, number])[] = [
  ['tilt', 0, 1, 1],
  ['tilt', 1, 1, -1],
  ['power', 0, 2, 0],
  ['astigmatism', 0, 2, 2],
  ['astigmatism', 1, 2, -2],
  ['coma', 0, 3, 1],
  ['coma', 1, 3, -1],
];
const ORDERS = TERMS.map(([, , n, m]) => [n, m] as const);

/** The place of the pattern that the camera shows where, plainly turned, it would show (x, y): x runs to the left. */
function shownAt({ turned, mirrored }: Turn, [x, y]: readonly [number, number]): readonly [number, number] {
  // Back through the turns, counterclockwise on the screen, then through the mirror.
  let [right, up] = [-x, y];
  for (let turn = 0; turn < turned; turn += 90) [right, up] = [-up, right];
  return [mirrored ? right : -right, up];
}

/** Coefficients of a map as an operator reads it who believes in the plain picture. */
function turnedMap(coefficients: readonly number[], turn: Turn): readonly number[] {
  const places = Array.from({ length: 60 }, (_, k) => {
    const [rho, angle] = [Math.sqrt((k + 0.5) / 60), 2.4 * k];
    return [rho * Math.cos(angle), rho * Math.sin(angle)] as const;
  });
  const map = (x: number, y: number): number =>
    ORDERS.reduce((sum, [n, m], k) => sum + coefficients[k]! * zernike(n, m, x, y), 0);
  return fitted(
    places.map(([x, y]) => ORDERS.map(([n, m]) => zernike(n, m, x, y))),
    places.map((place) => map(...shownAt(turn, place))),
  );
}

const readingOf = (coefficients: readonly number[]): Extract<BenchReading, { kind: 'null' }> => ({
  ...{ kind: 'null', unit: 'waves', signKnown: true, uncertainty: undefined },
  values: TERMS.map(([term, part], k): NullValue => ({ term, part, value: coefficients[k]! })),
});

/** `sign` −1: by an operator who takes every fall for a rise. */
function read(motion: readonly number[], turn: Turn, sign = 1): BenchReading {
  const seen = nullOf.read(motion);
  const found = turnedMap(
    ORDERS.map(([n, m]) => seen(n, m)),
    turn,
  );
  return readingOf(found.map((value) => sign * value));
}

test.each(EIGHT)(
  'every term of a map is misread as the map turned $turned, mirrored $mirrored has it',
  (turn) => {
    const change = [0.3, -0.7, 0.2, 0.5, 0.9, -0.4, 0.6];
    const subject: Subject = { kind: 'null', reading: readingOf(change) };
    const found = misread(design, subject, subject, change, (way) =>
      takenFor(turn as CameraOrientation, PLAIN_ORIENTATION, way),
    );
    turnedMap(change, turn).forEach((value, k) => {
      expect(found![k]).toBeCloseTo(value, 9);
    });
  },
);

function checked(turn: Turn, sign = 1) {
  const before = [read(MOVED, turn, sign)];
  const steering = steer(design, before);
  const moves = askedMoves(steering);
  const { translation, rotation } = moves.part!;
  const now = [...translation, ...rotation].map((by, k) => MOVED[k]! + by);
  const taken = [read(now, turn, sign)];
  return checkMoves(
    design,
    { predicted: predictedReadings(design, steering, moves), taken },
    PLAIN_ORIENTATION,
  );
}

test.each(EIGHT)(
  'the camera turned $turned, mirrored $mirrored is found by the null read after the first moves',
  (turn) => {
    const { fits, compared } = checked(turn);
    const isPlain = turn.turned === 0 && !turn.mirrored;
    expect(compared).toBe(1);
    expect(fits).toEqual([
      isPlain
        ? { kind: 'as predicted' }
        : { kind: 'camera turned', orientation: turn as CameraOrientation, byPlace: false },
    ]);
  },
);

/** Seen from the interferometer x runs to the left and y up; turned by 90°, what stood at 12 stands at 3. */
test.each([
  [{}, 3, [-1.6, 0]],
  [{}, 12, [0, 1.6]],
  [{ mirrored: true }, 3, [1.6, 0]],
  [{ turned: 90 }, 3, [0, 1.6]],
  [{ view: 'part' }, 3, [1.6, 0]],
  [{ turned: 180 }, 4, [1.6 * Math.cos(Math.PI / 6), 0.8]],
] as const)(
  'in a camera %o a null’s path that falls toward %s o’clock falls along x and y by %o',
  (turn, hour, tilts) => {
    const { readings, findings } = readReadings(
      `readings:\n  - {patch: main, fringes: 1.6, toward: ${hour}, power: 0.3}\n`,
      'r.yml',
      design.scenario,
    );
    expect(findings).toEqual([]);
    const [along] = alongSenses(design, readings!, { ...PLAIN_ORIENTATION, ...turn }).readings;
    if (along?.kind !== 'null') throw new Error('no reading of the null');
    expect(along.values.map(({ term, part }) => `${term} ${part}`)).toEqual(['tilt 0', 'tilt 1', 'power 0']);
    // The footprint is round to a thousandth: a polygon stands for it.
    [...tilts, 0.3].forEach((value, k) => {
      expect(along.values[k]!.value).toBeCloseTo(value, 2);
    });
  },
);

test('all signs of a null wrong at once are found', () => {
  expect(movesFindings(checked(EIGHT[0]!, -1)).map(({ rule }) => rule)).toEqual(['moves-reversed']);
});
