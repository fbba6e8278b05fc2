/** The part's six degrees: ranks of touching datums, free motions in words, σ against a Monte Carlo run over exact motions. */
import { describe, expect, it } from 'vitest';
import { randomFrom } from '../../src/algebra/random.ts';
import { placeFromParent, rotateBack } from '../../src/geometry/frame.ts';
import { dot, type Vec3 } from '../../src/geometry/vector.ts';
import { partPose } from '../../src/metrology/estimate/pose.ts';
import { estimatePose } from '../../src/metrology/estimate/pose-estimate.ts';
import { DEGREES } from '../../src/scenario/scenario.ts';
import { designFrom, linePatch, pointPatch, type Words } from './support/design-from.ts';
import { draw } from './support/distributions.ts';

const ORIGIN = [0, 0, 900];
const ball = (id: string, touches: readonly Words[]): Words => ({ id, kind: 'ball', diameter: 10, touches });

/** Every ball's x, y and z measured: what is then free of the part is what its touches leave free. */
const measured = (references: readonly Words[], uncertainty = '2 um'): Words[] =>
  references.flatMap(({ id }) =>
    ['x', 'y', 'z'].map((axis, k) => {
      return {
        id: `${id}-${axis}`,
        reference: id,
        direction: [0, 1, 2].map((j) => (j === k ? 1 : 0)),
        uncertainty,
      };
    }),
  );

const partOf = (datums: Words, references: readonly Words[], part: Words = {}) =>
  designFrom({ part: { origin: ORIGIN, datums, ...part }, references, measurements: measured(references) });

const DATUMS = {
  A: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } },
  B: { cylinder: { point: [0, 0, 0], axis: [0, 0, 1], diameter: 240, side: 'outside' } },
  P: { plane: { point: [0, -100, 0], normal: [0, -1, 0] } },
  Q: { plane: { point: [-130, 0, 0], normal: [-1, 0, 0] } },
  S: { sphere: { centre: [10, 20, 30], diameter: 200 } },
};
const onPlane = [
  ball('a1', [{ datum: 'A', x: 80, y: 0 }]),
  ball('a2', [{ datum: 'A', x: -40, y: 70 }]),
  ball('a3', [{ datum: 'A', x: -40, y: -70 }]),
];
const onRim = [0, 90, 200, 290].map((azimuth, k) =>
  ball(`b${k}`, [{ datum: 'B', azimuth, height: k % 2 === 0 ? 10 : 60 }]),
);
const onSphere = [
  ball('s1', [{ datum: 'S', x: 10, y: 20, z: -75 }]),
  ball('s2', [{ datum: 'S', azimuth: 0, height: 0 }]),
  ball('s3', [{ datum: 'S', azimuth: 120, height: 0 }]),
  ball('s4', [{ datum: 'S', azimuth: 240, height: 20 }]),
];
const onSides = [
  ball('p1', [{ datum: 'P', x: 60, z: 20 }]),
  ball('p2', [{ datum: 'P', x: -60, z: 20 }]),
  ball('q1', [{ datum: 'Q', y: 0, z: 20 }]),
];
const VEES = Object.fromEntries(
  [0, 120, 240].map((azimuth, k) => {
    const [c, s] = [Math.cos((azimuth * Math.PI) / 180), Math.sin((azimuth * Math.PI) / 180)];
    return [
      `V${k}`,
      { vee: { point: [100 * c, 100 * s, 0], axis: [c, s, 0], normal: [0, 0, -1], angle: 90 } },
    ];
  }),
);
const inVees = [0, 1, 2].map((k) => ball(`v${k}`, [{ datum: `V${k}`, height: 0 }]));

describe('what touching datums leave free', () => {
  // Ranks: three vees by A. Slocum, Int. J. Mach. Tools Manuf. 50, 310 (2010); 3-2-1 and the rest of common knowledge,
  // recomputed by an independent program.
  it.each([
    ['a plane', DATUMS, onPlane, ['to move along x', 'to move along y', "to turn about the part's z axis"]],
    ['a cylinder', DATUMS, onRim, ['to move along z', "to turn about the part's z axis"]],
    [
      'a sphere',
      DATUMS,
      onSphere,
      [
        'to turn about an axis along x through x = 0 mm, y = 20 mm, z = 30 mm',
        'to turn about an axis along y through x = 10 mm, y = 0 mm, z = 30 mm',
        'to turn about an axis along z through x = 10 mm, y = 20 mm, z = 0 mm',
      ],
    ],
    ['a cylinder and a plane', DATUMS, [...onRim, ...onPlane], ["to turn about the part's z axis"]],
    ['three planes, 3-2-1', DATUMS, [...onPlane, ...onSides], []],
    ['three vees', VEES, inVees, []],
  ] as const)('%s', (_name, datums, references, free) => {
    const pose = partPose(partOf(datums, references));
    expect(pose.freeMotions).toEqual(free);
    expect(pose.unobserved).toHaveLength(free.length);
  });

  it('is named in the part frame, however the part lies', () => {
    const turned = { rotation: [20, -35, 50] };
    const pose = partPose(partOf(DATUMS, [...onRim, ...onPlane], turned));
    expect(pose.freeMotions).toEqual(["to turn about the part's z axis"]);
    expect(pose.unobserved).toEqual(['rz']);
    expect(DEGREES.filter((degree) => pose.sigma[degree] === null)).toEqual(['rz']);
  });

  it('is everything where nothing is read', () => {
    const pose = partPose(
      designFrom({ references: [{ id: 'r', kind: 'smr', diameter: 38.1, at: [0, 0, 900] }] }),
    );
    expect(pose.unobserved).toEqual([...DEGREES]);
    expect(pose.freeMotions).toHaveLength(6);
    expect(pose.weakest).toBeNull();
  });

  it('leaves a reference without touches mounted where it was put', () => {
    const references = [
      { id: 'u', kind: 'ball', diameter: 10, at: [100, 0, 900] },
      { id: 'v', kind: 'ball', diameter: 10, at: [-50, 80, 0], frame: 'part' },
      { id: 'w', kind: 'ball', diameter: 10, at: [-50, -80, 950] },
    ];
    expect(partPose(partOf({}, references)).freeMotions).toEqual([]);
  });
});

describe('σ of the part', () => {
  it('of three balls in vees is that of the closed form', () => {
    // Balls at 100 mm + 0 heights, each coordinate measured to u; vees hold two of three directions, the third is free.
    const pose = estimatePose(partOf(VEES, inVees));
    const u = 2e-3;
    // Each vee holds z and its tangent. z: mean of three; rz: tangents, three at the radius; x: 3/2 tangents' squares.
    const sigma = (degree: number): number => Math.sqrt(pose.stated.covariance[degree * 7]!);
    expect(sigma(2)).toBeCloseTo(u / Math.sqrt(3), 9);
    expect(sigma(5)).toBeCloseTo(u / (100 * Math.sqrt(3)), 12);
    expect(sigma(3)).toBeCloseTo(u / (100 * Math.sqrt(1.5)), 12);
  });

  it('has its weakest combination in words', () => {
    const balls = [...onPlane, ...onSides];
    const design = designFrom({
      part: { origin: ORIGIN, datums: DATUMS },
      references: balls,
      measurements: measured(balls).map((each) =>
        each.id === 'q1-x' ? { ...each, uncertainty: '300 um' } : each,
      ),
    });
    const { weakest, sigma } = partPose(design);
    expect(weakest!.words).toMatch(/^moving along x$/);
    expect(weakest!.sigma / sigma.x!).toBeCloseTo(1, 2);
  });

  it('books the seats of mounted references to their nests, common to all patches on one', () => {
    const design = designFrom({
      references: [
        { id: 'u', kind: 'ball', diameter: 12.7, at: [60, 0, 200] },
        { id: 'v', kind: 'ball', diameter: 12.7, at: [-30, 55, 200] },
        { id: 'w', kind: 'ball', diameter: 12.7, at: [-30, -55, 200] },
      ],
      patches: [
        pointPatch('u1', 'u', [40, 0]),
        pointPatch('u2', 'u', [52, 0]),
        pointPatch('v1', 'v', [-20, 36]),
        pointPatch('w1', 'w', [-20, -36]),
      ],
    });
    const { budget } = partPose(design);
    const nest = budget.terms.find(({ term }) => term === 'nest')!;
    // Three nests of 2.5/√3 µm each: their mean, no less for the fourth patch.
    expect(nest.by.x! / (2.5 / 3)).toBeGreaterThan(0.99);
    expect(budget.combined.x!).toBeGreaterThan(nest.by.x!);
  });
});

describe('Monte Carlo over exact rigid motions', () => {
  const design = designFrom({
    part: { origin: [5, -10, 900], rotation: [3, -4, 30], datums: DATUMS },
    references: [...onPlane.map((each) => ({ ...each, kind: 'smr' })), ...onSides],
    patches: [...onPlane, ...onSides].flatMap(({ id }, k) => {
      const angle = (k * Math.PI) / 3;
      const at = (radius: number, turn: number): [number, number] => [
        radius * Math.cos(angle + turn),
        radius * Math.sin(angle + turn),
      ];
      return [
        linePatch(`${id}-1`, id as string, at(60, 0.1), 10 + 30 * k),
        linePatch(`${id}-2`, id as string, at(60, -0.1), 80 + 30 * k),
        linePatch(`${id}-3`, id as string, at(35, 0), 140 + 30 * k),
      ];
    }),
    measurements: measured(onSides, '20 um'),
  });
  const pose = estimatePose(design);
  const TRIALS = 3000;

  it('spreads as the linear covariance says, term sources and noise together, within the sampling error', () => {
    expect(pose.free.motions).toEqual([]);
    const { frame } = design.scenario.part;
    const random = randomFrom('pose');
    const count = pose.readings.length;
    const truth = { translation: [0.012, -0.02, 0.03] as Vec3, rotation: [6e-5, -4e-5, 9e-5] as Vec3 };
    const exact = pose.readings.map(({ reference, direction }) => {
      const at = placeFromParent(frame, reference.at);
      return dot(rotateBack(frame.rotation, direction), exactMove(truth.translation, truth.rotation, at));
    });
    const sums = new Float64Array(6);
    const squares = new Float64Array(6);
    for (let trial = 0; trial < TRIALS; trial++) {
      const values = exact.map((value, k) => value + pose.readings[k]!.u * random.normal());
      for (const { distribution, u, effects } of pose.sources) {
        const error = draw(
          distribution === 'normal'
            ? { kind: 'normal', mean: 0, sigma: u }
            : { kind: 'rectangular', mean: 0, halfWidth: u * Math.sqrt(3) },
          random,
        );
        effects.at.forEach((reading, k) => {
          values[reading]! += effects.by[k]! * error;
        });
      }
      for (let degree = 0; degree < 6; degree++) {
        const found = values.reduce((sum, value, k) => sum + pose.full.gains[degree * count + k]! * value, 0);
        sums[degree]! += found;
        squares[degree]! += found * found;
      }
    }
    const expected = [...truth.translation, ...truth.rotation];
    for (let degree = 0; degree < 6; degree++) {
      const mean = sums[degree]! / TRIALS;
      const sigma = Math.sqrt((squares[degree]! - TRIALS * mean * mean) / (TRIALS - 1));
      const linear = Math.sqrt(pose.full.covariance[degree * 7]!);
      expect(Math.abs(sigma / linear - 1)).toBeLessThan(4 / Math.sqrt(2 * TRIALS));
      // Second order of a rotation of 1e-4 at 150 mm: some nanometres.
      expect(Math.abs(mean - expected[degree]!)).toBeLessThan((5 * linear) / Math.sqrt(TRIALS) + 1e-5);
    }
  });

  it('has all of its variance in the terms, and more with them than without', () => {
    for (let degree = 0; degree < 6; degree++) {
      const sum = [...pose.full.variances.values()].reduce((total, values) => total + values[degree]!, 0);
      expect(sum / pose.full.covariance[degree * 7]!).toBeCloseTo(1, 9);
      expect(pose.full.covariance[degree * 7]!).toBeGreaterThan(pose.stated.covariance[degree * 7]!);
    }
  });

  it('repeats itself to the last bit', () => {
    expect(JSON.stringify(partPose(design))).toBe(JSON.stringify(partPose(design)));
  });
});

/** T + (R − 1) r for the rotation by |θ| about θ, exactly (Rodrigues). */
function exactMove(translation: Vec3, rotation: Vec3, at: Vec3): Vec3 {
  const angle = Math.hypot(...rotation);
  const axis = rotation.map((part) => part / angle);
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const cross = [0, 1, 2].map(
    (k) => axis[(k + 1) % 3]! * at[(k + 2) % 3]! - axis[(k + 2) % 3]! * at[(k + 1) % 3]!,
  );
  const along = axis.reduce((sum, part, k) => sum + part * at[k]!, 0);
  return [0, 1, 2].map(
    (k) => translation[k]! + (c - 1) * at[k]! + s * cross[k]! + (1 - c) * along * axis[k]!,
  ) as unknown as Vec3;
}
