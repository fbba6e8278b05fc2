/**
 * Names of two tracked points exchanged: each pair of a scene is, and what is suggested is held against a trial of every pair with a rigid
 * fit that shares no code with the program. mm.
 */
import { describe, expect, it, test } from 'vitest';
import { type Frame, placeToParent, rotationFromAngles } from '../../src/geometry/frame.ts';
import { add, type Vec3 } from '../../src/geometry/vector.ts';
import { transfer } from '../../src/metrology/transfer/transfer.ts';
import { transferFindings } from '../../src/metrology/transfer/transfer-findings.ts';
import type { TrackedPoint } from '../../src/scenario/tracked-point.ts';
import { normalDeviates } from '../independent/random.ts';
import { rigidFit } from '../independent/rigid-fit.ts';
import { designFrom } from './support/design-from.ts';

const TRACKER: Frame = { origin: [1500, -2200, 300], rotation: rotationFromAngles([0.3, 1.2, -0.7]) };
const SIGMA = 0.015;
/** The part is off by a millimetre or so. */
const OFF: Vec3 = [0.8, -0.5, 1.1];

const HOLOGRAM: readonly Vec3[] = [
  [180, 150, 1000],
  [-170, 160, 900],
  [-190, -150, 1050],
  [160, -140, 1100],
];
const PART: readonly Vec3[] = [
  [210, 80, 1480],
  [-150, 190, 1500],
  [-130, -180, 1520],
  [120, -200, 1490],
  [10, 20, 1600],
];

interface Scene {
  readonly hologram: readonly Vec3[];
  readonly part: readonly Vec3[];
}

function sceneOf({ hologram, part }: Scene) {
  const places = [
    ...hologram.map((at, k) => ({ id: `h${k}`, at })),
    ...part.map((at, k) => ({ id: `p${k}`, at })),
  ];
  const design = designFrom({
    part: { origin: [0, 0, 1500] },
    references: places.map(({ id, at }) => ({ id, kind: 'smr', diameter: 38.1, at })),
  });
  const random = normalDeviates(11);
  const tracked = places.map(({ id, at }, k): TrackedPoint => {
    const isOnPart = k >= hologram.length;
    const [x, y, z] = placeToParent(TRACKER, isOnPart ? add(at, OFF) : at);
    const seen: Vec3 = [x + SIGMA * random(), y + SIGMA * random(), z + SIGMA * random()];
    const measured = { kind: 'cartesian', at: seen, sigma: [SIGMA, SIGMA, SIGMA] } as const;
    return { name: id, reference: id, side: isOnPart ? 'part' : 'hologram', measured };
  });
  return { design, places, tracked };
}

const SCENE = sceneOf({ hologram: HOLOGRAM, part: PART });

const exchanged = (tracked: readonly TrackedPoint[], i: number, j: number): readonly TrackedPoint[] =>
  tracked
    .with(i, { ...tracked[i]!, measured: tracked[j]!.measured })
    .with(j, { ...tracked[j]!, measured: tracked[i]!.measured });

const pairs = (count: number): readonly (readonly [number, number])[] =>
  Array.from({ length: count }, (_, i) => i).flatMap((i) =>
    Array.from({ length: count - i - 1 }, (_, k) => [i, i + 1 + k] as const),
  );

/** Every pair that leaves both sides with distances of the tracker's noise, by the fit apart from the program. */
function explained(tracked: readonly TrackedPoint[]): readonly string[] {
  return pairs(tracked.length)
    .filter(([i, j]) => {
      const trial = exchanged(tracked, i, j);
      return (['hologram', 'part'] as const).every((side) => {
        const own = [...trial.keys()].filter((k) => trial[k]!.side === side);
        const { squares } = rigidFit(
          own.map((k) => SCENE.places[k]!.at),
          own.map((k) => (trial[k]!.measured as { at: Vec3 }).at),
        );
        return Math.sqrt(squares / own.length) < 5 * SIGMA;
      });
    })
    .map(([i, j]) => `${tracked[i]!.name} ${tracked[j]!.name}`);
}

const findingsOf = (scene: typeof SCENE, tracked: readonly TrackedPoint[]) => {
  const result = transfer(scene.design, tracked);
  return 'findings' in result ? result.findings : transferFindings(result.transfer);
};

describe('exchanged names', () => {
  it.each(pairs(SCENE.tracked.length))('of points %i and %i are suggested, as by a trial apart', (i, j) => {
    const wrong = exchanged(SCENE.tracked, i, j);
    const [first, ...others] = findingsOf(SCENE, wrong);
    expect(first).toMatchObject({ severity: 'error', rule: 'swapped-points' });
    const named = [SCENE.tracked[i]!.name, SCENE.tracked[j]!.name];
    expect(first!.where.split(', ').toSorted()).toEqual(named.toSorted());
    expect(explained(wrong)).toEqual([named.join(' ')]);
    // What else does not fit comes of it.
    for (const { rule, follows } of others)
      if (rule === 'outlying-point') expect(follows?.rule).toBe('swapped-points');
  });

  it('are never exchanged by the program: the result is that of the names as they stand', () => {
    const result = transfer(SCENE.design, exchanged(SCENE.tracked, 4, 5));
    if ('findings' in result) throw new Error('refused');
    expect(result.transfer.part!.contradictory).toBe(true);
    expect(result.transfer.part!.points.map(({ name }) => name)).toEqual(['p0', 'p1', 'p2', 'p3', 'p4']);
  });

  it('are not suggested for sound points, nor for one that is off by itself', () => {
    expect(findingsOf(SCENE, SCENE.tracked)).toEqual([]);
    const { at } = SCENE.tracked[6]!.measured as { at: Vec3 };
    const off = SCENE.tracked.with(6, {
      ...SCENE.tracked[6]!,
      measured: { kind: 'cartesian', at: add(at, [0, 3, 0]), sigma: [SIGMA, SIGMA, SIGMA] },
    });
    expect(findingsOf(SCENE, off).map(({ rule, where }) => [rule, where])).toEqual([
      ['outlying-point', 'p2'],
    ]);
  });
});

test('a square on the part that fits turned over as well is told by where the hologram is', () => {
  const square: readonly Vec3[] = [
    [200, 0, 1500],
    [0, 200, 1500],
    [-200, 0, 1500],
    [0, -200, 1500],
  ];
  const scene = sceneOf({ hologram: HOLOGRAM, part: square });
  const wrong = exchanged(scene.tracked, 4, 6);
  const result = transfer(scene.design, wrong);
  if ('findings' in result) throw new Error('refused');
  expect(result.transfer.part!.contradictory).toBe(false);
  const [first] = transferFindings(result.transfer);
  expect(first).toMatchObject({ severity: 'error', rule: 'swapped-points', where: 'p0, p2' });
});
