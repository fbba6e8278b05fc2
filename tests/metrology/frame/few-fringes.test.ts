/**
 * Balls off by a fringe and a half at most along each direction, in pictures by rays with noise of 2 % of full scale: so few fringes are seen that the
 * background explains a part of them. Each is read right, or said not to be sure. Fringes, standard uncertainties.
 */
import { expect, test } from 'vitest';
import { randomFrom } from '../../../src/algebra/random.ts';
import { add, scale, type Vec3 } from '../../../src/geometry/vector.ts';
import { sensesOf } from '../../../src/metrology/sensing/sensitivity.ts';
import { exampleOf } from './scene.ts';
import { flat } from './support/judged.ts';
import { readByRays } from './support/ray-window.ts';
import { goodOf } from './support/read-taken.ts';
import { readWhole } from './support/whole-frames.ts';

const SIZE = 64;
const NOISE = 0.02;
const MOST = 1.5;
const STARTS = 40;
const FAR = 5;

test.each([
  ['infrared-collimated', 'upper-sector', 0.9],
  // Without a bias, what is nearly aligned shows no fringe.
  ['infrared-collimated', 'lower-circle', 0.7],
  ['diverging-balls', 'left', 0.75],
] as const)('in %s, patch %s', (example, id, fewest) => {
  const design = exampleOf(example);
  const patch = design.patches.find((one) => one.id === id)!;
  const random = randomFrom('few');
  const all = Array.from({ length: STARTS }, (_, k) => {
    const move = sensesOf(design, patch).reduce<Vec3>(
      (sum, { direction, fringesPerMm }) =>
        add(sum, scale(direction, (MOST * (2 * random.uniform() - 1)) / fringesPerMm)),
      [0, 0, 0],
    );
    return readByRays(design, patch, move, SIZE, { sigma: NOISE, seed: `${k}` });
  });
  const good = goodOf(all);
  expect(good.length).toBeGreaterThanOrEqual(fewest * STARTS);
  const over = flat(good, 'over').map(Math.abs);
  expect(over.filter((each) => each > FAR)).toEqual([]);
  expect(over.filter((each) => each < 2).length).toBeGreaterThan(0.9 * over.length);
});

test('a frame in which a search past the background led to another place is read right', () => {
  const design = exampleOf('infrared-collimated', 700);
  const references = new Map<string, Vec3>([
    ['upper', [0.016415074206738, 0.04298086909999252, 0.1144044142498544]],
    ['lower', [0.011401855947597, 0.03397471026034989, -0.2156856314899461]],
    ['aside', [-0.009088030200933, 0, 0.00018903102817942]],
  ]);
  const all = readWhole(design, { references, seed: '2', by: 'rays' });
  expect(all).toHaveLength(4);
  expect(goodOf(all)).toHaveLength(4);
  for (const { id, over } of all)
    expect({ id, far: over.filter((each) => Math.abs(each!) > FAR) }).toEqual({ id, far: [] });
});
