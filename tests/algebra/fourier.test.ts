import { describe, expect, it } from 'vitest';
import {
  type ComplexArray,
  complexArray,
  FourierPlan,
  frequencyOf,
  transformColumns,
  transformRows,
} from '../../src/algebra/fourier.ts';

/** Any samples, the same on every run. */
function samples(length: number): ComplexArray {
  const data = complexArray(length);
  for (let i = 0; i < length; i++) {
    data.re[i] = Math.sin(1 + i * i);
    data.im[i] = Math.cos(3 * i + 0.5);
  }
  return data;
}

/** By the sum itself. */
function slowly({ re, im }: ComplexArray): ComplexArray {
  const n = re.length;
  const out = complexArray(n);
  for (let k = 0; k < n; k++) {
    for (let i = 0; i < n; i++) {
      const angle = (-2 * Math.PI * ((i * k) % n)) / n;
      out.re[k] += re[i] * Math.cos(angle) - im[i] * Math.sin(angle);
      out.im[k] += re[i] * Math.sin(angle) + im[i] * Math.cos(angle);
    }
  }
  return out;
}

const gap = (a: ComplexArray, b: ComplexArray): number =>
  Math.max(...a.re.map((value, i) => Math.hypot(value - b.re[i], a.im[i] - b.im[i])));

describe('FourierPlan', () => {
  it.each([2, 4, 8, 64, 512])(
    'of %i samples is the sum that defines it, and undone by its inverse',
    (length) => {
      const plan = new FourierPlan(length);
      const data = samples(length);
      plan.forward(data);
      expect(gap(data, slowly(samples(length)))).toBeLessThan(1e-12 * length);
      plan.inverse(data);
      expect(gap(data, samples(length))).toBeLessThan(1e-14 * length);
    },
  );

  it('keeps the energy (Parseval)', () => {
    const energy = ({ re, im }: ComplexArray) =>
      re.reduce((sum, value, i) => sum + value ** 2 + im[i] ** 2, 0);
    const data = samples(4096);
    const before = energy(data);
    new FourierPlan(4096).forward(data);
    expect(energy(data) / 4096 / before).toBeCloseTo(1, 12);
  });

  it.each([0, 1, 3, 12, 2.5])('refuses %f samples', (length) => {
    expect(() => new FourierPlan(length)).toThrow('power of two');
  });
});

it('transforms rows and columns of a plane: a wave along each becomes one point', () => {
  const [columns, rows] = [16, 8];
  const data = complexArray(columns * rows);
  for (let y = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++) {
      const angle = 2 * Math.PI * ((3 * x) / columns - (2 * y) / rows);
      data.re[y * columns + x] = Math.cos(angle);
      data.im[y * columns + x] = Math.sin(angle);
    }
  }
  transformRows(new FourierPlan(columns), data, rows, 'forward');
  transformColumns(new FourierPlan(rows), data, columns, 'forward');
  const peak = 6 * columns + 3;
  expect(frequencyOf(6, rows, 0.5)).toBeCloseTo(-2 / (rows * 0.5), 15);
  data.re.forEach((value, i) => {
    expect(Math.hypot(value, data.im[i])).toBeCloseTo(i === peak ? columns * rows : 0, 10);
  });
});
