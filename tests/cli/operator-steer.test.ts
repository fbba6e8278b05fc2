/**
 * What `steer` tells to move and to turn against readings counted in independently traced pictures of a part that is off its place by known
 * amounts: moves are corrections, in the frames and units that the text names. µm, µrad and turns.
 */
import { beforeAll, describe, expect, test } from 'vitest';
import type { Vector } from '../independent/ray.ts';
import { carried, countedReadings } from './support/operator-readings.ts';
import { READABLE, SCENES, scenarioText } from './support/operator-scenes.ts';
import { onBench, sensesOf } from './support/operator-setup.ts';
import { MOVES, movesSaid, numberOf, type SaidMove } from './support/operator-words.ts';
import { datumlight, scenarioFile } from './support/run.ts';

const scene = SCENES[1]!;
/** The part frame is turned by 30° about z, so that its axes are not the substrate's. */
const ORIGIN: Vector = [12, -20, 280];
const [C, S] = [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6)];
const toSubstrate = ([x, y, z]: Vector): Vector => [C * x - S * y, S * x + C * y, z];

/** How far off the part stands, along its own axes and about its own origin: mm and radians. */
const OFF: Vector = [0.013, -0.021, 0.045];
const TURNED: Vector = [-40e-6, 65e-6, 50e-6];

const STAGE = [
  { id: 'across', degree: 'x', perTurn: '500 um' },
  { id: 'up', degree: 'y', perTurn: '-250 um' },
  { id: 'tip', degree: 'rx', through: [0, -100, 0], perTurn: '2 mrad' },
  { id: 'tilt', degree: 'ry', perTurn: '-1 mrad' },
  { id: 'clock', degree: 'rz', perTurn: '1 mrad' },
];
const text = scenarioText(scene, {
  part: { origin: ORIGIN, rotation: [0, 0, 30] },
  stage: STAGE,
});

const displacementOf = (id: string): Vector => {
  const { at } = scene.references.find((reference) => reference.id === id)!;
  const from: Vector = [at[0] - ORIGIN[0], at[1] - ORIGIN[1], at[2] - ORIGIN[2]];
  return carried(toSubstrate(OFF), toSubstrate(TURNED), from);
};

const patches = scene.patches.flatMap((patch) => {
  const bench = onBench(scene, patch);
  return bench === undefined ? [] : [{ ...patch, bench }];
});
const countsOf = (id: string, moved: Vector): readonly number[] => {
  const { bench } = patches.find((patch) => patch.id === id)!;
  return countedReadings(bench, sensesOf(bench), moved);
};

const readingsOf = (ids: readonly string[], more = ''): string =>
  `readings:\n${ids
    .map((id) => {
      const counts = countsOf(id, displacementOf(patches.find((patch) => patch.id === id)!.reference));
      const [first, second, power] = counts.map((count) => count.toFixed(5));
      const values = second === undefined ? first : `[${first}, ${second}], power: ${power}`;
      return `  - {patch: ${id}, fringes: ${values}${more}}\n`;
    })
    .join('')}`;

/** Readings have no noise: what is left of a move is what the counting of fringes that are not straight leaves. */
const near = ({ value, sigma }: SaidMove, wanted: number): void =>
  expect(Math.abs(value - wanted)).toBeLessThan(0.6 * sigma + 0.05 * Math.abs(wanted));

describe('with the signs of all readings', () => {
  let said = '';
  beforeAll(async () => {
    const args = ['steer', scenarioFile(text), '--readings', '-', '--quiet'];
    const { stdout } = await datumlight(args, { input: readingsOf(patches.map(({ id }) => id)) });
    said = stdout;
  });
  const linesOf = (words: RegExp): string => words.exec(said)!.groups!.lines!;

  test('each reference is told to move back by what it is off, µm along the substrate’s axes', () => {
    expect(said).toMatch(MOVES.corrections);
    const lines = [...linesOf(MOVES.references).matchAll(MOVES.reference)].map(({ groups }) => groups!);
    const read = [...new Set(patches.map(({ reference }) => reference))];
    expect(lines.map(({ id }) => id)).toEqual(read);
    for (const { id, rest } of lines) {
      const moves = movesSaid(rest!);
      const [dx, dy, dz] = displacementOf(id!);
      // One line patch alone does not see all: what it does not see is named, and asked of no one.
      if (MOVES.notSeen.test(rest!)) continue;
      for (const [degree, off] of Object.entries({ x: dx, y: dy, z: dz })) {
        expect(moves.get(degree)!.unit).toBe('µm');
        near(moves.get(degree)!, -1000 * off);
      }
    }
    expect(lines.filter(({ rest }) => !MOVES.notSeen.test(rest!)).length).toBeGreaterThan(2);
  });

  test('the part is told to move and to turn back, along its own axes and about its own origin', () => {
    const moves = movesSaid(linesOf(MOVES.part));
    const off = { x: OFF[0], y: OFF[1], z: OFF[2] };
    const turned = { rx: TURNED[0], ry: TURNED[1], rz: TURNED[2] };
    expect([...moves.keys()]).toEqual([...Object.keys(off), ...Object.keys(turned)]);
    for (const [degree, value] of Object.entries(off)) {
      expect(moves.get(degree)!.unit).toBe('µm');
      near(moves.get(degree)!, -1e3 * value);
    }
    for (const [degree, value] of Object.entries(turned)) {
      expect(moves.get(degree)!.unit).toBe('µrad');
      near(moves.get(degree)!, -1e6 * value);
    }
    for (const { value, sigma } of moves.values()) expect(Math.abs(value)).toBeGreaterThan(sigma);
  });

  test('turned as told, the screws make that move, and what they cannot do is said with its sign', () => {
    const block = linesOf(MOVES.screws);
    const turns = [...block.matchAll(MOVES.screw)].map(({ groups }) => groups!);
    expect(turns.map(({ id }) => id)).toEqual(STAGE.map(({ id }) => id));
    const [across, up, tip, tilt, clock] = turns.map((screw) => numberOf(screw.turns!.replace('+', ''))) as [
      number,
      number,
      number,
      number,
      number,
    ];
    // A turn about an axis along x through y = −100 mm takes the part's origin along z by 100 mm times its angle.
    const moved = { x: 500 * across, y: -250 * up, z: 100 * 2000 * 1e-3 * tip };
    const turned = { rx: 2000 * tip, ry: -1000 * tilt, rz: 1000 * clock };
    const left = movesSaid(MOVES.left.exec(block)!.groups!.moves!);
    expect([...left.keys()]).toContain('z');
    for (const [degree, made] of Object.entries({ ...moved, ...turned })) {
      const wanted = movesSaid(linesOf(MOVES.part)).get(degree)!;
      const rest = left.get(degree)?.value ?? 0;
      expect(Math.abs(made + rest - wanted.value)).toBeLessThan(
        0.2 * wanted.sigma + 0.02 * Math.abs(wanted.value),
      );
    }
  });
});

describe('with one sign not seen', () => {
  const ID = 'line-roof';
  let said = '';
  beforeAll(async () => {
    const args = ['steer', scenarioFile(text), '--readings', '-', '--quiet'];
    const { stdout } = await datumlight(args, { input: readingsOf([ID], ', sign: unknown') });
    said = stdout;
  });

  test('one move for each sign, and what a trial move then shows', () => {
    const lines = MOVES.references.exec(said)!.groups!.lines!;
    const candidates = [...lines.matchAll(MOVES.candidate)].map(({ groups }) => groups!);
    const [count] = countsOf(ID, displacementOf('far')) as [number];
    expect(candidates.map(({ patch, sign }) => [patch, sign])).toEqual([
      [ID, '+'],
      [ID, '−'],
    ]);
    const along = (words: string): Vector => {
      const moves = movesSaid(words);
      return ['x', 'y', 'z'].map((axis) => moves.get(axis)!.value / 1000) as unknown as Vector;
    };
    // The reading was + for a size of its own: standing so, the move told for its sign leaves no fringe.
    const signs = candidates.map(({ sign, moves }) => {
      const [back] = countsOf(ID, along(moves!)) as [number];
      return { sign, back };
    });
    for (const { sign, back } of signs)
      expect(Math.abs((sign === '+' ? 1 : -1) * count + back)).toBeLessThan(READABLE / 2);
    const trial = along(MOVES.trial.exec(lines)!.groups!.moves!);
    const expected = MOVES.expected.exec(lines)!.groups!;
    expect(expected.patch).toBe(ID);
    for (const [sign, shown] of [
      [1, expected.plus],
      [-1, expected.minus],
    ] as const) {
      const [added] = countsOf(ID, trial) as [number];
      expect(Math.abs(Math.abs(sign * count + added) - numberOf(shown!))).toBeLessThan(READABLE / 2);
    }
    expect(numberOf(expected.plus!)).not.toBeCloseTo(numberOf(expected.minus!), 0);
  });
});
