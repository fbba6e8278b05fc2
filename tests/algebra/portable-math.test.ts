/**
 * The page's own elementary functions against the engine's, which are written independently: to 1 unit in the last place, and special
 * values as ECMA-262 has them.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import * as portable from '../../src/algebra/portable/math.ts';
import { randomFrom } from '../../src/algebra/random.ts';

type Function = (...values: number[]) => number;

/** fdlibm and the engines each err by less than 1 unit, so that they are at most one double apart; acos near 1 and hypot by two. */
const MOST_UNITS = 2;

const { portableSin, portableCos, portableTan, portableAsin, portableAcos, portableAtan } = portable;
const { portableAtan2, portableExp, portableLog, portableLog10, portableHypot } = portable;

const decades = (value: number): number => Math.sign(value - 0.5) * 10 ** (12 * value - 6);
const CASES: readonly (readonly [string, Function, Function, (...values: number[]) => number[]])[] = [
  ['sin', portableSin, Math.sin, (a) => [decades(a!)]],
  ['cos', portableCos, Math.cos, (a) => [decades(a!)]],
  ['tan', portableTan, Math.tan, (a) => [decades(a!)]],
  ['asin', portableAsin, Math.asin, (a) => [2 * a! - 1]],
  ['acos', portableAcos, Math.acos, (a) => [2 * a! - 1]],
  ['atan', portableAtan, Math.atan, (a) => [decades(a!)]],
  ['exp', portableExp, Math.exp, (a) => [1400 * a! - 700]],
  ['log', portableLog, Math.log, (a) => [Math.abs(decades(a!))]],
  ['log10', portableLog10, Math.log10, (a) => [Math.abs(decades(a!))]],
  ['atan2', portableAtan2, Math.atan2, (a, b) => [decades(a!), decades(b!)]],
  ['hypot', portableHypot, Math.hypot, (a, b, c) => [decades(a!), decades(b!), decades(c!)]],
];

test.each(CASES)(
  '%s is the engine’s to the last digits, over twelve decades',
  (name, own, engine, argumentsOf) => {
    const random = randomFrom(name);
    let most = 0;
    for (let k = 0; k < 20_000; k++) {
      const values = argumentsOf(random.uniform(), random.uniform(), random.uniform());
      most = Math.max(most, unitsApart(own(...values), engine(...values)));
    }
    expect(most).toBeLessThanOrEqual(MOST_UNITS);
  },
);

const SPECIAL = [
  0,
  -0,
  1,
  -1,
  0.5,
  Math.PI / 2,
  Math.PI,
  1e-300,
  1e300,
  -1e300,
  Infinity,
  -Infinity,
  Number.NaN,
];

test.each(CASES)('%s of special values is the engine’s, signs of 0 too', (_, own, engine) => {
  for (const a of SPECIAL) {
    for (const b of own.length === 1 ? [0] : SPECIAL) {
      const [value, known] = own.length === 1 ? [own(a), engine(a)] : [own(a, b), engine(a, b)];
      if (Number.isFinite(known) && known !== 0)
        expect(unitsApart(value, known), `${a}, ${b}`).toBeLessThanOrEqual(MOST_UNITS);
      else expect(value, `${a}, ${b}`).toBe(known);
    }
  }
});

test('what a scenario says is worked out with these alone: its numbers are the same on every engine', () => {
  const folders = ['src/quantity', 'src/scenario', 'src/reading/scenario'];
  const files = folders.flatMap((folder) =>
    readdirSync(folder)
      .map((name) => join(folder, name))
      .filter((file) => file.endsWith('.ts')),
  );
  // The one writes digits, the other words: neither gives a number to a scenario.
  const words = ['src/quantity/format.ts', 'src/scenario/touch-fault.ts'];
  const using = [...files, 'src/geometry/frame.ts'].filter(
    (file) =>
      !words.includes(file) &&
      /Math\.(sin|cos|tan|asin|acos|atan2?|exp|log)\b/.test(readFileSync(file, 'utf8')),
  );
  expect(files.length).toBeGreaterThan(40);
  expect(using).toEqual([]);
});

/** Doubles between two numbers of one sign. */
function unitsApart(a: number, b: number): number {
  if (a === b) return 0;
  const words = new BigInt64Array(new Float64Array([a, b]).buffer);
  return Math.abs(Number(words[0]! - words[1]!));
}
