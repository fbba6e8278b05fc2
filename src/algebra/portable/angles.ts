/** Sine, cosine and tangent, the same to the last bit in every engine. Source: fdlibm 5.3, e_rem_pio2, k_sin, k_cos, k_tan (Sun Microsystems 1993, freely distributable). Radians. */
import { engine, fromWords, high, polynomial } from './double-words.ts';

// π/2 in parts of 33 bits, and what is left after each.
const [PIO2_1, PIO2_1T] = [1.5707963267341256, 6.077100506506192e-11];
const [PIO2_2, PIO2_2T] = [6.077100506303966e-11, 2.0222662487959506e-21];
const [PIO2_3, PIO2_3T] = [2.0222662487111665e-21, 8.4784276603689e-32];
const TWO_OVER_PI = 0.6366197723675814;
/** 2^19 · π/2: beyond it the engine's own function is taken. No angle of a bench is as large. */
const LARGEST_ANGLE = 0x413921fb;
const MULTIPLES = Array.from({ length: 32 }, (_, k) => high(((k + 1) * Math.PI) / 2));

/** x − n π/2 in two parts, and n. */
function reduced(x: number): { readonly n: number; readonly rest: number; readonly tail: number } {
  const ix = high(x) & 0x7fffffff;
  const sign = x < 0 ? -1 : 1;
  if (ix < 0x4002d97c) {
    let z = sign * x - PIO2_1;
    let part = PIO2_1T;
    if (ix === 0x3ff921fb) {
      z -= PIO2_2;
      part = PIO2_2T;
    }
    const rest = z - part;
    return { n: sign, rest: sign * rest, tail: sign * (z - rest - part) };
  }
  const size = sign * x;
  const n = Math.trunc(size * TWO_OVER_PI + 0.5);
  let r = size - n * PIO2_1;
  let w = n * PIO2_1T;
  let rest = r - w;
  if (!(n < 32 && ix !== MULTIPLES[n - 1])) {
    const exponent = ix >> 20;
    const lost = (): number => exponent - ((high(rest) >> 20) & 0x7ff);
    for (const [part, tail, most] of [
      [PIO2_2, PIO2_2T, 16],
      [PIO2_3, PIO2_3T, 49],
    ] as const) {
      if (lost() <= most) break;
      const t = r;
      w = n * part;
      r = t - w;
      w = n * tail - (t - r - w);
      rest = r - w;
    }
  }
  return { n: sign * n, rest: sign * rest, tail: sign * (r - rest - w) };
}

const SINE = [
  0.00833333333332249, -0.0001984126982985795, 0.0000027557313707070068, -2.5050760253406863e-8,
  1.58969099521155e-10,
];
const SINE_1 = -0.16666666666666632;

function kernelSine(x: number, tail: number, hasTail: boolean): number {
  if ((high(x) & 0x7fffffff) < 0x3e400000) return x;
  const z = x * x;
  const v = z * x;
  const r = polynomial(z, SINE);
  return hasTail ? x - (z * (0.5 * tail - v * r) - tail - v * SINE_1) : x + v * (SINE_1 + z * r);
}

const COSINE = [
  0.0416666666666666, -0.001388888888887411, 0.00002480158728947673, -2.7557314351390663e-7,
  2.087572321298175e-9, -1.1359647557788195e-11,
];

function kernelCosine(x: number, tail: number): number {
  const ix = high(x) & 0x7fffffff;
  if (ix < 0x3e400000) return 1;
  const z = x * x;
  const r = z * polynomial(z, COSINE);
  if (ix < 0x3fd33333) return 1 - (0.5 * z - (z * r - x * tail));
  const q = ix > 0x3fe90000 ? 0.28125 : fromWords(ix - 0x00200000, 0);
  const half = 0.5 * z - q;
  return 1 - q - (half - (z * r - x * tail));
}

export function portableSin(x: number): number {
  const ix = high(x) & 0x7fffffff;
  if (ix > LARGEST_ANGLE) return engine.sin(x);
  if (ix <= 0x3fe921fb) return kernelSine(x, 0, false);
  const { n, rest, tail } = reduced(x);
  const turn = n & 3;
  const value = turn % 2 === 0 ? kernelSine(rest, tail, true) : kernelCosine(rest, tail);
  return turn < 2 ? value : -value;
}

export function portableCos(x: number): number {
  const ix = high(x) & 0x7fffffff;
  if (ix > LARGEST_ANGLE) return engine.cos(x);
  if (ix <= 0x3fe921fb) return kernelCosine(x, 0);
  const { n, rest, tail } = reduced(x);
  const turn = n & 3;
  const value = turn % 2 === 0 ? kernelCosine(rest, tail) : kernelSine(rest, tail, true);
  return turn === 0 || turn === 3 ? value : -value;
}

const TANGENT = [
  0.3333333333333341, 0.13333333333320124, 0.05396825397622605, 0.021869488294859542, 0.0088632398235993,
  0.0035920791075913124, 0.0014562094543252903, 0.0005880412408202641, 0.0002464631348184699,
  0.00007817944429395571, 0.00007140724913826082, -0.000018558637485527546, 0.00002590730518636337,
];
const TANGENT_ODD = TANGENT.filter((_, k) => k > 0 && k % 2 === 1);
const TANGENT_EVEN = TANGENT.filter((_, k) => k > 0 && k % 2 === 0);
const [PI_4, PI_4_LOW] = [0.7853981633974483, 3.061616997868383e-17];

/** `inverse`: −1/tan instead. */
function kernelTangent(given: number, givenTail: number, inverse: boolean): number {
  let [x, tail] = [given, givenTail];
  const hx = high(x);
  const ix = hx & 0x7fffffff;
  if (ix < 0x3e300000 && Math.trunc(x) === 0) return inverse ? -1 / x : x;
  const large = ix >= 0x3fe59428;
  if (large) {
    if (x < 0) [x, tail] = [-x, -tail];
    x = PI_4 - x + (PI_4_LOW - tail);
    tail = 0;
  }
  const z = x * x;
  const w = z * z;
  let r = polynomial(w, TANGENT_ODD);
  const v = z * polynomial(w, TANGENT_EVEN);
  const s = z * x;
  r = tail + z * (s * (r + v) + tail);
  r += TANGENT[0]! * s;
  const sum = x + r;
  if (large) {
    const one = inverse ? -1 : 1;
    return (hx < 0 ? -1 : 1) * (one - 2 * (x - ((sum * sum) / (sum + one) - r)));
  }
  if (!inverse) return sum;
  const head = fromWords(high(sum), 0);
  const left = r - (head - x);
  const a = -1 / sum;
  const t = fromWords(high(a), 0);
  return t + a * (1 + t * head + t * left);
}

export function portableTan(x: number): number {
  const ix = high(x) & 0x7fffffff;
  if (ix > LARGEST_ANGLE) return engine.tan(x);
  if (ix <= 0x3fe921fb) return kernelTangent(x, 0, false);
  const { n, rest, tail } = reduced(x);
  return kernelTangent(rest, tail, (n & 1) === 1);
}
