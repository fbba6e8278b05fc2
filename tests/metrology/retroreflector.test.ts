import { describe, expect, it } from 'vitest';
import type { Design, DesignedPatch } from '../../src/design/design.ts';
import { length, subtract, unit } from '../../src/geometry/vector.ts';
import { angleToNearestEdge, cubeOf } from '../../src/metrology/sensing/retroreflector.ts';
import { cubeEdges } from '../../src/optics/corner-cube.ts';
import type { Reference } from '../../src/scenario/scenario.ts';
import { makePatch, type PatchRecipe } from '../design/support/make-patch.ts';

const DEGREE = Math.PI / 180;
const recipe = (centre: readonly [number, number], lineAngle: number): PatchRecipe => ({
  at: [0, 0, 1000],
  centre,
  outline: { shape: 'circle', centre, radius: 5 },
  lineAngle,
});
const designOf = (...patches: DesignedPatch[]) => ({ patches }) as unknown as Design;

describe('the cube as it stands', () => {
  it('faces the mean of its patches', () => {
    const patches = [makePatch(recipe([60, 0], 0)), makePatch(recipe([-60, 0], 1))];
    expect(
      length(subtract(cubeOf(designOf(...patches), patches[0].reference).axis, [0, 0, -1])),
    ).toBeLessThan(1e-12);
    const one = makePatch(recipe([60, 0], 0));
    expect(length(subtract(cubeOf(designOf(one), one.reference).axis, unit([60, 0, -1000])))).toBeLessThan(
      1e-12,
    );
  });

  it('is rolled as far from one line as can be, 30°, and from two square to each other, 15°', () => {
    const one = makePatch(recipe([0, 0], 0.2));
    expect(angleToNearestEdge(cubeOf(designOf(one), one.reference), one) / DEGREE).toBeCloseTo(30, 0);
    const two = [makePatch(recipe([0, 0], 0.2)), makePatch(recipe([0, 0], 0.2 + Math.PI / 2))];
    const cube = cubeOf(designOf(...two), two[0].reference);
    for (const patch of two) expect(angleToNearestEdge(cube, patch) / DEGREE).toBeCloseTo(15, 0);
  });

  it('stands as its words say', () => {
    const patch = makePatch(recipe([0, 0], 0));
    const axis = unit([0.1, 0, -1]);
    const reference = { ...patch.reference, cube: { axis, roll: 0.4 } } as Reference;
    const cube = cubeOf(designOf(patch), reference);
    expect(cube.axis).toBe(axis);
    expect(cube.roll).toBe(0.4);
    expect(cube.clearRadius).toBeCloseTo(38.1 / 2 / Math.sqrt(3), 12);
  });

  it('has an edge along the line where the roll puts it there', () => {
    const patch = makePatch(recipe([0, 0], 0));
    const cube = { ...cubeOf(designOf(patch), patch.reference), roll: 0 };
    // Seen along the axis, the first edge lies along +x, as the line does.
    expect(cubeEdges(cube)[0][1]).toBeCloseTo(0, 12);
    expect(angleToNearestEdge(cube, patch)).toBeCloseTo(0, 6);
  });

  it('is no one’s but an SMR’s', () => {
    const ball = makePatch({ ...recipe([0, 0], 0), kind: 'ball' });
    expect(() => cubeOf(designOf(ball), ball.reference)).toThrow('is no SMR with a patch');
  });
});
