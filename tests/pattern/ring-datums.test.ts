/**
 * Annular patches of a bench whose light meets a cone and a torus at normal incidence, behind glass: the written zones against the
 * patch's phase at random points. The axis of both lies in the hole of the ring.
 */
import { expect, test } from 'vitest';
import { tracePattern } from '../../src/pattern/trace-pattern.ts';
import { fullBench, patchOf } from '../metrology/support/full-bench.ts';
import { agreement } from './point-agreement.ts';

const POINTS = 2000;

test.each(['cone', 'torus'])('the ring for the %s is written as its phase says', (id) => {
  const patch = patchOf(fullBench(), id);
  const trace = tracePattern(patch, { dutyCycle: 0.5 });
  const found = agreement(patch.outline, patch.phase, trace.zones(), 0.5, trace.bound, POINTS);
  expect(found.wrong).toEqual([]);
  expect(found.inside).toBeGreaterThan(0.4 * POINTS);
  expect(found.near).toBeLessThan(0.1 * POINTS);
  expect(trace.worst).toBeLessThanOrEqual(trace.bound);
});
