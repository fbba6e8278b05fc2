/** Arcs of sine, cosine and tangent, the same to the last bit in every engine. Source: fdlibm 5.3, e_asin, e_acos, s_atan, e_atan2 (Sun Microsystems 1993, freely distributable). Radians. */
import { engine, fromWords, high, polynomial } from './double-words.ts';

const PI_4 = 0.7853981633974483;
const ARC_P = [
  0.16666666666666666, -0.3255658186224009, 0.20121253213486293, -0.04005553450067941, 0.0007915349942898145,
  0.00003479331075960212,
];
const ARC_Q = [1, -2.403394911734414, 2.0209457602335057, -0.6882839716054533, 0.07703815055590194];
const [PIO2_HIGH, PIO2_LOW] = [1.5707963267948966, 6.123233995736766e-17];

export function portableAsin(x: number): number {
  const ix = high(x) & 0x7fffffff;
  const size = Math.abs(x);
  if (!(size < 1)) return size === 1 ? x * PIO2_HIGH + x * PIO2_LOW : Number.NaN;
  if (ix < 0x3fe00000) {
    if (ix < 0x3e400000) return x;
    const t = x * x;
    return x + x * ((t * polynomial(t, ARC_P)) / polynomial(t, ARC_Q));
  }
  const t = (1 - size) * 0.5;
  const p = t * polynomial(t, ARC_P);
  const q = polynomial(t, ARC_Q);
  const s = Math.sqrt(t);
  let angle: number;
  if (ix >= 0x3fef3333) angle = PIO2_HIGH - (2 * (s + s * (p / q)) - PIO2_LOW);
  else {
    const w = fromWords(high(s), 0);
    const c = (t - w * w) / (s + w);
    const r = p / q;
    angle = PI_4 - (2 * s * r - (PIO2_LOW - 2 * c) - (PI_4 - 2 * w));
  }
  return x > 0 ? angle : -angle;
}

export function portableAcos(x: number): number {
  const ix = high(x) & 0x7fffffff;
  if (!(Math.abs(x) < 1)) return x === 1 ? 0 : x === -1 ? Math.PI + 2 * PIO2_LOW : Number.NaN;
  if (ix < 0x3fe00000) {
    if (ix <= 0x3c600000) return PIO2_HIGH + PIO2_LOW;
    const z = x * x;
    const r = (z * polynomial(z, ARC_P)) / polynomial(z, ARC_Q);
    return PIO2_HIGH - (x - (PIO2_LOW - x * r));
  }
  const z = (x < 0 ? 1 + x : 1 - x) * 0.5;
  const s = Math.sqrt(z);
  const r = (z * polynomial(z, ARC_P)) / polynomial(z, ARC_Q);
  if (x < 0) return Math.PI - 2 * (s + (r * s - PIO2_LOW));
  const head = fromWords(high(s), 0);
  const c = (z - head * head) / (s + head);
  return 2 * (head + (r * s + c));
}

const ATAN_HIGH = [0.4636476090008061, 0.7853981633974483, 0.982793723247329, 1.5707963267948966];
const ATAN_LOW = [
  2.2698777452961687e-17, 3.061616997868383e-17, 1.3903311031230998e-17, 6.123233995736766e-17,
];
const ATAN = [
  0.3333333333333293, -0.19999999999876483, 0.14285714272503466, -0.11111110405462356, 0.09090887133436507,
  -0.0769187620504483, 0.06661073137387531, -0.058335701337905735, 0.049768779946159324,
  -0.036531572744216916, 0.016285820115365782,
];
const ATAN_EVEN = ATAN.filter((_, k) => k % 2 === 0);
const ATAN_ODD = ATAN.filter((_, k) => k % 2 === 1);

export function portableAtan(given: number): number {
  if (Number.isNaN(given)) return given;
  const ix = high(given) & 0x7fffffff;
  if (ix >= 0x44100000) return given > 0 ? ATAN_HIGH[3]! + ATAN_LOW[3]! : -ATAN_HIGH[3]! - ATAN_LOW[3]!;
  let x = given;
  let part = -1;
  if (ix < 0x3fdc0000) {
    if (ix < 0x3e400000) return x;
  } else {
    x = Math.abs(x);
    if (ix < 0x3ff30000) {
      if (ix < 0x3fe60000) [part, x] = [0, (2 * x - 1) / (2 + x)];
      else [part, x] = [1, (x - 1) / (x + 1)];
    } else if (ix < 0x40038000) [part, x] = [2, (x - 1.5) / (1 + 1.5 * x)];
    else [part, x] = [3, -1 / x];
  }
  const z = x * x;
  const w = z * z;
  const sum = x * (z * polynomial(w, ATAN_EVEN) + w * polynomial(w, ATAN_ODD));
  if (part < 0) return x - sum;
  const angle = ATAN_HIGH[part]! - (sum - ATAN_LOW[part]! - x);
  return given < 0 ? -angle : angle;
}

const PI_LOW = 1.2246467991473532e-16;

export function portableAtan2(y: number, x: number): number {
  if (!Number.isFinite(x) || !Number.isFinite(y) || x === 0 || y === 0) return engine.atan2(y, x);
  if (x === 1) return portableAtan(y);
  const k = ((high(y) & 0x7fffffff) - (high(x) & 0x7fffffff)) >> 20;
  let z: number;
  let quadrantLeft = x < 0;
  if (k > 60) {
    z = Math.PI / 2 + 0.5 * PI_LOW;
    quadrantLeft = false;
  } else if (x < 0 && k < -60) z = 0;
  else z = portableAtan(Math.abs(y / x));
  if (k > 60) return y < 0 ? -z : z;
  if (!quadrantLeft) return y < 0 ? -z : z;
  return y < 0 ? z - PI_LOW - Math.PI : Math.PI - (z - PI_LOW);
}
