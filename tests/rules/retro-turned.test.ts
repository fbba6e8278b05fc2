import { describe, expect, it } from 'vitest';
import type { Design, DesignedPatch } from '../../src/design/design.ts';
import { unit } from '../../src/geometry/vector.ts';
import type { CubeFigures } from '../../src/kinds/reference.ts';
import { retroTurned } from '../../src/rules/retro-turned.ts';
import { makePatch, type PatchRecipe } from '../design/support/make-patch.ts';

const DEGREE = Math.PI / 180;

function patchAt(
  centre: readonly [number, number],
  lineAngle: number,
  cube: CubeFigures = {},
  kind: 'smr' | 'ball' = 'smr',
) {
  const recipe: PatchRecipe = {
    at: [0, 0, 100],
    centre,
    outline: { shape: 'circle', centre, radius: 5 },
    lineAngle,
    kind,
  };
  const patch = makePatch(recipe);
  return kind === 'smr' ? ({ ...patch, reference: { ...patch.reference, cube } } as DesignedPatch) : patch;
}
const find = (...patches: DesignedPatch[]) => retroTurned.find({ patches } as unknown as Design);

describe('the direction', () => {
  it('is the mean of the patches by default: patches within 60° of each other are accepted', () => {
    expect(find(patchAt([57, 0], 0), patchAt([-57, 0], 0))).toEqual([]);
    const far = find(patchAt([58, 0], 0), patchAt([-58, 0], 0));
    expect(far).toHaveLength(2);
    expect(far[0]).toMatchObject({ severity: 'error', rule: 'retro-turned', unit: 'deg' });
    expect(far[0].value).toBeCloseTo(Math.atan(0.58) / DEGREE, 6);
    expect(far[0].limit).toBeCloseTo(30, 12);
    expect(far[0].message).toContain('facing the mean of its 2 patches');
  });

  it('is the scenario’s where it gives one, and so is the acceptance', () => {
    const tilted = (angle: number): CubeFigures => ({ axis: [Math.sin(angle), 0, -Math.cos(angle)] });
    expect(find(patchAt([0, 0], 0.3, tilted(30 * DEGREE)))).toEqual([]);
    expect(find(patchAt([0, 0], 0.3, tilted(31 * DEGREE)))).toHaveLength(1);
    expect(find(patchAt([0, 0], 0.3, { ...tilted(31 * DEGREE), acceptance: 35 * DEGREE }))).toEqual([]);
    expect(find(patchAt([0, 0], 0.3, { axis: unit([0, 0, 1]) }))[0].value).toBeCloseTo(180, 6);
  });
});

describe('the edges', () => {
  const facing: CubeFigures = { axis: [0, 0, -1] };
  it.each([
    [0, 0, true],
    [4.9, 0, true],
    [5.1, 0, false],
    [30, 0, false],
    [60, 0, true],
    [120 + 40, 40, true],
    [90, 40, false],
  ])('with the line at %f° and the roll %f°: found %s', (line, roll, found) => {
    // Seen from the part, about an axis along −z, the roll turns the other way round.
    const findings = find(patchAt([0, 0], -line * DEGREE, { ...facing, roll: roll * DEGREE }));
    expect(findings.length > 0).toBe(found);
    if (found) expect(findings[0].hint).toContain('roll the retroreflector');
  });

  it('are kept off the lines by the best roll where none is given', () => {
    expect(find(patchAt([0, 0], 0, facing), patchAt([0, 0], 40 * DEGREE, facing))).toEqual([]);
    // Lines every 8° leave no roll more than 4° from all of them.
    const fan = [0, 8, 16, 24, 32, 40, 48, 56].map((angle) => patchAt([0, 0], angle * DEGREE, facing));
    const findings = find(...fan);
    expect(findings.length).toBeGreaterThan(0);
    expect(findings[0].hint).toContain('no roll suits');
  });
});

it('leaves balls alone', () => {
  expect(find(patchAt([90, 0], 0, {}, 'ball'))).toEqual([]);
});
