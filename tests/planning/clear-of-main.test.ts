/** A plan beside the main pattern: every patch stands clear of the null's footprint, which is a circle by hand (mm), corner by corner. */
import { expect, test } from 'vitest';
import { designScenario } from '../../src/design/design-scenario.ts';
import { boundaryPoints } from '../../src/geometry/sampling.ts';
import { balls, planned } from './support/open-scenario.ts';

/** Of a hollow sphere of radius 800 about (0, 0, 1800): its aperture's edge seen through its centre; margin and clearance. */
const EDGE = (20 * 1800) / Math.sqrt(800 ** 2 - 20 ** 2) + 1;
const CLEARANCE = 0.5;

test('planned patches keep clear of the main pattern', () => {
  const { scenario } = planned({
    keepOuts: [],
    substrate: { outline: { circle: { diameter: 150 } }, edgeMargin: 3, clearance: CLEARANCE, thickness: 0 },
    part: {
      origin: [0, 0, 150],
      datums: { M: { sphere: { centre: [0, 0, 1650], diameter: 1600, side: 'inside' } } },
    },
    test: { surface: 'M', aperture: { circle: { diameter: 40 } }, margin: 1 },
    references: balls(3, { patches: 'auto' }),
    wanted: { x: '40 um', y: '40 um', z: '200 um' },
  });
  const made = designScenario(scenario);
  if ('findings' in made) throw new Error('the plan cannot be designed');
  expect(made.design.patches.length).toBeGreaterThanOrEqual(3);
  for (const { outline } of made.design.patches) {
    const { xs, ys } = boundaryPoints(outline, 60);
    xs.forEach((x, k) => {
      expect(Math.hypot(x, ys[k]!)).toBeGreaterThan(EDGE + CLEARANCE - 1e-6);
    });
  }
});
