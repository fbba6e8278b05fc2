import { describe, expect, it } from 'vitest';
import {
  convergentLength,
  emptyField,
  type Field,
  fromFocus,
  propagate,
  sampleAt,
  shift,
  toFocus,
} from '../../src/optics/propagation.ts';
import { fresnelIntegrals } from './fresnel-integrals.ts';
import '../machine/patience.ts';

const WAVELENGTH = 632.8e-6;

function fill(field: Field, value: (x: number, y: number) => readonly [number, number]): Field {
  for (let i = 0; i < field.re.length; i++) {
    const x = sampleAt(i % field.columns, field.columns, field.spacingX);
    const y = sampleAt(Math.floor(i / field.columns), field.rows, field.spacingY);
    [field.re[i], field.im[i]] = value(x, y);
  }
  return field;
}
const intensity = (field: Field, i: number): number => field.re[i] ** 2 + field.im[i] ** 2;
const along = (length: number) => ({ wavelength: WAVELENGTH, lengthX: length, lengthY: 0 });

/** 1 inside, a half on the edge. */
const slit = (x: number, half: number): number => (Math.abs(x) < half ? 1 : Math.abs(x) === half ? 0.5 : 0);

/** ∫|U|² over the grid. */
function energyOf(field: Field): number {
  let sum = 0;
  for (let i = 0; i < field.re.length; i++) sum += field.re[i] ** 2 + field.im[i] ** 2;
  return sum * field.spacingX * field.spacingY;
}

describe('propagate', () => {
  it('keeps the energy to 1e-12, in one dimension and in two', () => {
    const line = fill(emptyField(4096, 1, 0.01, 1), (x) => [slit(x, 5), 0]);
    const plane = fill(emptyField(256, 128, 0.1, 0.1), (x, y) => [slit(x, 4) * slit(y, 3), 0.3 * slit(x, 2)]);
    for (const [field, lengthY] of [
      [line, 0],
      [plane, 700],
    ] as const) {
      const before = energyOf(field);
      propagate(field, { wavelength: WAVELENGTH, lengthX: 1000, lengthY });
      expect(Math.abs(energyOf(field) / before - 1)).toBeLessThan(1e-12);
    }
  });

  it('spreads a Gaussian beam as w² = w₀²(1 + (z/z_R)²), on its axis as 1/√(1 + iz/z_R)', () => {
    const waist = 0.5;
    const rayleigh = (Math.PI * waist ** 2) / WAVELENGTH;
    const field = fill(emptyField(2048, 1, 0.01, 1), (x) => [Math.exp(-((x / waist) ** 2)), 0]);
    propagate(field, along(rayleigh));
    // 1/√(1 + i): amplitude 2^(−1/4), phase −π/8; source: Siegman, Lasers, §17.1.
    expect(Math.hypot(field.re[1024], field.im[1024])).toBeCloseTo(2 ** -0.25, 10);
    expect(Math.atan2(field.im[1024], field.re[1024])).toBeCloseTo(-Math.PI / 8, 10);
    const at = 1024 + 50;
    expect(intensity(field, at) / intensity(field, 1024)).toBeCloseTo(
      Math.exp((-2 * 0.5 ** 2) / (2 * waist ** 2)),
      10,
    );
  });

  it('lights a straight edge’s own place to 1/4, and at most to 1.3704 behind it', () => {
    // Values from memory (Born & Wolf, Principles of Optics, §8.7.3); by Fresnel’s integrals in the next test.
    const [n, spacing, length] = [16384, 0.008, 2000];
    // An edge at 0; far off the light fades so gently that no fringes come from there.
    const lit = (x: number) => (x > 0 ? Math.exp(-((x / 40) ** 8)) : x === 0 ? 0.5 : 0);
    const field = fill(emptyField(n, 1, spacing, 1), (x) => [lit(x), 0]);
    propagate(field, { ...along(length), reachX: 60 });
    const edge = n / 2;
    expect(intensity(field, edge)).toBeCloseTo(0.25, 3);
    let [most, where] = [0, 0];
    for (let i = edge; i < edge + 200; i++)
      if (intensity(field, i) > most) [most, where] = [intensity(field, i), i];
    expect(most).toBeCloseTo(1.3704, 3);
    expect(((where - edge) * spacing) / Math.sqrt((WAVELENGTH * length) / 2)).toBeCloseTo(1.2172, 2);
  });

  it.each([1, 3, 10])(
    'agrees with Fresnel’s integrals behind a slit of Fresnel number %f',
    (fresnelNumber) => {
      const half = 5;
      const length = half ** 2 / (WAVELENGTH * fresnelNumber);
      const n = 16384;
      const field = fill(emptyField(n, 1, half / 128, 1), (x) => [slit(x, half), 0]);
      propagate(field, along(length));
      const scale = Math.sqrt(2 / (WAVELENGTH * length));
      for (let i = n / 2; i < n / 2 + 200; i += 7) {
        const x = sampleAt(i, n, half / 128);
        const upper = fresnelIntegrals((half - x) * scale);
        const lower = fresnelIntegrals((half + x) * scale);
        // exp(−iπ/4)/√2 · (F(upper) + F(lower)), F = C + iS.
        const [c, s] = [upper.c + lower.c, upper.s + lower.s];
        expect(field.re[i]).toBeCloseTo((c + s) / 2, 2);
        expect(field.im[i]).toBeCloseTo((s - c) / 2, 2);
      }
    },
  );

  it('carries a converging wave’s deviation over z·s/(s − z), as the whole wave resolved sample by sample', () => {
    const [s, z, n, spacing] = [4000, 1500, 8192, 0.01];
    const deviation = (x: number): number => Math.exp(-((x / 3) ** 8));
    const curved = (x: number, to: number): [number, number] => {
      const angle = (-Math.PI * x * x) / (WAVELENGTH * to);
      return [Math.cos(angle), Math.sin(angle)];
    };
    const whole = fill(emptyField(n, 1, spacing, 1), (x) => {
      const [c, d] = curved(x, s);
      return [deviation(x) * c, deviation(x) * d];
    });
    propagate(whole, along(z));
    const apart = fill(emptyField(n, 1, spacing, 1), (x) => [deviation(x), 0]);
    propagate(apart, along(convergentLength(z, s)));
    const shrink = 1 - z / s;
    // Every fifth coarse sample falls on a fine one: shrink is 5/8.
    for (let k = -40; k <= 40; k++) {
      const [coarse, fine] = [n / 2 + 8 * k, n / 2 + 5 * k];
      const [c, d] = curved(sampleAt(fine, n, spacing), s - z);
      const re = (apart.re[coarse] * c - apart.im[coarse] * d) / Math.sqrt(shrink);
      expect(whole.re[fine]).toBeCloseTo(re, 8);
    }
  });

  it('drops light that would leave the grid', () => {
    const lit = () => fill(emptyField(1024, 1, 0.05, 1), (x) => [slit(x, 5), 0]);
    const [open, cut] = [lit(), lit()];
    const before = energyOf(open);
    propagate(open, along(20000));
    propagate(cut, { ...along(20000), reachX: 15 });
    expect(energyOf(open) / before).toBeCloseTo(1, 12);
    // The share of a slit's spectrum beyond f is 1/(π² f D) on the mean.
    const beyond = 1 / (Math.PI ** 2 * (15 / (WAVELENGTH * 20000)) * 10);
    expect((1 - energyOf(cut) / before) / beyond).toBeGreaterThan(0.5);
    expect((1 - energyOf(cut) / before) / beyond).toBeLessThan(1.5);
  });

  it('moves a field without changing it, and leaves nothing of one that is moved off its grid', () => {
    const blob = (x: number, y: number) => Math.exp(-(x ** 2) - y ** 2);
    const field = fill(emptyField(64, 128, 0.2, 0.1), (x, y) => [blob(x, y), 0]);
    shift(field, -0.5, 0.333);
    for (let j = 0; j < 128; j += 9) {
      for (let i = 0; i < 64; i += 5) {
        const [x, y] = [sampleAt(i, 64, 0.2), sampleAt(j, 128, 0.1)];
        expect(field.re[64 * j + i]).toBeCloseTo(blob(x + 0.5, y - 0.333), 10);
      }
    }
    shift(field, 6.4, 0);
    expect(energyOf(field)).toBe(0);
  });
});

describe('the focus', () => {
  const s = 100;
  const unit = (width: number): number => (WAVELENGTH * s) / width;

  it('of a line is sinc²: zeros at whole λN, half width at 0.442946, first side lobe 0.0471904', () => {
    const width = 10;
    const n = 65536;
    const start = fill(emptyField(n, 1, width / 1024, 1), (x) => [slit(x, width / 2), 0]);
    const before = energyOf(start);
    const focus = toFocus(start, WAVELENGTH, s, 'x');
    expect(energyOf(focus) / before).toBeCloseTo(1, 12);
    const relative = (x: number) =>
      intensity(focus, n / 2 + Math.round((x * unit(width)) / focus.spacingX)) / intensity(focus, n / 2);
    for (const zero of [1, 2, 3]) expect(relative(zero)).toBeLessThan(1e-12);
    const lobe = Math.max(...Array.from({ length: 64 }, (_, i) => relative(1 + i / 64)));
    expect(lobe).toBeCloseTo(0.0471904, 4);
    // 0.885893/2 lies between samples: by the line through its neighbours.
    const [below, above] = [relative(28 / 64), relative(29 / 64)];
    expect((2 * (28 + (below - 0.5) / (below - above))) / 64).toBeCloseTo(0.885893, 3);
  });

  it('of a round patch is Airy’s: zeros 1.21967, 2.23313, 3.23832 λN and 83.8 %, 91.0 %, 93.8 % within', () => {
    const width = 10;
    const across = 128;
    const n = 1024;
    const spacing = width / across;
    const covered = (x: number, y: number): number => {
      const r = Math.hypot(x, y);
      if (Math.abs(r - width / 2) > spacing) return r < width / 2 ? 1 : 0;
      let inside = 0;
      for (let a = 0.5; a < 16; a++)
        for (let b = 0.5; b < 16; b++)
          if (Math.hypot(x + (a / 16 - 0.5) * spacing, y + (b / 16 - 0.5) * spacing) < width / 2) inside++;
      return inside / 256;
    };
    const start = fill(emptyField(n, n, spacing, spacing), (x, y) => [covered(x, y), 0]);
    const before = energyOf(start);
    const focus = toFocus(toFocus(start, WAVELENGTH, s, 'x'), WAVELENGTH, s, 'y');
    const step = focus.spacingX / unit(width);
    const row = (n / 2) * n;
    const zeros: number[] = [];
    for (let i = n / 2; i < n / 2 + 40; i++) {
      const [here, next] = [focus.re[row + i] ?? 0, focus.re[row + i + 1]];
      if (here * next < 0) zeros.push((i - n / 2 + here / (here - next)) * step);
    }
    [1.21966989, 2.23313059, 3.23831548].forEach((zero, k) => {
      expect(zeros[k]).toBeCloseTo(zero, 2);
    });
    const within = (radius: number): number => {
      let sum = 0;
      for (let i = 0; i < n * n; i++) {
        const r = Math.hypot((i % n) - n / 2, Math.floor(i / n) - n / 2) * step;
        if (r < radius) sum += intensity(focus, i);
      }
      return (sum * focus.spacingX * focus.spacingY) / before;
    };
    expect(within(1.21966989)).toBeCloseTo(0.837785, 2);
    expect(within(2.23313059)).toBeCloseTo(0.909931, 2);
    expect(within(3.23831548)).toBeCloseTo(0.937648, 2);
  });

  it('leads back to the patch', () => {
    const start = fill(emptyField(64, 8, 0.2, 0.3), (x, y) => [slit(x, 3) + y, x * y]);
    const kept = { re: start.re.slice(), im: start.im.slice() };
    for (const axis of ['x', 'y'] as const) {
      const back = fromFocus(toFocus(start, WAVELENGTH, s, axis), WAVELENGTH, s, axis);
      expect([back.spacingX, back.spacingY]).toEqual([expect.closeTo(0.2, 12), expect.closeTo(0.3, 12)]);
      back.re.forEach((value, i) => {
        expect(value).toBeCloseTo(kept.re[i], 10);
        expect(back.im[i]).toBeCloseTo(kept.im[i], 10);
      });
    }
  });
});
