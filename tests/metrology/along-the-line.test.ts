/**
 * A corner cube off along the line of its patch shows no tilt, whatever the roof makes of it near its ridge, where the rays of both halves
 * mingle: neither by rays of independent code nor by what steering expects. mm, fringes.
 */
import { describe, expect, it } from 'vitest';
import { tracedFringes } from '../../src/metrology/sensing/traced-readings.ts';
import { deviates } from '../independent/random.ts';
import type { Vector } from '../independent/ray.ts';
import { lineScene } from './frame/support/scenes.ts';
import { tracedBench } from './frame/support/traced-bench.ts';

/** A move across the line by so much would show fifty times as many. */
const NONE = 0.004;

describe('a cube off along its line', () => {
  const { design } = lineScene(deviates(3), 6);
  const bench = tracedBench(design);
  it.each([0.05, 0.2, 0.5])('by %s mm shows no tilt', (by) => {
    const move = new Map(
      design.patches.map(({ reference, lineDirection }) => [
        reference.id,
        lineDirection!.map((each) => by * each) as unknown as Vector,
      ]),
    );
    for (const [k, { truth }] of bench({ own: move }).entries()) {
      const patch = design.patches[k]!;
      const expected = tracedFringes(design, patch)!(move.get(patch.reference.id)!)!;
      expect(Math.abs(truth[0]!)).toBeLessThan(NONE);
      expect(Math.abs(expected[0]!)).toBeLessThan(NONE);
    }
  });
});
