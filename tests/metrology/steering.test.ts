/** Signs and sizes of what steering makes of readings, against paths reckoned by themselves; unknown signs; contradictions; turns. */
import { describe, expect, it } from 'vitest';
import { rotate, rotationFromVector } from '../../src/geometry/frame.ts';
import { add, distance, scale, type Vec3 } from '../../src/geometry/vector.ts';
import { sensesOf } from '../../src/metrology/sensing/sensitivity.ts';
import { tracedFringes } from '../../src/metrology/sensing/traced-readings.ts';
import { stageTurns } from '../../src/metrology/steering/stage.ts';
import { steer } from '../../src/metrology/steering/steering.ts';
import { steeringFindings } from '../../src/metrology/steering/steering-findings.ts';
import { displacementOf, moveWithPart } from '../../src/metrology/steering/steering-part.ts';
import type { BenchReading } from '../../src/scenario/bench-reading.ts';
import type { StageAxis } from '../../src/scenario/scenario.ts';
import { Bench, exampleDesign } from './support/bench.ts';
import { designFrom, linePatch, pointPatch } from './support/design-from.ts';
import '../machine/patience.ts';

const fringes = (patch: string, ...values: number[]): BenchReading => {
  return { kind: 'fringes', patch, fringes: values, signKnown: true, uncertainty: undefined };
};
const unsigned = (patch: string, ...values: number[]): BenchReading => {
  return { kind: 'fringes', patch, fringes: values, signKnown: false, uncertainty: undefined };
};

const AT: Vec3 = [40, 150, 900];
const ONE = designFrom({
  references: [{ id: 'north', kind: 'smr', diameter: 38.1, at: AT }],
  patches: [
    linePatch('a', 'north', [0, 50], 90),
    linePatch('b', 'north', [50, 0], 0),
    linePatch('c', 'north', [-50, 0], 90),
  ],
});
const BALL = designFrom({
  references: [{ id: 'near', kind: 'ball', diameter: 12.7, at: [20, 60, 110] }],
  patches: [pointPatch('p', 'near', [10, 40], 12)],
});

/**
 * The round trip's path with the reference displaced by δ, less that at its place: the wave comes back as if from A + 2δ
 * (an inversion through A + δ, C → 2(A + δ) − C), so that the point P sees |P − A − 2δ| − |P − A| (the point inversion of the
 * corner cube; ideal for a ball).
 */
const pathChange = (p: readonly [number, number], at: Vec3, move: Vec3): number =>
  distance([p[0], p[1], 0], add(at, scale(move, 2))) - distance([p[0], p[1], 0], at);

describe('the sign and size of a reading', () => {
  it.each([
    [ONE, 0, 0],
    [ONE, 1, 0],
    [ONE, 2, 0],
    [BALL, 0, 0],
    [BALL, 0, 1],
  ])('of tilt is the fall of the path from the − edge to the + edge (design %#)', (design, k, sense) => {
    const patch = design.patches[k]!;
    const { direction, width, fringesPerMm } = sensesOf(design, patch)[sense]!;
    const move = scale(direction, 0.01);
    const [x, y] = patch.centre;
    const seen = tracedFringes(design, patch)!(move)![sense]!;
    // To the patch's edges along the direction, seen in the plane, the other way to neither side.
    const half = width / 2 / (direction[0] ** 2 + direction[1] ** 2);
    const edge = (side: 1 | -1): number =>
      pathChange([x + side * half * direction[0], y + side * half * direction[1]], patch.target, move);
    const fall = (edge(-1) - edge(1)) / design.light.wavelength;
    expect(seen).toBeGreaterThan(0);
    expect(Math.abs(seen / fall - 1)).toBeLessThan(0.02);
    expect(Math.abs(seen / (0.01 * fringesPerMm) - 1)).toBeLessThan(0.02);
  });

  it('of power is the fall of the path from the middle to the edge', () => {
    const patch = BALL.patches[0]!;
    const { direction, fringesPerMm } = sensesOf(BALL, patch)[2]!;
    const seen = tracedFringes(BALL, patch)!(scale(direction, 0.05))![2]!;
    expect(Math.abs(seen / (0.05 * fringesPerMm) - 1)).toBeLessThan(0.03);
  });

  it('gives the move to make: against the sensed direction for a positive reading', () => {
    const { references } = steer(ONE, [fringes('a', 2)]);
    const { direction, fringesPerMm } = sensesOf(ONE, ONE.patches[0]!)[0]!;
    const delta = references[0]!.candidates[0]!.solution.unknowns;
    for (const k of [0, 1, 2]) expect(delta[k]).toBeCloseTo((2 / fringesPerMm) * direction[k]!, 4);
    expect(references[0]!.unobserved).toHaveLength(2);
  });
});

describe('the part', () => {
  it('moves its points by a rotation about its own origin and a translation', () => {
    const design = exampleDesign('steer-mirror-on-stage');
    const place: Vec3 = [0, 260, 1000];
    const rotation: Vec3 = [0.01, -0.02, 0.03];
    const turned = rotate(rotationFromVector(rotation), [0, 260, 0]);
    const move = moveWithPart(design, { translation: [1, 2, 3], rotation }, place);
    for (const k of [0, 1, 2]) expect(move[k]).toBeCloseTo([1, 2, 3][k]! + turned[k]! - [0, 260, 0][k]!, 12);
  });

  it('is found exactly from readings that are not rounded, far off as well', () => {
    const bench = new Bench(exampleDesign('steer-mirror-on-stage'));
    const part = { translation: [0.6, -0.4, 0.5], rotation: [1.5e-3, -1e-3, 2e-3] } as const;
    const { part: steered } = steer(bench.design, bench.read(part, 0));
    const { solution } = steered.candidates[0]!;
    const found = displacementOf(solution.unknowns, steered.pose.size);
    for (const k of [0, 1, 2]) {
      expect(found.translation[k]).toBeCloseTo(part.translation[k]!, 6);
      expect(found.rotation[k]).toBeCloseTo(part.rotation[k]!, 8);
    }
    expect(solution.consistency.chiSquared).toBeLessThan(1e-6);
  });
});

describe('an unknown sign', () => {
  it('leaves two candidates, one the other reversed, and a trial that tells them apart', () => {
    const [north] = steer(ONE, [unsigned('a', 1.5), fringes('b', 0)]).references;
    expect(north!.candidates).toHaveLength(2);
    const [plus, minus] = north!.candidates.map(({ solution }) => solution.unknowns);
    for (const k of [0, 1, 2]) expect(plus![k]! + minus![k]!).toBeCloseTo(0, 4);
    // The trial is made on top of what is there: what the trace then shows is what was foretold.
    const { unknowns, expected } = north!.trial!;
    const { ifPlus, ifMinus } = expected.get(0)!;
    const see = tracedFringes(ONE, ONE.patches[0]!)!;
    const shownFrom = (from: Float64Array): number =>
      see([0, 1, 2].map((k) => from[k]! + unknowns[k]!) as unknown as Vec3)![0]!;
    expect(shownFrom(plus!)).toBeCloseTo(ifPlus[0]!.fringes, 1);
    expect(shownFrom(minus!)).toBeCloseTo(ifMinus[0]!.fringes, 1);
    expect(Math.abs(Math.abs(ifPlus[0]!.fringes) - Math.abs(ifMinus[0]!.fringes))).toBeGreaterThan(1);
  });

  it('is told by the other readings where they say enough', () => {
    const bench = new Bench(exampleDesign('steer-mirror-on-stage'));
    const part = { translation: [0.08, -0.06, 0.1], rotation: [2e-4, -1.5e-4, 2.5e-4] } as const;
    const readings = bench
      .read(part)
      .map((reading) =>
        reading.kind === 'fringes' && reading.patch === 'west-rim'
          ? { ...reading, fringes: reading.fringes.map((value) => Math.abs(value!)), signKnown: false }
          : reading,
      );
    const { candidates } = steer(bench.design, readings).part;
    expect(candidates).toHaveLength(1);
    expect([...candidates[0]!.signs.values()]).toEqual([-1]);
  });

  it('of the two tilts of a point focus is one sign', () => {
    const [near] = steer(BALL, [unsigned('p', 1, -2)]).references;
    expect(near!.candidates.map(({ signs }) => [...signs.values()])).toEqual([[1], [-1]]);
  });
});

describe('contradicting readings', () => {
  const bench = new Bench(exampleDesign('steer-mirror-on-stage'));
  const part = { translation: [0.05, 0.03, -0.02], rotation: [1e-4, 1e-4, -1e-4] } as const;

  it('are silent where the readings agree', () => {
    expect(steeringFindings(steer(bench.design, bench.read(part)))).toEqual([]);
  });

  it.each(['north-rim', 'west-rim', 'east-rim'])('name %s where it is five fringes off', (wrong) => {
    const readings = bench
      .read(part)
      .map((reading) =>
        reading.kind === 'fringes' && reading.patch === wrong
          ? { ...reading, fringes: reading.fringes.map((value) => value! + 5) }
          : reading,
      );
    const [finding] = steeringFindings(steer(bench.design, readings));
    expect(finding).toMatchObject({ severity: 'error', rule: 'contradicting-readings' });
    expect(finding!.message).toContain(wrong);
  });

  it('at one reference are found there', () => {
    const design = designFrom({
      references: [{ id: 'north', kind: 'smr', diameter: 38.1, at: AT }],
      patches: [
        linePatch('a', 'north', [0, 50], 90),
        linePatch('b', 'north', [0, -50], 90),
        linePatch('c', 'north', [50, 0], 90),
        linePatch('d', 'north', [-50, 0], 90),
        linePatch('e', 'north', [50, 20], 0),
      ],
    });
    const agreeing = ['a', 'b', 'c', 'd'].map((id) => fringes(id, id === 'b' ? -3 : 3));
    const [finding] = steeringFindings(steer(design, [...agreeing, fringes('e', 0)]));
    expect(finding).toMatchObject({ rule: 'contradicting-readings', where: 'north' });
  });

  it('and readings that no camera shows are said', () => {
    const findings = steeringFindings(steer(ONE, [fringes('a', 400)]));
    expect(findings.map(({ rule }) => rule)).toContain('beyond-capture-range');
  });
});

describe('turns of the stage', () => {
  const screw = (
    id: string,
    kind: 'moves' | 'turns',
    direction: Vec3,
    perTurn: number,
    through: Vec3 = [0, 0, 0],
  ): StageAxis => {
    return { id, kind, direction, perTurn, through };
  };

  it('undo a tilt about a pivot with the moves that bring the origin back', () => {
    const stage = [
      screw('y', 'moves', [0, 1, 0], 0.5),
      screw('z', 'moves', [0, 0, 1], 1),
      screw('tip', 'turns', [1, 0, 0], 2e-3, [0, -280, 0]),
    ];
    const { turns, left } = stageTurns(stage, { translation: [0, 0.1, 0], rotation: [1e-3, 0, 0] }, 260);
    // Half a turn of tip lifts the origin by 280 mm × 1 mrad.
    expect([...turns]).toEqual([expect.closeTo(0.2, 9), expect.closeTo(-0.28, 9), expect.closeTo(0.5, 9)]);
    expect(left).toEqual({ translation: [0, 0, 0], rotation: [0, 0, 0] });
  });

  it('say what the screws cannot do, and share what two can', () => {
    const stage = [screw('x', 'moves', [1, 0, 0], 0.5), screw('x2', 'moves', [1, 0, 0], -0.5)];
    const { turns, left } = stageTurns(stage, { translation: [0.5, 0, 0.2], rotation: [0, 0, 1e-3] }, 100);
    expect([...turns]).toEqual([expect.closeTo(0.5, 9), expect.closeTo(-0.5, 9)]);
    expect(left.translation).toEqual([0, 0, expect.closeTo(0.2, 9)]);
    expect(left.rotation[2]).toBeCloseTo(1e-3, 9);
  });
});
