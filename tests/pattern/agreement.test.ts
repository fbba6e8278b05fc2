import { describe, expect, test } from 'vitest';
import { areaOf } from '../../src/geometry/extent.ts';
import { tracePattern } from '../../src/pattern/trace-pattern.ts';
import { CASES } from './pattern-cases.ts';
import { agreement, areaOfZones } from './point-agreement.ts';
import { samplePatch } from './sample-patches.ts';
import '../machine/patience.ts';

const POINTS = 50_000;

describe.each(CASES)('$name', ({ given, dutyCycle = 0.5 }) => {
  const patch = samplePatch(given);
  const trace = tracePattern(patch, { dutyCycle });

  test('random points lie in written zones as the exact phase says, once', () => {
    const { inside, wrong } = agreement(
      patch.outline,
      patch.phase,
      trace.zones(),
      dutyCycle,
      trace.bound,
      POINTS,
      1e-6,
    );
    expect(wrong).toEqual([]);
    expect(inside).toBeGreaterThan(0.2 * POINTS);
    expect(trace.worst).toBeLessThanOrEqual(trace.bound);
  });

  test('the zones cover the share of the patch that the exact phase gives random points', () => {
    const { inside } = agreement(patch.outline, patch.phase, [], dutyCycle, 0, POINTS);
    const { area, least, count } = areaOfZones(trace.zones());
    expect(count).toBeGreaterThan(1);
    expect(least).toBeGreaterThan(0);
    // Four standard deviations of a share of that many points.
    const share = inside / POINTS;
    const deviation = Math.sqrt((share * (1 - share)) / POINTS);
    expect(Math.abs(area / areaOf(patch.outline) - share)).toBeLessThan(4 * deviation);
  });
});
