/** Where references are known to be: common practice's figures, what is unobserved, the budget. By traced rays in traced-estimate.test.ts. */
import { describe, expect, it } from 'vitest';
import { sensesOf } from '../../src/metrology/sensing/sensitivity.ts';
import { designFrom, linePatch, pointPatch } from './support/design-from.ts';
import { referencePositions } from './support/reported.ts';

const smr = (at: readonly number[]) => [{ id: 'r', kind: 'smr', diameter: 38.1, at }];

describe('two 10 mm patches 125 mm apart on one SMR at about 1 m', () => {
  // Common practice, no source beyond the trade: axial about 50 µm from each, 35 µm together, at a tenth of a fringe.
  const design = designFrom({
    references: smr([0, 0, 1000]),
    patches: [linePatch('a', 'r', [62.5, 0], 90), linePatch('b', 'r', [-62.5, 0], 90)],
  });

  it('each see an axial move by sin(atan(B/2s)): 50 µm a patch', () => {
    for (const patch of design.patches) {
      const [sense] = sensesOf(design, patch);
      const axial = Math.abs(sense!.direction[2]);
      expect(axial).toBeCloseTo(Math.sin(Math.atan(62.5 / 1000)), 12);
      expect(Math.abs((sense!.resolution * 1000) / axial - 50)).toBeLessThan(1.5);
    }
  });

  it('together place it to 35 µm along z and 2.2 µm along x, and not at all along y', () => {
    const [position] = referencePositions(design);
    expect(Math.abs(position!.sigma_um.z! - 35)).toBeLessThan(1.5);
    expect(position!.sigma_um.x).toBeCloseTo(2.24, 1);
    expect(position!.sigma_um.y).toBeNull();
    expect(position!.unobserved).toEqual(['along y']);
  });
});

describe('an SMR seen by line patches', () => {
  const patches = [
    linePatch('a', 'r', [0, 60], 90),
    linePatch('b', 'r', [52, -30], 60),
    linePatch('c', 'r', [-52, -30], 150),
  ];
  const seenBy = (count: number) =>
    referencePositions(designFrom({ references: smr([40, 20, 900]), patches: patches.slice(0, count) }))[0]!;

  it('by three has a finite σ in x, y, z', () => {
    const { sigma_um, unobserved, covariance_um2, ellipsoid } = seenBy(3);
    expect(unobserved).toEqual([]);
    for (const axis of ['x', 'y', 'z'] as const) expect(sigma_um[axis]).toBeGreaterThan(0);
    expect(covariance_um2[0]![0]).toBeCloseTo(sigma_um.x! ** 2, 9);
    // The ellipsoid's axes have the covariance's trace.
    const trace = covariance_um2[0]![0]! + covariance_um2[1]![1]! + covariance_um2[2]![2]!;
    expect(ellipsoid.reduce((sum, axis) => sum + axis.sigma_um! ** 2, 0)).toBeCloseTo(trace, 6);
  });

  it('by three whose lines all run out from one point of the pattern keeps the line of sight to that point unobserved', () => {
    const radial = [90, 210, 330].map((azimuth, k) => {
      const angle = (azimuth * Math.PI) / 180;
      return linePatch(`p${k}`, 'r', [60 * Math.cos(angle), 60 * Math.sin(angle)], azimuth);
    });
    const [position] = referencePositions(designFrom({ references: smr([0, 0, 900]), patches: radial }));
    expect(position!.unobserved).toEqual(['along z']);
    expect(position!.sigma_um.z).toBeNull();
    expect(position!.sigma_um.x).toBeGreaterThan(0);
  });

  it('by one has two directions unobserved, and σ in the axis that is not one of them', () => {
    const { sigma_um, unobserved } = seenBy(1);
    expect(unobserved).toHaveLength(2);
    expect(sigma_um.x).toBeGreaterThan(0);
    expect([sigma_um.y, sigma_um.z]).toEqual([null, null]);
  });

  it('by none has no σ at all', () => {
    const { sigma_um, unobserved, budget_um } = seenBy(0);
    expect(Object.values(sigma_um)).toEqual([null, null, null]);
    expect(unobserved).toEqual(['along x', 'along y', 'along z']);
    expect(budget_um.terms).toEqual([]);
  });

  it('gains a direction by a length measured to it', () => {
    const [position] = referencePositions(
      designFrom({
        references: smr([40, 20, 900]),
        patches: patches.slice(0, 2),
        measurements: [{ id: 'spacer', reference: 'r', direction: [0, 0, 1], uncertainty: '3 um' }],
      }),
    );
    expect(position!.unobserved).toEqual([]);
    expect(position!.sigma_um.z).toBeCloseTo(3, 1);
    expect(position!.budget_um.terms.map(({ term }) => term)).toContain('measured length');
  });
});

describe('budget of a reference', () => {
  const design = designFrom({
    references: [...smr([40, 20, 900]), { id: 'b', kind: 'ball', diameter: 12.7, at: [-40, 30, 180] }],
    patches: [
      linePatch('a', 'r', [0, 60], 90),
      linePatch('b', 'r', [52, -30], 60),
      linePatch('c', 'r', [-52, -30], 150),
      pointPatch('d', 'b', [-30, 10], 8),
    ],
  });

  it('lists its terms, the largest first, and combines them', () => {
    for (const { budget_um } of referencePositions(design)) {
      const { terms, combined } = budget_um;
      for (const axis of ['x', 'y', 'z'] as const) {
        const sum = terms.reduce((total, { by }) => total + by[axis]! ** 2, 0);
        expect(Math.sqrt(sum)).toBeCloseTo(combined[axis]!, 9);
      }
      const weights = terms.map(({ by }) =>
        Math.max(...(['x', 'y', 'z'] as const).map((k) => by[k]! / combined[k]!)),
      );
      expect(weights).toEqual([...weights].sort((a, b) => b - a));
    }
  });

  it('has apex centring in every direction alike: it moves the whole cube', () => {
    const [position] = referencePositions(design);
    const { by } = position!.budget_um.terms.find(({ term }) => term === 'apex centring')!;
    for (const axis of ['x', 'y', 'z'] as const) expect(by[axis]).toBeCloseTo(6 / Math.sqrt(3), 6);
  });
});
