/** A million random points of each pattern, against the exact phase; the vertices rounded to the 1 nm grid as in a file. */
import { expect, test } from 'vitest';
import { tracePattern } from '../../src/pattern/trace-pattern.ts';
import { CASES, type PatternCase } from './pattern-cases.ts';
import { agreement } from './point-agreement.ts';
import { rectangle, samplePatch } from './sample-patches.ts';

const MILLION = 1_000_000;
const LARGE: PatternCase = {
  name: 'ten millimetres at two micrometres',
  given: { outline: rectangle([50, 0], 10), centre: [50, 0], target: [210, 20, 400], lineAngle: 0.3 },
  dutyCycle: 0.45,
};

test.each([...CASES, LARGE])('$name', ({ given, dutyCycle = 0.5 }) => {
  const patch = samplePatch(given);
  const trace = tracePattern(patch, { dutyCycle });
  const { inside, near, wrong } = agreement(
    patch.outline,
    patch.phase,
    trace.zones(),
    dutyCycle,
    trace.bound,
    MILLION,
    1e-6,
  );
  expect(wrong).toEqual([]);
  expect(inside).toBeGreaterThan(0.2 * MILLION);
  // A point falls within 5 nm of an edge by chance only.
  expect(near).toBeLessThan(0.02 * MILLION);
});
