/**
 * The asphere that a scenario's words describe against the form printed in ISO 10110-12, z = h²/(R(1 + √(1 − (1 + κ)h²/R²))) + Σ A_n hⁿ, by
 * a library's algebra with 40 digits: height, slopes and curvatures. mm.
 */
import { all, type BigNumber, create } from 'mathjs';
import { expect, it } from 'vitest';
import { designFrom } from '../metrology/support/design-from.ts';

const math = create(all!, { number: 'BigNumber', precision: 40 });

interface Case {
  readonly radius: number;
  readonly conic: number;
  readonly terms: Readonly<Record<number, number>>;
  readonly sign: 1 | -1;
}
const CASES: readonly Case[] = [-2, -1.3, -1, -0.5, 0, 0.5].flatMap((conic) =>
  ([1, -1] as const).map((sign): Case => {
    const terms = conic === -1 ? {} : { 4: 3e-10 * sign, 6: -2e-15, 12: 1e-29 };
    return { radius: sign * 800, conic, terms, sign };
  }),
);

/** z and its first two derivatives by h, by differences whose digits are not missed. */
function printed({ radius, conic, terms }: Case): (h: number) => readonly [number, number, number] {
  const sum = Object.entries(terms).map(([n, a]) => `+ (${a}) * h^${n}`);
  const form = math.compile(
    `h^2 / ((${radius}) * (1 + sqrt(1 - (1 + (${conic})) * h^2 / (${radius})^2))) ${sum.join(' ')}`,
  );
  const step = math.bignumber('1e-9');
  const quotients = ['b', '(c - a) / (2 * d)', '(a - 2 * b + c) / d^2'].map((words) => math.compile(words));
  return (h) => {
    const [a, b, c] = [-1, 0, 1].map((k) =>
      form.evaluate({ h: math.add(math.bignumber(h), math.multiply(step, k)) }),
    );
    const values = quotients.map((each) => each.evaluate({ a, b, c, d: step }) as BigNumber);
    return values.map((value) => value.toNumber()) as unknown as readonly [number, number, number];
  };
}

const PLACES = [
  [3, -4],
  [60, 25],
  [-110, 90],
] as const;
/** Of values of some 20 mm: their last digits. */
const DIGITS = 1e-14;

it.each(CASES)('R $radius mm, κ $conic: height, slopes and curvatures', (one) => {
  const { radius, conic, terms, sign } = one;
  const vertex = [0, 0, 0];
  const asphere = { vertex, axis: [0, 0, 1], radius, conic, terms };
  const { sag } = designFrom({
    substrate: { outline: { circle: { diameter: 400 } }, thickness: 0 },
    part: { origin: [0, 0, sign > 0 ? 100 : 2600], datums: { M: { asphere } } },
    test: { surface: 'M', aperture: { circle: { diameter: 300 } } },
  }).main!.surface;
  const form = printed(one);
  const out = new Float64Array(6);
  for (const [x, y] of PLACES) {
    const h = Math.hypot(x, y);
    const [z, z1, z2] = form(h);
    const [c, s] = [x / h, y / h];
    expect(sag.at(x, y, out)).toBe(true);
    const wanted = [
      ...[z, z1 * c, z1 * s],
      ...[z2 * c * c + (z1 / h) * s * s, (z2 - z1 / h) * c * s, z2 * s * s + (z1 / h) * c * c],
    ];
    wanted.forEach((value, k) => {
      expect(Math.abs(out[k]! - value)).toBeLessThan(DIGITS);
    });
  }
});
