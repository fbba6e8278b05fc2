/** Exponential and logarithms, the same to the last bit in every engine. Source: fdlibm 5.3, e_exp, e_log, e_log10 (Sun Microsystems 1993, freely distributable). */
import { engine, fromWords, high, low, polynomial } from './double-words.ts';

const EXP = [
  0.16666666666666602, -0.0027777777777015593, 0.00006613756321437934, -0.0000016533902205465252,
  4.1381367970572385e-8,
];
const [LN2_HIGH, LN2_LOW, INVERSE_LN2] = [0.6931471803691238, 1.9082149292705877e-10, Math.LOG2E];

export function portableExp(given: number): number {
  const hx = high(given) & 0x7fffffff;
  // Near overflow, and where it underflows.
  if (!(given < 709 && given > -708)) return engine.exp(given);
  let x = given;
  let [hi, lo, k] = [0, 0, 0];
  if (hx > 0x3fd62e42) {
    const sign = x < 0 ? -1 : 1;
    if (hx < 0x3ff0a2b2) {
      if (x === 1) return Math.E;
      [hi, lo, k] = [x - sign * LN2_HIGH, sign * LN2_LOW, sign];
    } else {
      k = Math.trunc(INVERSE_LN2 * x + sign * 0.5);
      [hi, lo] = [x - k * LN2_HIGH, k * LN2_LOW];
    }
    x = hi - lo;
  } else if (hx < 0x3e300000) return 1 + x;
  const t = x * x;
  const c = x - t * polynomial(t, EXP);
  if (k === 0) return 1 - ((x * c) / (c - 2) - x);
  const y = 1 - (lo - (x * c) / (2 - c) - hi);
  return y * fromWords((1023 + k) << 20, 0);
}

const [LG1, LG2, LG3, LG4, LG5, LG6, LG7] = [
  0.6666666666666735, 0.3999999999940942, 0.2857142874366239, 0.22222198432149784, 0.1818357216161805,
  0.15313837699209373, 0.14798198605116586,
] as const;

export function portableLog(given: number): number {
  // Not finite, not positive, or subnormal.
  if (!(given >= 2.2250738585072014e-308 && given < Number.POSITIVE_INFINITY)) return engine.log(given);
  let hx = high(given);
  const bottom = low(given);
  let k = (hx >> 20) - 1023;
  hx &= 0x000fffff;
  const i = (hx + 0x95f64) & 0x100000;
  const x = fromWords(hx | (i ^ 0x3ff00000), bottom);
  k += i >> 20;
  const f = x - 1;
  if ((0x000fffff & (2 + hx)) < 3) {
    if (f === 0) return k === 0 ? 0 : k * LN2_HIGH + k * LN2_LOW;
    const r = f * f * (0.5 - 0.3333333333333333 * f);
    return k === 0 ? f - r : k * LN2_HIGH - (r - k * LN2_LOW - f);
  }
  const s = f / (2 + f);
  const z = s * s;
  const w = z * z;
  const t1 = w * (LG2 + w * (LG4 + w * LG6));
  const t2 = z * (LG1 + w * (LG3 + w * (LG5 + w * LG7)));
  const r = t2 + t1;
  if (((hx - 0x6147a) | (0x6b851 - hx)) > 0) {
    const half = 0.5 * f * f;
    return k === 0 ? f - (half - s * (half + r)) : k * LN2_HIGH - (half - (s * (half + r) + k * LN2_LOW) - f);
  }
  return k === 0 ? f - s * (f - r) : k * LN2_HIGH - (s * (f - r) - k * LN2_LOW - f);
}

const [INVERSE_LN10, LOG10_2_HIGH, LOG10_2_LOW] = [Math.LOG10E, 0.30102999566361177, 3.694239077158931e-13];

export function portableLog10(given: number): number {
  if (!(given >= 2.2250738585072014e-308 && given < Number.POSITIVE_INFINITY)) return engine.log10(given);
  const k = (high(given) >> 20) - 1023;
  const i = k < 0 ? 1 : 0;
  const x = fromWords((high(given) & 0x000fffff) | ((0x3ff - i) << 20), low(given));
  const y = k + i;
  return y * LOG10_2_LOW + INVERSE_LN10 * portableLog(x) + y * LOG10_2_HIGH;
}
