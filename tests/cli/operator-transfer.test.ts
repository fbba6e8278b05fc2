/**
 * What `transfer` tells to move and to turn against a tracker's points worked out here from a part that is off its place by known amounts:
 * moves are corrections along the part's own axes; residuals are measured less designed, along the substrate's. µm, µrad and turns.
 */

import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { minus, normed, type Vector } from '../independent/ray.ts';
import { carried } from './support/operator-readings.ts';
import { SCENES, scenarioText } from './support/operator-scenes.ts';
import { MOVES, movesSaid, numberOf } from './support/operator-words.ts';
import { datumlight, folder, scenarioFile } from './support/run.ts';

/** The part frame is turned by 30° about z, so that its axes are not the substrate's. */
const ORIGIN: Vector = [12, -20, 900];
const [C, S] = [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6)];
const toSubstrate = ([x, y, z]: Vector): Vector => [C * x - S * y, S * x + C * y, z];

/** How far off the part stands, along its own axes and about its own origin: mm and radians. */
const OFF: Vector = [0.31, -0.22, 0.45];
const TURNED: Vector = [-400e-6, 650e-6, 500e-6];

const AT_FOCI: Readonly<Record<string, Vector>> = {
  north: [20, 260, 700],
  west: [-240, -130, 820],
  east: [230, -150, 910],
  above: [-60, 180, 1100],
  below: [90, -210, 1050],
};
const ON_PART: Readonly<Record<string, Vector>> = {
  rim1: [200, 110, 930],
  rim2: [-190, 120, 870],
  rim3: [-20, -240, 900],
  hub: [40, 10, 1060],
  lug: [-130, -60, 990],
};

const STAGE = [
  { id: 'push', degree: 'x', perTurn: '-500 um' },
  { id: 'lift', degree: 'y', perTurn: '250 um' },
  { id: 'swing', degree: 'rz', perTurn: '1 mrad' },
];
const scenario = scenarioText(
  {
    ...SCENES[0]!,
    references: Object.entries({ ...AT_FOCI, ...ON_PART }).map(([id, at]) => ({
      ...{ id, kind: 'smr' as const, diameter: 38.1, at },
    })),
    patches: Object.keys(AT_FOCI).map((id, k) => ({
      ...{ id: `see-${id}`, reference: id, focus: 'line' as const, lineAngle: 40 * k },
      ...{ centre: [20 * (k - 2), 55] as const, outline: { circle: { diameter: 10 } } },
    })),
  },
  { part: { origin: ORIGIN, rotation: [0, 0, 30] }, stage: STAGE },
);

/** Where the tracker sees a place of the substrate frame: the axes it stands at are turned about all three of them. */
const AXES: readonly [Vector, Vector, Vector] = (() => {
  const first = normed([0.6, -0.5, 0.62]);
  const third = normed(cross(first, [0.2, 0.9, 0.1]));
  return [first, cross(third, first), third];
})();
function cross(a: Vector, b: Vector): Vector {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}
const STANDS: Vector = [1500, -2400, 300];
const byTracker = ([x, y, z]: Vector): Vector => {
  const of = (k: 0 | 1 | 2): number => AXES[0][k] * x + AXES[1][k] * y + AXES[2][k] * z + STANDS[k];
  return [of(0), of(1), of(2)];
};

const moved = (at: Vector): Vector => {
  const by = carried(toSubstrate(OFF), toSubstrate(TURNED), minus(at, ORIGIN));
  return [at[0] + by[0], at[1] + by[1], at[2] + by[2]];
};

async function transferred(shift: Readonly<Record<string, Vector>> = {}): Promise<string> {
  const row = (name: string, [x, y, z]: Vector): string => {
    const [dx, dy, dz] = shift[name] ?? [0, 0, 0];
    const at = byTracker([x + dx, y + dy, z + dz]);
    return `${name},${at.map((value) => value.toFixed(6)).join(',')},0.01,0.01,0.01`;
  };
  const rows = [
    'point,x_mm,y_mm,z_mm,sx_mm,sy_mm,sz_mm',
    ...Object.entries(AT_FOCI).map(([id, at]) => row(`${id}@hologram`, at)),
    ...Object.entries(ON_PART).map(([id, at]) => row(`${id}@part`, moved(at))),
  ];
  const points = join(folder(), 'points.csv');
  writeFileSync(points, `${rows.join('\n')}\n`);
  return (await datumlight(['transfer', scenarioFile(scenario), '--points', points])).stdout;
}

test('the part is told to move and to turn back, and its screws make that move', async () => {
  const said = await transferred();
  expect(said).toMatch(MOVES.corrections);
  const { lines } = MOVES.transferred.exec(said)!.groups!;
  const moves = movesSaid(lines!);
  const wanted = {
    ...{ x: -1e3 * OFF[0], y: -1e3 * OFF[1], z: -1e3 * OFF[2] },
    ...{ rx: -1e6 * TURNED[0], ry: -1e6 * TURNED[1], rz: -1e6 * TURNED[2] },
  };
  expect([...moves.keys()]).toEqual(Object.keys(wanted));
  for (const [degree, value] of Object.entries(wanted)) {
    const { value: told, sigma, unit } = moves.get(degree)!;
    expect(unit).toBe(degree.startsWith('r') ? 'µrad' : 'µm');
    // Points have no noise; turns of half a milliradian differ by a thousandth of themselves from a vector's.
    expect(Math.abs(told - value)).toBeLessThan(0.1 * sigma + 2e-3 * Math.abs(value));
    expect(Math.abs(told)).toBeGreaterThan(sigma);
  }
  const turns = [...MOVES.screws.exec(said)!.groups!.lines!.matchAll(MOVES.screw)].map(
    ({ groups }) => groups!,
  );
  expect(turns.map(({ id }) => id)).toEqual(STAGE.map(({ id }) => id));
  const made = turns.map((screw) => numberOf(screw.turns!.replace('+', '')));
  for (const [k, [degree, perTurn]] of (
    [
      ['x', -500],
      ['y', 250],
      ['rz', 1000],
    ] as const
  ).entries())
    expect(Math.abs(made[k]! * perTurn - moves.get(degree)!.value)).toBeLessThan(0.02 * Math.abs(perTurn));
});

test('a point that is off by itself is named, off the way that it is', async () => {
  const said = await transferred({ 'hub@part': [0.9, -0.5, 0] });
  const points = [...said.matchAll(MOVES.residual)].map(({ groups }) => groups!);
  expect(points.map(({ point }) => point)).toEqual([
    ...Object.keys(AT_FOCI).map((id) => `${id}@hologram`),
    ...Object.keys(ON_PART).map((id) => `${id}@part`),
  ]);
  expect(points.filter(({ outlying }) => outlying !== undefined).map(({ point }) => point)).toContain(
    'hub@part',
  );
  const hub = points.find(({ point }) => point === 'hub@part')!;
  const [x, y, z] = ['x', 'y', 'z'].map((axis) => numberOf(hub[axis]!.replace('+', ''))) as unknown as Vector;
  // The fit goes part of the way, and leaves more than half to the point itself.
  expect(x).toBeGreaterThan(300);
  expect(y).toBeLessThan(-150);
  expect(Math.abs(z)).toBeLessThan(200);
});
