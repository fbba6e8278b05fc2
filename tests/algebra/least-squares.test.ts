import { describe, expect, it, test } from 'vitest';
import {
  type LeastSquaresOptions,
  leastSquaresOf,
  solveLeastSquares,
} from '../../src/algebra/least-squares.ts';
import { randomFrom } from '../../src/algebra/random.ts';
import strd from './data/nist-strd.json' with { type: 'json' };

interface Certified {
  readonly name: string;
  readonly rows: readonly (readonly number[])[];
  readonly values: readonly number[];
  readonly beta: readonly number[];
  readonly sd: readonly number[] | undefined;
  readonly residualSd: number | undefined;
  /** Least log relative error demanded of the plain factorisation and of the refined one. */
  readonly digits: readonly [plain: number, refined: number];
}

const powers = (x: number, highest: number): number[] => {
  const row = [1];
  for (let power = 1; power <= highest; power++) row.push(row[power - 1]! * x);
  return row;
};

const { longley, wampler, filip } = strd;
const wamplerRows = wampler.x.map((x) => powers(x, 5));
const wamplerSet = (
  name: string,
  values: readonly number[],
  beta: readonly number[],
  digits: readonly [number, number],
  sdScale?: number,
): Certified => ({
  name,
  rows: wamplerRows,
  values,
  beta,
  digits,
  sd: sdScale === undefined ? undefined : wampler.sd3.map((sd) => sd * sdScale),
  residualSd: sdScale === undefined ? undefined : wampler.residualSd3 * sdScale,
});

// Wampler 1, 3, 4, 5 and Longley are whole numbers or short decimals; Wampler 2's values and Filip's powers of x are
// rounded on the way into the system, which bounds what any solver can give.
// Wampler 4 and 5 are Wampler 3 with a hundred and ten thousand times its deviations from the polynomial.
const CERTIFIED: readonly Certified[] = [
  {
    name: 'Longley',
    rows: longley.rows.map(([, ...x]) => [1, ...x]),
    values: longley.rows.map(([y]) => y!),
    beta: longley.beta,
    sd: longley.sd,
    residualSd: longley.residualSd,
    digits: [11, 14],
  },
  wamplerSet('Wampler 1', wampler.y1, wampler.beta1345, [9, 15]),
  wamplerSet('Wampler 2', wampler.y2, wampler.beta2, [12, 14]),
  wamplerSet('Wampler 3', wampler.y3, wampler.beta1345, [9, 15], 1),
  wamplerSet('Wampler 4', wampler.y4, wampler.beta1345, [8, 15], 100),
  wamplerSet('Wampler 5', wampler.y5, wampler.beta1345, [6, 15], 10000),
  {
    name: 'Filip',
    rows: filip.x.map((x) => powers(x, 10)),
    values: filip.y,
    beta: filip.beta,
    sd: filip.sd,
    residualSd: filip.residualSd,
    digits: [7, 7],
  },
];

const logRelativeError = (found: number, certified: number): number =>
  Math.min(15, -Math.log10(Math.abs(found - certified) / Math.abs(certified)));

const flat = (rows: readonly (readonly number[])[]): Float64Array => Float64Array.from(rows.flat());

function solve(
  rows: readonly (readonly number[])[],
  values: readonly number[],
  options?: LeastSquaresOptions,
) {
  return solveLeastSquares(flat(rows), rows[0]!.length, Float64Array.from(values), options);
}

const sumOfSquares = (values: Float64Array): number => values.reduce((sum, value) => sum + value * value, 0);

describe('NIST Statistical Reference Datasets, linear least squares', () => {
  it.each(CERTIFIED)(
    '$name: coefficients to $digits digits, plain and refined',
    ({ rows, values, beta, digits }) => {
      for (const [steps, demanded] of [
        [0, digits[0]],
        [3, digits[1]],
      ] as const) {
        const { solution, rank } = solve(rows, values, { refinementSteps: steps });
        expect(rank).toBe(beta.length);
        const least = Math.min(...beta.map((certified, k) => logRelativeError(solution[k]!, certified)));
        expect(least).toBeGreaterThanOrEqual(demanded);
      }
    },
  );

  it.each(CERTIFIED.filter((set) => set.sd !== undefined))(
    '$name: standard deviations and the residual one',
    ({ rows, values, sd, residualSd }) => {
      const n = sd!.length;
      const { residuals, covarianceFactor } = solve(rows, values, { refinementSteps: 3 });
      const s = Math.sqrt(sumOfSquares(residuals) / (rows.length - n));
      expect(logRelativeError(s, residualSd!)).toBeGreaterThanOrEqual(7);
      for (let k = 0; k < n; k++) {
        const found = s * Math.sqrt(sumOfSquares(covarianceFactor.subarray(k * n, (k + 1) * n)));
        expect(logRelativeError(found, sd![k]!)).toBeGreaterThanOrEqual(7);
      }
    },
  );
});

describe('least squares', () => {
  const random = randomFrom('least squares');
  const rows = Array.from({ length: 30 }, () => Array.from({ length: 5 }, () => random.normal()));
  const values = rows.map(() => random.normal());

  it('leaves weighted residuals square to every column', () => {
    const weights = Float64Array.from(rows, () => 0.1 + random.uniform());
    const { residuals } = solve(rows, values, { weights });
    for (let column = 0; column < 5; column++) {
      const dot = rows.reduce((sum, row, k) => sum + row[column]! * residuals[k]! * weights[k]! ** 2, 0);
      expect(Math.abs(dot)).toBeLessThan(1e-13);
    }
  });

  it('gives a covariance factor whose product is the inverse of AᵀW²A', () => {
    const weights = Float64Array.from(rows, (_, k) => 1 + k);
    const { covarianceFactor: f } = solve(rows, values, { weights });
    for (let i = 0; i < 5; i++) {
      for (let j = 0; j < 5; j++) {
        let product = 0;
        for (let k = 0; k < 5; k++) {
          const normal = rows.reduce((sum, row, at) => sum + row[i]! * row[k]! * weights[at]! ** 2, 0);
          let covariance = 0;
          for (let l = 0; l < 5; l++) covariance += f[k * 5 + l]! * f[j * 5 + l]!;
          product += normal * covariance;
        }
        expect(product).toBeCloseTo(i === j ? 1 : 0, 11);
      }
    }
  });

  it('finds the rank, leaves what it cannot know at 0, and bounds none of it', () => {
    const deficient = rows.map((row) => [row[0]!, row[1]!, row[0]! - 2 * row[1]!, row[3]!, 0]);
    const found = solve(deficient, values);
    expect(found.rank).toBe(3);
    const unknown = [0, 1, 2, 3, 4].filter((k) => Number.isNaN(found.covarianceFactor[k * 5]!));
    expect(unknown).toHaveLength(2);
    expect(unknown.map((k) => found.solution[k])).toEqual([0, 0]);
    const full = solve(
      rows.map((row) => [row[0]!, row[1]!, row[3]!]),
      values,
    );
    expect(sumOfSquares(found.residuals)).toBeCloseTo(sumOfSquares(full.residuals), 10);
  });

  it('counts a column of rounding noise as empty only where columns keep their scale', () => {
    const noisy = rows.map((row, k) => [row[0]!, 1e-18 * row[1]! * (k % 2)]);
    expect(solve(noisy, values, { scaleColumns: false }).rank).toBe(1);
    expect(solve(noisy, values).rank).toBe(2);
  });

  it('takes fewer rows than unknowns as short of rank', () => {
    expect(solve([[1, 2, 3]], [6]).rank).toBe(1);
    expect(solve([[0, 0]], [1]).rank).toBe(0);
  });

  it('survives entries near the limits of a double', () => {
    const big = rows.map((row) => row.map((entry) => entry * 1e200));
    const { solution } = solve(big, values, { scaleColumns: false });
    const plain = solve(rows, values).solution;
    solution.forEach((value, k) => {
      expect(value * 1e200).toBeCloseTo(plain[k]!, 12);
    });
  });

  it('refuses sizes that do not fit and entries that are not finite', () => {
    expect(() => solveLeastSquares(new Float64Array(5), 2, new Float64Array(2))).toThrow(
      /5 entries.*2 rows of 2/,
    );
    expect(() => solve([[1], [Number.NaN]], [1, 2])).toThrow(/finite/);
    expect(() => solve([[1], [2]], [1, 2], { weights: new Float64Array(1) })).toThrow(/1 weights for 2 rows/);
  });
});

test('a matrix factorised once gives for each of many right sides what the solution by hand is, whatever was solved before', () => {
  // y = a + b x at x = −1, 0, 1 with weights 1, 2, 1: a = (y₁ + 4y₂ + y₃)/6, b = (y₃ − y₁)/2.
  const solve = leastSquaresOf(Float64Array.of(1, -1, 1, 0, 1, 1), 2, 3, {
    weights: Float64Array.of(1, 2, 1),
  });
  for (const [one, two, three] of [
    [1, 2, 4],
    [-5, 0.5, 3],
    [1, 2, 4],
  ] as const) {
    const { solution, residuals } = solve(Float64Array.of(one, two, three));
    const [a, b] = [(one + 4 * two + three) / 6, (three - one) / 2];
    expect(solution[0]).toBeCloseTo(a, 12);
    expect(solution[1]).toBeCloseTo(b, 12);
    expect(residuals[2]).toBeCloseTo(three - a - b, 12);
  }
  expect(() => solve(Float64Array.of(1, 2))).toThrow('2 values for 3 rows');
  expect(() => solve(Float64Array.of(1, 2, Number.NaN))).toThrow('not a finite number');
});
