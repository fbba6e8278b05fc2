/** The part's six errors by tracker, on the example: exact data, drawn data, sides, and slips that only both sides together show. */

import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { type Random, randomFrom } from '../../src/algebra/random.ts';
import { type Frame, placeToParent, rotate, rotationFromAngles } from '../../src/geometry/frame.ts';
import { add, type Vec3 } from '../../src/geometry/vector.ts';
import { COMMON_PRACTICE } from '../../src/metrology/budget/practice.ts';
import { type Displacement, moveWithPart } from '../../src/metrology/steering/steering-part.ts';
import { placeOf } from '../../src/metrology/transfer/measured-place.ts';
import { type Transfer, transfer } from '../../src/metrology/transfer/transfer.ts';
import { transferFindings } from '../../src/metrology/transfer/transfer-findings.ts';
import type { TrackedPoint } from '../../src/scenario/tracked-point.ts';
import { exampleDesign } from './support/bench.ts';
import { designFrom } from './support/design-from.ts';
import '../machine/patience.ts';

const DESIGN = exampleDesign('transfer-mirror-on-rim');
const TRACKER: Frame = { origin: [1500, -2200, 300], rotation: rotationFromAngles([0.3, 1.2, -0.7]) };
const PART: Displacement = { translation: [0.12, -0.09, 0.2], rotation: [1.5e-4, -2.5e-4, 4e-4] };
const SIGMA: Vec3 = [0.01, 5e-6, 5e-6];

const side = (id: string): TrackedPoint['side'] => (id.startsWith('tower') ? 'hologram' : 'part');

/** Every reference as the tracker sees it, noise by `sigma` of range and angles. */
function tracked(
  part: Displacement,
  random?: Random,
  slip: (place: Vec3) => Vec3 = (place) => place,
): TrackedPoint[] {
  return DESIGN.references.map(({ id, at }): TrackedPoint => {
    const stands = side(id) === 'part' ? add(at, moveWithPart(DESIGN, part, at)) : at;
    const [x, y, z] = slip(placeToParent(TRACKER, stands));
    const noise = (k: number): number => (random === undefined ? 0 : SIGMA[k]! * random.normal());
    const measured = {
      kind: 'spherical' as const,
      range: Math.hypot(x, y, z) + noise(0),
      azimuth: Math.atan2(y, x) + noise(1),
      elevation: Math.atan2(z, Math.hypot(x, y)) + noise(2),
      sigma: SIGMA,
    };
    return { name: id, reference: id, side: side(id), measured };
  });
}

function made(points: readonly TrackedPoint[]): Transfer {
  const result = transfer(DESIGN, points);
  if ('findings' in result) throw new Error(JSON.stringify(result.findings));
  return result.transfer;
}

const sixOf = ({ displacement }: Transfer): readonly number[] => [
  ...displacement!.found.translation,
  ...displacement!.found.rotation,
];
const TRUE_SIX = [...PART.translation, ...PART.rotation];

describe('a transfer', () => {
  it('finds the part exactly from exact points, near and far', () => {
    for (const factor of [1, 100]) {
      const part: Displacement = {
        translation: PART.translation.map((value) => value * factor) as unknown as Vec3,
        rotation: PART.rotation.map((value) => value * factor) as unknown as Vec3,
      };
      const found = sixOf(made(tracked(part)));
      found.forEach((value, k) => {
        expect(Math.abs(value - TRUE_SIX[k]! * factor)).toBeLessThan(k < 3 ? 1e-8 : 1e-10);
      });
    }
  });

  it('covers the truth with what the tracker is said to do wrong, as often as stated', () => {
    const random = randomFrom('transfer');
    const trials = 150;
    const scale = [1, 1, 1, 300, 300, 300];
    let [sum, within] = [0, 0];
    for (let trial = 0; trial < trials; trial++) {
      const result = made(tracked(PART, random));
      const error = sixOf(result).map((value, k) => (value - TRUE_SIX[k]!) * scale[k]!);
      const c = result.displacement!.trackerCovariance;
      const matrix = new Matrix(scale.map((a, i) => scale.map((b, j) => a * b * c[i * 6 + j]!)));
      const e = Matrix.columnVector(error);
      const chi = e.transpose().mmul(solve(matrix, e)).get(0, 0);
      sum += chi / trials;
      within += +(chi < 12.591587); // χ²₀.₉₅ of 6: M. Abramowitz, I. A. Stegun, table 26.8, from memory
    }
    expect(Math.abs(sum - 6)).toBeLessThan(5 * Math.sqrt(12 / trials));
    expect(Math.abs(within / trials - 0.95)).toBeLessThan(5 * Math.sqrt((0.95 * 0.05) / trials));
  });

  it('states no less with everything else in than the tracker’s own', () => {
    const { displacement } = made(tracked(PART));
    for (let k = 0; k < 6; k++)
      expect(displacement!.covariance[k * 7]).toBeGreaterThan(displacement!.trackerCovariance[k * 7]!);
  });

  it('leaves the slide along what is touched to the eye: a millimetre along the rim moves nothing', () => {
    const points = tracked(PART).map((point) => {
      if (point.name !== 'rim-1') return point;
      const { at } = DESIGN.references.find(({ id }) => id === 'rim-1')!;
      const stands = add(add(at, moveWithPart(DESIGN, PART, at)), [-0.5 * 0.3, 0.866 * 0.3, 0]);
      return {
        ...point,
        measured: {
          kind: 'cartesian' as const,
          at: placeToParent(TRACKER, stands),
          sigma: [0.01, 0.01, 0.01] as Vec3,
        },
      };
    });
    const result = made(points);
    expect(transferFindings(result).filter(({ severity }) => severity === 'error')).toEqual([]);
    const sigma = [0, 1, 2].map((k) => Math.sqrt(result.displacement!.covariance[k * 7]!));
    sixOf(result)
      .slice(0, 3)
      .forEach((value, k) => {
        expect(Math.abs(value - TRUE_SIX[k]!)).toBeLessThan(sigma[k]!);
      });
  });

  // Half a millimetre along what fringes or touches hold, substrate frame.
  it.each([
    ['tower-3', [0.5, 0, 0]],
    ['rim-4', [0.43, -0.25, 0]],
    ['groove', [0, 0, 0.5]],
  ] as const)('names %s, off where it is held', (name, off) => {
    const points = tracked(PART).map((point) => {
      if (point.name !== name) return point;
      const place = placeOf(point.measured);
      return {
        ...point,
        measured: {
          kind: 'cartesian' as const,
          at: add(place, rotate(TRACKER.rotation, off)),
          sigma: [0.01, 0.01, 0.01] as Vec3,
        },
      };
    });
    const errors = transferFindings(made(points)).filter(({ severity }) => severity === 'error');
    expect(errors).toMatchObject([{ rule: 'outlying-point', where: name }]);
  });

  it('says nothing of the part from one side alone', () => {
    const { hologram, part, displacement } = made(tracked(PART).filter((point) => point.side === 'hologram'));
    expect([hologram === undefined, part, displacement]).toEqual([false, undefined, undefined]);
  });

  it('refuses each side that has too few points, both at once', () => {
    const few = tracked(PART).filter(({ name }) => ['tower-1', 'tower-2', 'rim-1'].includes(name));
    const result = transfer(DESIGN, few);
    expect('findings' in result && result.findings.map(({ rule }) => rule)).toEqual([
      'degenerate-points',
      'degenerate-points',
    ]);
  });

  it('sees a mirror image in both sides together that each side alone, a plane, hides', () => {
    const flat = designFrom({
      part: { origin: [0, 0, 1500] },
      references: [
        ...[
          [150, 0],
          [-80, 130],
          [-80, -120],
        ].map(([x, y], k) => ({ id: `h${k}`, kind: 'smr', diameter: 38.1, at: [x, y, 900] })),
        ...[
          [200, 10],
          [-110, 180],
          [-90, -170],
        ].map(([x, y], k) => ({ id: `p${k}`, kind: 'smr', diameter: 38.1, frame: 'part', at: [x, y, 0] })),
      ],
    });
    const points = flat.references.map(({ id, at }): TrackedPoint => {
      const [x, y, z] = placeToParent(TRACKER, at);
      const measured = { kind: 'cartesian', at: [y, x, z], sigma: undefined } as const;
      return { name: id, reference: id, side: id.startsWith('h') ? 'hologram' : 'part', measured };
    });
    const result = transfer(flat, points, COMMON_PRACTICE);
    expect('findings' in result && result.findings[0]).toMatchObject({ rule: 'mirrored-points' });
  });
});
