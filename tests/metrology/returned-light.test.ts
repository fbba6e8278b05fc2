/** Traced shares against what geometry says of each loss by itself. */
import { describe, expect, it } from 'vitest';
import { lossBound } from '../../src/metrology/sensing/loss-bound.ts';
import { returnedLight } from '../../src/metrology/sensing/returned-light.ts';
import { noReturn } from '../../src/rules/no-return.ts';
import { weakReturn } from '../../src/rules/weak-return.ts';
import { designFrom, linePatch, pointPatch, type Words } from './support/design-from.ts';

const FEW_IN_A_THOUSAND = 0.008;

function light(reference: Words, patch: Words, more: Words = {}) {
  const design = designFrom({ ...more, references: [{ id: 'r', ...reference }], patches: [patch] });
  return {
    ...returnedLight(design, design.patches[0]!)!,
    findings: [noReturn, weakReturn].flatMap(({ find }) => find(design)),
  };
}

describe('a cube', () => {
  const cube = { kind: 'smr', diameter: 38.1, at: [0, 0, 1000], axis: [0, 0, -1] };

  it.each([30, 15, 8])('loses the band of its edges seen at %f° to the line', (angle) => {
    // Seen from the part, about an axis along −z, the roll runs from +x toward −y.
    const { share, losses } = light({ ...cube, roll: angle }, linePatch('p', 'r', [0, 0], 0));
    // Whole band 0.2 mm, cut by the line at the angle; past it the apex's circle of 0.1 mm hides in it.
    const lost = 0.2 / Math.sin((angle * Math.PI) / 180) / 10;
    expect(losses['dead zone']).toBeCloseTo(lost, 2);
    expect(Math.abs(share - (1 - lost))).toBeLessThan(2 * FEW_IN_A_THOUSAND);
  });

  it('cuts what is longer than its mouth', () => {
    const { losses, findings } = light({ ...cube, diameter: 12.7 }, linePatch('p', 'r', [0, 0], 0, 16));
    const mouth = 12.7 / Math.sqrt(3);
    expect(Math.abs(losses['outside aperture'] - (1 - mouth / 16))).toBeLessThan(FEW_IN_A_THOUSAND);
    expect(findings[0]).toMatchObject({ severity: 'warning', rule: 'weak-return', where: 'p' });
    expect(findings[0]!.message).toContain('outside the clear aperture');
  });

  it('returns nothing of a point focus, which meets its apex', () => {
    const { share, losses, findings } = light(cube, pointPatch('p', 'r', [0, 0]));
    expect([share, losses['dead zone']]).toEqual([0, 1]);
    expect(findings[0]!.hint).toContain('focus: line');
  });

  it('loses at each slope of a roof what it shifts over the edge: Nλs/(v_max D)', () => {
    const roof = { ...linePatch('p', 'r', [0, 0], 0), bias: { shape: 'roof', fringes: 3 } };
    const { losses } = light({ ...cube, roll: 30 }, roof);
    // A slope of N/(2 v_max) waves per mm turns the light by λ times it, twice over s, at both ends of the length D.
    const shift = (2 * 1000 * 3 * 632.8e-6) / (2 * 5);
    expect(Math.abs(losses['beside patch'] - (2 * shift) / 10)).toBeLessThan(2 * FEW_IN_A_THOUSAND);
  });
});

describe('a ball', () => {
  const [s, R, a] = [200, 6.35, 5];
  const ball = { kind: 'ball', diameter: 2 * R, at: [0, 0, s] };

  it('returns a point focus whole', () => {
    expect(light(ball, pointPatch('p', 'r', [10, 5]))).toMatchObject({ share: 1, findings: [] });
  });

  it('returns only a narrow strip of a line focus', () => {
    const { share, losses, findings } = light(ball, linePatch('p', 'r', [0, 0], 0));
    // A ray at the height v meets the ball where its normal is inclined by θ, sin θ = v/R, and goes back inclined by 2θ.
    const back = (v: number): number => {
      const theta = Math.asin(v / R);
      return v + (s - R * Math.cos(theta)) * Math.tan(2 * theta);
    };
    let [low, high] = [0, a];
    for (let k = 0; k < 60; k++) {
      const middle = (low + high) / 2;
      if (back(middle) < a) low = middle;
      else high = middle;
    }
    expect(Math.abs(share - low / a)).toBeLessThan(FEW_IN_A_THOUSAND);
    expect(share).toBeCloseTo(R / (2 * s), 2);
    expect(losses['beside patch'] + losses.missed).toBeCloseTo(1 - share, 12);
    expect(findings[0]!.hint).toBe('a ball needs `focus: point`');
  });
});

it('says nothing of a screen', () => {
  const design = designFrom({
    references: [{ id: 'r', kind: 'screen', at: [0, 0, 500] }],
    patches: [pointPatch('p', 'r', [0, 0])],
  });
  expect(returnedLight(design, design.patches[0]!)).toBeUndefined();
  expect(weakReturn.find(design)).toEqual([]);
});

describe('the bound in closed form', () => {
  const cube = { kind: 'smr', diameter: 38.1, at: [200, 50, 1400] };
  const roof = (fringes: number) => ({ shape: 'roof', fringes });
  const cases: readonly (readonly [string, Words, Words])[] = [
    ['a line on a cube', cube, linePatch('p', 'r', [20, 10], 90)],
    ['with a roof', cube, { ...linePatch('p', 'r', [20, 10], 0), bias: roof(2) }],
    [
      'turned with its line',
      cube,
      {
        ...linePatch('p', 'r', [20, 10], 40),
        outline: { rectangle: { width: 12, height: 6, rotation: 40 } },
        bias: roof(1),
      },
    ],
    [
      'round',
      cube,
      { ...linePatch('p', 'r', [-30, 10], 70), outline: { circle: { diameter: 11 } }, bias: roof(1) },
    ],
    ['an edge near the line', { ...cube, axis: [0, 0, -1], roll: 8 }, linePatch('p', 'r', [0, 0], 0)],
    [
      'a point on a ball',
      { kind: 'ball', diameter: 12.7, at: [0, 80, 160] },
      pointPatch('p', 'r', [0, 50], 12),
    ],
    [
      'with a tilt',
      { kind: 'ball', diameter: 12.7, at: [0, 80, 160] },
      { ...pointPatch('p', 'r', [0, 50], 12), bias: { shape: 'tilt', fringes: 4 } },
    ],
  ];

  it.each(cases)('%s: is no less than the traced loss, and not far above', (_name, reference, patch) => {
    const design = designFrom({ references: [{ id: 'r', ...reference }], patches: [patch] });
    const bound = lossBound(design, design.patches[0]!)!;
    const lost = 1 - returnedLight(design, design.patches[0]!, 6000)!.share;
    expect(bound).toBeGreaterThan(lost - FEW_IN_A_THOUSAND);
    expect(bound).toBeLessThan(2 * lost + 0.01);
  });

  it.each<readonly [string, Words, Words]>([
    ['a point on a cube', cube, pointPatch('p', 'r', [0, 0])],
    ['a line on a ball', { kind: 'ball', diameter: 12.7, at: [0, 0, 200] }, linePatch('p', 'r', [0, 0], 0)],
    [
      'a square across its line',
      cube,
      {
        ...linePatch('p', 'r', [20, 10], 30),
        outline: { rectangle: { width: 10, height: 10, rotation: 10 } },
      },
    ],
    ['a patch longer than the mouth', { ...cube, diameter: 12.7 }, linePatch('p', 'r', [20, 10], 0, 16)],
  ])('%s: is not given', (_name, reference, patch) => {
    const design = designFrom({ references: [{ id: 'r', ...reference }], patches: [patch] });
    expect(lossBound(design, design.patches[0]!)).toBeUndefined();
  });
});
