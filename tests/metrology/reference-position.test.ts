/** Where references are known to be: common practice's figures, what is unobserved, and a Monte Carlo run over exact optics. */
import { describe, expect, it } from 'vitest';
import { solveLeastSquares } from '../../src/algebra/least-squares.ts';
import { randomFrom } from '../../src/algebra/random.ts';
import type { Design, DesignedPatch } from '../../src/design/design.ts';
import { dot, squareTo, subtract, type Vec3 } from '../../src/geometry/vector.ts';
import { estimateReferences } from '../../src/metrology/estimate/reference-estimate.ts';
import { referencePositions } from '../../src/metrology/estimate/reference-position.ts';
import { sensesOf } from '../../src/metrology/sensing/sensitivity.ts';
import { designFrom, linePatch, pointPatch } from './support/design-from.ts';
import { draw } from './support/distributions.ts';

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

describe('Monte Carlo over the exact path difference', () => {
  const design = designFrom({
    references: [...smr([40, 20, 900]), { id: 'b', kind: 'ball', diameter: 12.7, at: [-40, 30, 180] }],
    patches: [
      linePatch('a', 'r', [0, 60], 90),
      linePatch('b', 'r', [52, -30], 60),
      linePatch('c', 'r', [-52, -30], 150),
      linePatch('d', 'r', [20, -60], 0),
      pointPatch('e', 'b', [-30, 10], 8),
      pointPatch('f', 'b', [-55, 20], 8),
    ],
  });
  const TRIALS = 4000;

  it.each(estimateReferences(design).map((each) => [each.reference.id, each] as const))(
    '%s: the spread of simulated estimates is that of the linear budget, within its sampling error',
    (id, { reference, readings, full, sources }) => {
      // Each trial: every source of error at a draw from its own distribution, every reading with its noise, on fringes of a
      // reference that has really moved; then the unweighted unknowns are put together by the estimate's own gains.
      const random = randomFrom(`references ${id}`);
      const moved: Vec3 = [0.004, -0.003, 0.02];
      const sums = new Float64Array(3);
      const squares = new Float64Array(3);
      for (let trial = 0; trial < TRIALS; trial++) {
        const values = readings.map(
          ({ from, u }) => exactMove(design, from!.patch, from!.sense, moved) + u * random.normal(),
        );
        for (const { distribution, u, effects } of sources) {
          const error =
            distribution === 'normal'
              ? draw({ kind: 'normal', mean: 0, sigma: u }, random)
              : draw({ kind: 'rectangular', mean: 0, halfWidth: u * Math.sqrt(3) }, random);
          effects.at.forEach((reading, k) => {
            values[reading]! += effects.by[k]! * error;
          });
        }
        for (let axis = 0; axis < 3; axis++) {
          const found = values.reduce(
            (sum, value, k) => sum + full.gains[axis * values.length + k]! * value,
            0,
          );
          sums[axis]! += found;
          squares[axis]! += found * found;
        }
      }
      expect(reference.id).toBe(id);
      for (let axis = 0; axis < 3; axis++) {
        const mean = sums[axis]! / TRIALS;
        const sigma = Math.sqrt((squares[axis]! - TRIALS * mean * mean) / (TRIALS - 1));
        const linear = Math.sqrt(full.covariance[axis * 4]!);
        // Standard error of a standard deviation: σ/√(2n) for a normal one; four of them.
        expect(Math.abs(sigma - linear)).toBeLessThan((4 * linear) / Math.sqrt(2 * TRIALS));
        // The exact path difference and the linear row differ by a few per cent of the move at most.
        expect(Math.abs(mean - moved[axis]!)).toBeLessThan(
          0.12 * Math.hypot(...moved) + (5 * linear) / Math.sqrt(TRIALS),
        );
      }
    },
  );

  it('least squares on noise alone spreads as the stated covariance', () => {
    const [{ readings, stated }] = estimateReferences(design) as [
      ReturnType<typeof estimateReferences>[number],
    ];
    const random = randomFrom('stated');
    const rows = Float64Array.from(readings.flatMap(({ direction }) => direction));
    const weights = Float64Array.from(readings, ({ u }) => 1 / u);
    const squares = new Float64Array(3);
    for (let trial = 0; trial < TRIALS; trial++) {
      const values = Float64Array.from(readings, ({ u }) => u * random.normal());
      const { solution } = solveLeastSquares(rows, 3, values, { weights });
      for (let axis = 0; axis < 3; axis++) squares[axis]! += solution[axis]! ** 2 / TRIALS;
    }
    for (let axis = 0; axis < 3; axis++) {
      const linear = Math.sqrt(stated.covariance[axis * 4]!);
      expect(Math.abs(Math.sqrt(squares[axis]!) - linear)).toBeLessThan((4 * linear) / Math.sqrt(2 * TRIALS));
    }
  });
});

/** The move that a patch's sense reads from the exact round trip E_out(P; A) − E_out(P; A + 2δ), fringes by distances alone. */
function exactMove(design: Design, patch: DesignedPatch, sense: number, move: Vec3): number {
  const { fringesPerMm, kind, direction, width } = sensesOf(design, patch)[sense]!;
  const out = ([x, y]: readonly [number, number], target: Vec3): number => {
    const d = subtract([x, y, 0], target);
    const across = patch.lineDirection === undefined ? d : squareTo(d, patch.lineDirection);
    return -Math.sqrt(dot(across, across));
  };
  const moved: Vec3 = [0, 1, 2].map((k) => patch.target[k]! + 2 * move[k]!) as unknown as Vec3;
  const opd = (at: readonly [number, number]): number =>
    (out(at, patch.target) - out(at, moved)) / design.light.wavelength;
  const [cx, cy] = patch.centre;
  const other = patch.lineDirection ?? patch.senses[sense === 0 ? 1 : 0]!;
  // The step in the pattern that goes along one of the two directions square to the ray only.
  const step = (along: Vec3, square: Vec3): readonly [number, number] => {
    const determinant = along[0] * square[1] - along[1] * square[0];
    return [square[1] / determinant, -square[0] / determinant];
  };
  if (kind === 'tilt') {
    const [sx, sy] = step(direction, other);
    const fringes =
      opd([cx + (width / 2) * sx, cy + (width / 2) * sy]) -
      opd([cx - (width / 2) * sx, cy - (width / 2) * sy]);
    return -fringes / fringesPerMm;
  }
  const [first, second] = patch.senses as readonly [Vec3, Vec3, Vec3];
  const around = [step(first, second), step(second, first)].flatMap(([sx, sy]) => [
    opd([cx + (width / 2) * sx, cy + (width / 2) * sy]),
    opd([cx - (width / 2) * sx, cy - (width / 2) * sy]),
  ]);
  return -(around.reduce((sum, value) => sum + value, 0) / 4 - opd([cx, cy])) / fringesPerMm;
}
