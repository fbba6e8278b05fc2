/**
 * Three balls that may roll round a shoulder and a ring on an asphere tell the part's turn about its axis to a third of a radian: a move that
 * follows such a reading is noise. It is not asked for, and all else is found as if it were known. mm, rad.
 */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { designScenario } from '../../src/design/design-scenario.ts';
import { steer } from '../../src/metrology/steering/steering.ts';
import { displacementOf } from '../../src/metrology/steering/steering-part.ts';
import { weaklySeen, withoutThese } from '../../src/metrology/steering/weakly-seen.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import type { BenchReading } from '../../src/scenario/bench-reading.ts';

const made = designScenario(
  readScenario(readFileSync('tests/writing/sheet/jobs/everything.yaml', 'utf8'), 'all').scenario!,
);
if (!('design' in made)) throw new Error(JSON.stringify(made.findings));
const { design } = made;

const fringes = (patch: string, counts: readonly number[]): BenchReading => ({
  ...{ kind: 'fringes', patch, fringes: counts, signKnown: true, uncertainty: undefined },
});
/** Of a part 20 µm off along x, by rays (tests/end-to-end/support/bench-of-job.ts), each read to a tenth of a fringe: noise for its turn. */
const READ = [
  fringes('zone', [-11.7, 0, 0]),
  fringes('top', [4.9, 0, 0]),
  fringes('left', [4.8, 0, 0]),
  fringes('right', [4.8, 0, 0]),
  { kind: 'length', measurement: 'gauge', deviation: 0 } as const,
];

test('a turn about the axis that is told to a third of a radian is unobserved, and no move of it is asked for', () => {
  const { part } = steer(design, READ);
  const { sigma } = part.uncertainty;
  expect(sigma[5]).toBeUndefined();
  expect(sigma.slice(0, 5).every((value) => value !== undefined)).toBe(true);
  const { translation, rotation } = displacementOf(part.candidates[0]!.solution.unknowns, part.pose.size);
  expect(Math.abs(rotation[2])).toBeLessThan(1e-4);
  expect(Math.abs(translation[0] - 0.02) / sigma[0]!).toBeLessThan(3);
  expect(Math.abs(translation[1]) / sigma[1]!).toBeLessThan(3);
});

test('only what is uncertain by centimetres is left out; the rest of an estimate stays as it was', () => {
  // Of two unknowns: their sum is known to 0.1 mm, their difference to 100 mm.
  const [a, b] = [0.1 ** 2, 100 ** 2];
  const covariance = Float64Array.of((a + b) / 2, (a - b) / 2, (a - b) / 2, (a + b) / 2);
  const given = { covariance, gains: Float64Array.of(3, 1), unobserved: [], variances: new Map() };
  const weak = weaklySeen(given, 2);
  expect(weak).toHaveLength(1);
  const left = withoutThese(given, 2, weak);
  for (const gain of left.gains) expect(gain).toBeCloseTo(2, 9);
  for (const entry of left.covariance) expect(entry).toBeCloseTo(a / 2, 9);
  expect(left.unobserved).toEqual(weak);
  const known = { ...given, covariance: Float64Array.of(1, 0, 0, 9) };
  expect(withoutThese(known, 2, weaklySeen(known, 2))).toBe(known);
});
