/**
 * The weighted rigid motion against a published example, two solvers of another kind, drawn data and exact data; what it refuses.
 */
import { Matrix, SingularValueDecomposition, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { type Random, randomFrom } from '../../src/algebra/random.ts';
import {
  type Frame,
  type Mat3,
  placeToParent,
  rotate,
  rotationFromAngles,
  rotationFromVector,
} from '../../src/geometry/frame.ts';
import { distance, subtract, type Vec3 } from '../../src/geometry/vector.ts';
import { outliersOf, register } from '../../src/metrology/transfer/registration.ts';
import type { RegistrationPoint } from '../../src/metrology/transfer/registration-points.ts';
import { mixUp, refusal } from '../../src/metrology/transfer/registration-refusals.ts';
import { bestRotation, rigidStart } from '../../src/metrology/transfer/registration-start.ts';
import '../machine/patience.ts';

const ABOUT: Frame = { origin: [20, -30, 950], rotation: rotationFromAngles([0.1, -0.2, 0.3]) };
const TRUTH: Frame = { origin: [1500, -2200, 300], rotation: rotationFromAngles([0.3, 1.2, -0.7]) };
const PLACES: readonly Vec3[] = [
  [180, 150, 1000],
  [-180, 150, 900],
  [-180, -150, 1000],
  [180, -150, 1100],
  [10, 240, 1300],
];

const diagonal = (x: number, y: number, z: number): Float64Array =>
  Float64Array.of(x * x, 0, 0, 0, y * y, 0, 0, 0, z * z);

/** A point whose covariance is a long thin ellipsoid, lying as its number has it. */
function ellipsoid(k: number): {
  readonly covariance: Float64Array;
  readonly draw: (random: Random) => Vec3;
} {
  const turn = rotationFromAngles([0.4 * k, 1.1 - 0.3 * k, 0.7 * k]);
  const axes: readonly number[] = [0.005, 0.02 + 0.01 * k, 0.05];
  const covariance = new Float64Array(9);
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++)
      for (let a = 0; a < 3; a++) covariance[i * 3 + j]! += turn[i]![a]! * turn[j]![a]! * axes[a]! ** 2;
  return {
    covariance,
    draw: (random) =>
      rotate(turn, [axes[0]! * random.normal(), axes[1]! * random.normal(), axes[2]! * random.normal()]),
  };
}

const point = (
  design: Vec3,
  measured: Vec3,
  k: number,
  covariance: Float64Array,
  place = new Float64Array(9),
): RegistrationPoint => {
  return {
    name: `p${k + 1}`,
    design,
    measured,
    measuredCovariance: covariance,
    placeCovariance: place,
    byEye: [],
  };
};

const drawn = (random: Random): readonly RegistrationPoint[] =>
  PLACES.map((design, k) => {
    const { covariance, draw } = ellipsoid(k);
    const noise = draw(random);
    const at = placeToParent(TRUTH, design);
    return point(design, [at[0] + noise[0], at[1] + noise[1], at[2] + noise[2]], k, covariance);
  });

const largest = (a: Mat3, b: Mat3): number =>
  Math.max(...a.flatMap((row, i) => row.map((entry, j) => Math.abs(entry - b[i]![j]!))));

describe('the closed form', () => {
  it('gives the example of SciPy’s documentation, Rotation.align_vectors', () => {
    const a: Vec3[] = [
      [0, 1, 0],
      [0, 1, 1],
      [0, 1, 1],
    ];
    const b: Vec3[] = [
      [1, 0, 0],
      [1, 1.1, 0],
      [1, 0.9, 0],
    ];
    const rotation = bestRotation(b, a);
    expect(
      largest(rotation, [
        [0, 0, 1],
        [1, 0, 0],
        [0, 1, 0],
      ]),
    ).toBeLessThan(1e-12);
    const rssd = Math.hypot(...a.map((to, k) => distance(to, rotate(rotation, b[k]!))));
    expect(rssd).toBeCloseTo(0.141421356237308, 12);
  });

  it('agrees with singular values (W. Kabsch, Acta Cryst. A 32, 922, 1976) to 1e-9, mirror images aside', () => {
    const random = randomFrom('kabsch');
    for (let trial = 0; trial < 200; trial++) {
      const from = PLACES.map((): Vec3 => [random.normal(), random.normal(), random.normal()]);
      const to = PLACES.map((): Vec3 => [random.normal(), random.normal(), random.normal()]);
      expect(largest(bestRotation(from, to), kabsch(from, to))).toBeLessThan(1e-9);
    }
  });
});

function kabsch(from: readonly Vec3[], to: readonly Vec3[]): Mat3 {
  const h = new Matrix(
    [0, 1, 2].map((i) => [0, 1, 2].map((j) => to.reduce((sum, b, k) => sum + b[i]! * from[k]![j]!, 0))),
  );
  const { leftSingularVectors: u, rightSingularVectors: v, diagonal: d } = new SingularValueDecomposition(h);
  const smallest = d.indexOf(Math.min(...d));
  const sign = Math.sign(determinant(u) * determinant(v));
  const s = Matrix.diag([0, 1, 2].map((k) => (k === smallest ? sign : 1)));
  return u.mmul(s).mmul(v.transpose()).to2DArray() as unknown as Mat3;
}

const determinant = (m: Matrix): number => {
  const [a, b, c] = m.to2DArray() as [number[], number[], number[]];
  return (
    a[0]! * (b[1]! * c[2]! - b[2]! * c[1]!) -
    a[1]! * (b[0]! * c[2]! - b[2]! * c[0]!) +
    a[2]! * (b[0]! * c[1]! - b[1]! * c[0]!)
  );
};

/** Newton’s method on ½ Σ eᵀC⁻¹e by finite differences over Euler angles and the translation: nothing shared with the code but the data. */
function byDifferences(points: readonly RegistrationPoint[]): Frame {
  const weights = points.map(
    ({ measuredCovariance: c }) => new Matrix([[...c.slice(0, 3)], [...c.slice(3, 6)], [...c.slice(6)]]),
  );
  const inverses = weights.map((w) => solve(w, Matrix.eye(3)).to2DArray());
  const middle = PLACES[0]!;
  const frameOf = (x: readonly number[]): Frame => {
    const rotation = rotationFromAngles([x[3]!, x[4]!, x[5]!]);
    return { rotation, origin: subtract([x[0]!, x[1]!, x[2]!], rotate(rotation, middle)) };
  };
  const residuals = (x: readonly number[]): number[] =>
    points.flatMap(({ design, measured }) => [...subtract(measured, placeToParent(frameOf(x), design))]);
  const start = placeToParent(TRUTH, middle);
  let x: number[] = [...start, 0.3, 1.2, -0.7];
  for (let step = 0; step < 30; step++) {
    const e = residuals(x);
    // Central differences; residuals are linear in the translation and nearly so in the angles.
    const jacobian = x.map((_, k) => {
      const h = k < 3 ? 1 : 1e-4;
      const at = (by: number): number[] => residuals(x.map((value, i) => (i === k ? value + by : value)));
      const [p1, m1, p2, m2] = [at(h), at(-h), at(2 * h), at(-2 * h)];
      return e.map((_, i) => (8 * (p1[i]! - m1[i]!) - (p2[i]! - m2[i]!)) / (12 * h));
    });
    const weighted = jacobian.map((column) =>
      column.map((_, i) => {
        const w = inverses[Math.floor(i / 3)]!;
        const base = 3 * Math.floor(i / 3);
        return [0, 1, 2].reduce((sum, j) => sum + w[i % 3]![j]! * column[base + j]!, 0);
      }),
    );
    const normal = new Matrix(
      weighted.map((a) => jacobian.map((b) => a.reduce((sum, value, i) => sum + value * b[i]!, 0))),
    );
    const right = Matrix.columnVector(
      weighted.map((a) => -a.reduce((sum, value, i) => sum + value * e[i]!, 0)),
    );
    const change = solve(normal, right).to1DArray();
    x = x.map((value, k) => value + change[k]!);
  }
  return frameOf(x);
}

describe('the weighted motion', () => {
  it('agrees with a solver by finite differences to 1e-9, rotation and places', () => {
    const random = randomFrom('ellipsoids');
    for (let trial = 0; trial < 5; trial++) {
      const points = drawn(random);
      const { toTracker } = register(points, ABOUT);
      const other = byDifferences(points);
      expect(largest(toTracker.rotation, other.rotation)).toBeLessThan(1e-9);
      for (const place of PLACES)
        expect(distance(placeToParent(toTracker, place), placeToParent(other, place)) / 3000).toBeLessThan(
          1e-9,
        );
    }
  });

  it('is the closed form where all weigh alike', () => {
    const points = drawn(randomFrom('alike')).map((each) => ({
      ...each,
      measuredCovariance: diagonal(0.02, 0.02, 0.02),
    }));
    const { toTracker } = register(points, ABOUT);
    const { motion } = rigidStart(
      PLACES,
      points.map(({ measured }) => measured),
    );
    expect(largest(toTracker.rotation, motion.rotation)).toBeLessThan(1e-12);
    expect(distance(toTracker.origin, motion.origin)).toBeLessThan(1e-9);
  });

  it('covers the truth as its covariance says, and names no good point oftener than stated', () => {
    const random = randomFrom('coverage');
    const trials = 1500;
    let [within95, blamed, contradictory] = [0, 0, 0];
    let squares = 0;
    for (let trial = 0; trial < trials; trial++) {
      const registration = register(drawn(random), ABOUT);
      // The truth as a small motion of the design places: three points of it are enough to tell T and θ.
      const error = smallMotion(registration.toTracker);
      squares += mahalanobis(error, registration.covariance) / trials;
      within95 += +(mahalanobis(error, registration.covariance) < 12.591587); // χ²₀.₉₅ of 6: A&S table 26.8, from memory
      blamed += outliersOf(registration).length;
      contradictory += +registration.contradictory;
    }
    // Five standard errors of a share p: 5 √(p(1 − p)/n); of the mean of χ²: 5 √(2ν/n).
    expect(Math.abs(within95 / trials - 0.95)).toBeLessThan(5 * Math.sqrt((0.95 * 0.05) / trials));
    expect(Math.abs(squares - 6)).toBeLessThan(5 * Math.sqrt(12 / trials));
    expect(contradictory / trials).toBeLessThan(0.001 + 5 * Math.sqrt(0.001 / trials));
    expect(blamed / trials / PLACES.length).toBeLessThan(
      0.001 + 5 * Math.sqrt(0.001 / trials / PLACES.length),
    );
  });

  it.each([0, 1, 2, 3, 4])('names point %i where it alone is off', (wrong) => {
    const points = drawn(randomFrom('outlier')).map((each, k) =>
      k === wrong ? { ...each, measured: subtract(each.measured, [0.9, -0.7, 0.8]) } : each,
    );
    const registration = register(points, ABOUT);
    expect(registration.contradictory).toBe(true);
    expect(outliersOf(registration)[0]).toBe(wrong);
  });

  it('gives a place set by eye next to no weight along the way it was', () => {
    const random = randomFrom('by eye');
    const points = drawn(random).map((each, k) => {
      if (k !== 2) return each;
      const off = rotate(TRUTH.rotation, [0, 0, 1]);
      return { ...each, measured: subtract(each.measured, off), placeCovariance: diagonal(1e-4, 1e-4, 0.6) };
    });
    const { covariance, toTracker } = register(points, ABOUT);
    expect(mahalanobis(smallMotion(toTracker), covariance)).toBeLessThan(22.46); // χ² of 6 at 0.1 %, from memory
  });
});

/** T and θ of the truth as seen from the estimate: estimate ∘ F ∘ [T, θ] = truth ∘ F. */
function smallMotion(estimate: Frame): readonly number[] {
  const mapped = (place: Vec3): Vec3 => {
    const inTracker = placeToParent(TRUTH, placeToParent(ABOUT, place));
    const back = rotateBackFrom(estimate, inTracker);
    return rotateBackFrom(ABOUT, back);
  };
  const origin = mapped([0, 0, 0]);
  const lever = 1000;
  const [x, y] = [subtract(mapped([lever, 0, 0]), origin), subtract(mapped([0, lever, 0]), origin)];
  return [...origin, y[2] / lever, -x[2] / lever, x[1] / lever];
}

const rotateBackFrom = ({ origin, rotation }: Frame, place: Vec3): Vec3 => {
  const v = subtract(place, origin);
  return [0, 1, 2].map(
    (j) => rotation[0][j]! * v[0] + rotation[1][j]! * v[1] + rotation[2][j]! * v[2],
  ) as unknown as Vec3;
};

function mahalanobis(error: readonly number[], covariance: Float64Array): number {
  // mm and rad differ by the lever: scaled first, so that the solution keeps its digits.
  const scale = [1, 1, 1, 300, 300, 300];
  const c = new Matrix(scale.map((a, i) => scale.map((b, j) => a * b * covariance[i * 6 + j]!)));
  const e = Matrix.columnVector(error.map((value, k) => value * scale[k]!));
  return e.transpose().mmul(solve(c, e)).get(0, 0);
}

describe('points that give no motion', () => {
  const exact = (
    places: readonly Vec3[],
    carry: (place: Vec3) => Vec3 = (place) => placeToParent(TRUTH, place),
  ) => places.map((design, k) => point(design, carry(design), k, diagonal(0.01, 0.01, 0.01)));

  it.each([
    ['two points', PLACES.slice(0, 2), /are only 2 \(p1, p2\).*line through them/],
    ['one point', PLACES.slice(0, 1), /are only 1 \(p1\)/],
    [
      'points on a line',
      [0, 1, 2, 3].map((k): Vec3 => [10 + 40 * k, 20 - 30 * k, 900 + 5 * k]),
      /on one line by design/,
    ],
    ['one place', [0, 1, 2].map((): Vec3 => [1, 2, 900]), /all coincide/],
  ])('are refused: %s', (_, places, message) => {
    const finding = refusal(exact(places), 'the points');
    expect(finding).toMatchObject({ severity: 'error', rule: 'degenerate-points' });
    expect(finding!.message).toMatch(message);
  });

  it('are not refused where they do', () => {
    const points = drawn(randomFrom('good'));
    expect(refusal(points, 'the points')).toBeUndefined();
    expect(mixUp(points, 'the points')).toBeUndefined();
  });

  const carried = (place: Vec3): Vec3 => placeToParent(TRUTH, place);
  it.each([
    ['x and y swapped', ([x, y, z]: Vec3): Vec3 => [y, x, z], 'mirrored-points', /two axes are swapped/],
    ['z counted down', ([x, y, z]: Vec3): Vec3 => [x, y, -z], 'mirrored-points', /mirror image/],
    ['inches', ([x, y, z]: Vec3): Vec3 => [x / 25.4, y / 25.4, z / 25.4], 'mixed-units', /inches/],
    [
      'millimetres taken for inches',
      ([x, y, z]: Vec3): Vec3 => [x * 25.4, y * 25.4, z * 25.4],
      'mixed-units',
      /multiplied by 25\.4/,
    ],
    ['metres', ([x, y, z]: Vec3): Vec3 => [x / 1000, y / 1000, z / 1000], 'mixed-units', /metres/],
    [
      'angles from the zenith',
      ([x, y, z]: Vec3): Vec3 => {
        const [range, azimuth] = [Math.hypot(x, y, z), Math.atan2(y, x)];
        const elevation = Math.PI / 2 - Math.asin(z / range);
        return [
          range * Math.cos(elevation) * Math.cos(azimuth),
          range * Math.cos(elevation) * Math.sin(azimuth),
          range * Math.sin(elevation),
        ];
      },
      'mirrored-points',
      /zenith/,
    ],
  ])('name the slip: %s', (_, slip, rule, message) => {
    const finding = mixUp(
      exact(PLACES, (place) => slip(carried(place))),
      'the points',
    );
    expect(finding).toMatchObject({ rule });
    expect(finding!.message).toMatch(message);
  });

  it.each([
    ['axes turned in a ring, which is a rotation', ([x, y, z]: Vec3): Vec3 => [z, x, y]],
    ['turned half round', ([x, y, z]: Vec3): Vec3 => [-x, -y, z]],
    ['a small rotation', (place: Vec3): Vec3 => rotate(rotationFromVector([1e-3, 2e-3, 3e-3]), place)],
  ])('find no slip in %s', (_, turn) => {
    expect(
      mixUp(
        exact(PLACES, (place) => turn(carried(place))),
        'the points',
      ),
    ).toBeUndefined();
  });
});
