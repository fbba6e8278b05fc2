/**
 * Rings whose light meets a cone and a torus at normal incidence, the axis in the middle of the hole, glass on either side: fringes run
 * along the edges of the ring and close around it. The written zones against the patch's phase at random points; a point is judged
 * unless it is within the bound of an edge.
 */
import { expect, test } from 'vitest';
import { tracePattern } from '../../src/pattern/trace-pattern.ts';
import { designFrom } from '../metrology/support/design-from.ts';
import { agreement } from './point-agreement.ts';
import { CASES, ring, ringScene, wordsOf } from './ring-scenes.ts';

const POINTS = 1000;

test.each(CASES)(
  'a ring centred on the axis of a %s, pattern toward the %s, is written as its phase says',
  (...of) => {
    const patch = designFrom(wordsOf(ringScene(of, ring(40, 40.5), false))).patches[0]!;
    const trace = tracePattern(patch, { dutyCycle: 0.5 });
    const found = agreement(patch.outline, patch.phase, trace.zones(), 0.5, trace.bound, POINTS);
    expect(found.wrong).toEqual([]);
    expect(found.inside).toBeGreaterThan(0.4 * POINTS);
    expect(found.near).toBeLessThan(0.1 * POINTS);
    expect(trace.worst).toBeLessThanOrEqual(trace.bound);
  },
);
