import { describe, expect, it } from 'vitest';
import { coverageFactor, logGamma, probabilityWithin } from '../../src/algebra/distributions.ts';
import { combine, effectiveDegreesOfFreedom } from '../../src/metrology/budget/budget.ts';
import { type Input, inputsFromObservations, propagate } from './support/gum-model.ts';

/** JCGM 100:2008, H.1: a gauge block against a standard, mm and nm as its tables have them. Values found in the document. */
const END_GAUGE: readonly Input[] = [
  { name: 'l_S', value: 50.000623, u: 25e-6, degreesOfFreedom: 18 },
  { name: 'd', value: 215e-6, u: 9.7e-6, degreesOfFreedom: 25.6 },
  { name: 'α_S', value: 11.5e-6, u: 1.2e-6 },
  { name: 'θ', value: -0.1, u: 0.41 },
  { name: 'δα', value: 0, u: 0.58e-6, degreesOfFreedom: 50 },
  { name: 'δθ', value: 0, u: 0.029, degreesOfFreedom: 2 },
];
const endGauge = ([standard, d, alpha, theta, dAlpha, dTheta]: readonly number[]): number =>
  standard! + d! - standard! * (dAlpha! * theta! + alpha! * dTheta!);
const NM_PER_MM = 1e6;

describe('JCGM 100, H.1: end-gauge calibration', () => {
  const budget = propagate(endGauge, END_GAUGE, { coverage: 0.99 });

  it('gives 50.000838 mm with terms of 25, 9.7, 2.9 and 16.7 nm, largest first', () => {
    expect(budget.value).toBeCloseTo(50.000838, 9);
    const terms = budget.contributions.map(
      ({ name, contribution }) => [name, contribution * NM_PER_MM] as const,
    );
    expect(terms.map(([name]) => name)).toEqual(['l_S', 'δθ', 'd', 'δα', 'α_S', 'θ']);
    [25, 16.7, 9.7, 2.9, 0, 0].forEach((printed, k) => {
      expect(Math.abs(terms[k]![1] - printed)).toBeLessThan(0.05);
    });
  });

  it('combines them to 31.711 nm, printed as 32, with 16.656 degrees of freedom', () => {
    expect(budget.combined * NM_PER_MM).toBeCloseTo(31.711, 3);
    expect(Math.round(budget.combined * NM_PER_MM)).toBe(32);
    expect(budget.effectiveDegreesOfFreedom).toBeCloseTo(16.656, 3);
  });

  it('would have 17.47 from the figures as rounded for print', () => {
    const rounded = [
      [25, 18],
      [9.7, 25.6],
      [2.9, 50],
      [16.6, 2],
    ].map(([contribution, degreesOfFreedom]) => ({
      contribution: contribution!,
      degreesOfFreedom: degreesOfFreedom!,
    }));
    expect(effectiveDegreesOfFreedom(32, rounded)).toBeCloseTo(17.47, 2);
  });

  it('expands to 93 nm at 99 %, with t = 2.92', () => {
    expect(budget.coverageFactor).toBeCloseTo(2.92, 2);
    expect(Math.round(budget.expanded * NM_PER_MM)).toBe(93);
  });

  it('grows to 34 nm with the terms of second order', () => {
    const { combined } = propagate(endGauge, END_GAUGE, { secondOrder: true });
    expect(Math.round(combined * NM_PER_MM)).toBe(34);
    // The two products of the document's note, in closed form.
    const closed = Math.hypot(budget.combined, 50.000623 * 0.58e-6 * 0.41, 50.000623 * 1.2e-6 * 0.029);
    expect(combined).toBeCloseTo(closed, 12);
    // Printed as 34 nm (from memory); recomputed elsewhere as 33.85 nm from inputs rounded at another place.
    expect(Math.abs(combined * NM_PER_MM - 33.85)).toBeLessThan(0.1);
  });
});

describe('JCGM 100, H.2: simultaneous resistance and reactance', () => {
  // Volts, milliamperes, radians: five sets of simultaneous observations, found in the document.
  const { inputs, correlations } = inputsFromObservations({
    V: [5.007, 4.994, 5.005, 4.99, 4.999],
    I: [19.663, 19.639, 19.64, 19.685, 19.678].map((mA) => mA / 1000),
    φ: [1.0456, 1.0438, 1.0468, 1.0428, 1.0433],
  });

  it.each([
    ['V', 'I', -0.355],
    ['V', 'φ', 0.858],
    ['I', 'φ', -0.645],
  ])('r(%s, %s) = %f', (one, other, printed) => {
    const found = correlations.find(({ between }) => between[0] === one && between[1] === other)!;
    expect(found.r).toBeCloseTo(printed, 3);
  });

  it.each([
    ['R', (v: number, i: number, phi: number) => (v / i) * Math.cos(phi), 127.732, 0.07107],
    ['X', (v: number, i: number, phi: number) => (v / i) * Math.sin(phi), 219.847, 0.29558],
    ['Z', (v: number, i: number) => v / i, 254.26, 0.23634],
  ])('%s with its uncertainty', (_name, formula, value, u) => {
    const budget = propagate(([v, i, phi]) => formula(v!, i!, phi!), inputs, { correlations });
    expect(budget.value).toBeCloseTo(value, 3);
    expect(budget.combined).toBeCloseTo(u, 5);
  });
});

describe('budget', () => {
  it('has 12.8 degrees of freedom for .57 (ν 9) with .25 (∞)', () => {
    const terms = [
      { contribution: 0.57, degreesOfFreedom: 9 },
      { contribution: 0.25, degreesOfFreedom: Number.POSITIVE_INFINITY },
    ];
    expect(effectiveDegreesOfFreedom(Math.hypot(0.57, 0.25), terms)).toBeCloseTo(12.8, 1);
  });

  it('adds perfectly correlated terms as lengths, and lets opposite ones cancel', () => {
    const terms = ['a', 'b'].map((name) => ({
      name,
      u: 3,
      degreesOfFreedom: Number.POSITIVE_INFINITY,
      sensitivity: 1,
      contribution: 3,
    }));
    expect(combine(0, terms, [{ between: ['a', 'b'], r: 1 }]).combined).toBeCloseTo(6, 14);
    expect(combine(0, terms, [{ between: ['a', 'b'], r: -1 }]).combined).toBe(0);
    expect(combine(0, terms).combined).toBeCloseTo(Math.sqrt(18), 14);
  });

  it('takes sensitivities in closed form where they are given', () => {
    const inputs = [{ name: 'x', value: 2, u: 0.1 }];
    const given = propagate(([x]) => x! ** 3, inputs, { sensitivities: [12] });
    const differenced = propagate(([x]) => x! ** 3, inputs);
    expect(given.combined).toBeCloseTo(1.2, 14);
    expect(differenced.combined).toBeCloseTo(given.combined, 4);
  });

  it.each([
    ['a negative uncertainty', [{ name: 'x', value: 0, u: -1 }], {}, /uncertainty of x is -1/],
    ['a name used twice', ['x', 'x'].map((name) => ({ name, value: 0, u: 1 })), {}, /same name/],
    ['no degrees of freedom', [{ name: 'x', value: 0, u: 1, degreesOfFreedom: 0 }], {}, /above 0/],
    [
      'a correlation with nothing',
      [{ name: 'x', value: 0, u: 1 }],
      { correlations: [{ between: ['x', 'y'] as const, r: 0.5 }] },
      /names y/,
    ],
  ])('refuses %s', (_what, inputs, options, message) => {
    expect(() => propagate(([x]) => x!, inputs, options)).toThrow(message);
  });
});

describe('Student’s t', () => {
  // JCGM 100, table G.2.
  it.each([
    [0.6827, 1, 1.84],
    [0.95, 1, 12.71],
    [0.99, 1, 63.66],
    [0.9973, 1, 235.8],
    [0.95, 10, 2.23],
    [0.99, 16, 2.92],
    [0.95, 20, 2.09],
    [0.9973, 50, 3.16],
    [0.95, Number.POSITIVE_INFINITY, 1.96],
    [0.99, Number.POSITIVE_INFINITY, 2.576],
  ])('covers %f with %d degrees of freedom at t = %f', (probability, nu, t) => {
    const digits = t > 100 ? 1 : t === 2.576 ? 3 : 2;
    expect(coverageFactor(probability, nu)).toBeCloseTo(t, digits);
  });

  it('comes near the normal distribution for many degrees of freedom', () => {
    for (const t of [0.3, 1, 2.4, 3, 4.5]) {
      expect(probabilityWithin(t, 1e7)).toBeCloseTo(probabilityWithin(t, Number.POSITIVE_INFINITY), 6);
    }
    expect(probabilityWithin(1, Number.POSITIVE_INFINITY)).toBeCloseTo(0.682689492137086, 14);
    expect(probabilityWithin(3, Number.POSITIVE_INFINITY)).toBeCloseTo(0.99730020393674, 14);
  });

  it('is Cauchy’s (2/π) arctan t for one degree of freedom', () => {
    for (const t of [0.01, 0.7, 3, 250]) {
      expect(probabilityWithin(t, 1)).toBeCloseTo((2 / Math.PI) * Math.atan(t), 13);
    }
  });

  it('rests on a gamma function that is a factorial', () => {
    let factorial = 0;
    for (let n = 1; n < 40; n++) {
      factorial += n > 1 ? Math.log(n - 1) : 0;
      expect(Math.abs(logGamma(n) - factorial)).toBeLessThan(1e-12 * Math.max(1, factorial));
    }
    expect(logGamma(0.5)).toBeCloseTo(Math.log(Math.PI) / 2, 14);
  });
});
