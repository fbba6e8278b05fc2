/**
 * Where the phase of a ring counts from, waves at order 1: from the ring's centre, though the axis of its cone or torus may pass there,
 * unless glass after the pattern lets no ray leave the centre; then from its outer edge in +x. The paths come from a search for
 * stationary ones (tests/independent), the rays from a scan over directions.
 */
import { describe, expect, test } from 'vitest';
import { randomFrom } from '../../src/algebra/random.ts';
import { scenePhase, wayToDatum } from '../independent/scene-phase.ts';
import { designFrom } from '../metrology/support/design-from.ts';
import { CASES, ring, ringScene, wordsOf } from '../pattern/ring-scenes.ts';

/** Waves: 1e-10 mm of path by brute force. */
const AGREEMENT = 2e-4;
const [INNER, OUTER] = [20, 21];
const OUTLINE = ring(2 * INNER, 2 * OUTER);

describe.each([true, false])('tilted and off the axis: %s', (isTilted) => {
  test.each(CASES)(
    'the phase of a ring for a %s, pattern toward the %s, counts from one stated place',
    (...of) => {
      const scene = ringScene(of, OUTLINE, isTilted);
      const { centre, phase } = designFrom(wordsOf(scene)).patches[0]!;
      const hasRayAtCentre = of[0] === 'torus' || of[1] === 'part';
      expect(phase.zeroAt).toEqual(hasRayAtCentre ? centre : [OUTER, 0]);
      expect(Math.abs(phase.phase(...phase.zeroAt))).toBeLessThan(1e-9);
      const wanted = scenePhase(scene, 'ring');
      const random = randomFrom('ring phases');
      for (let k = 0; k < 25; k++) {
        const [r, t] = [INNER + (OUTER - INNER) * random.uniform(), 2 * Math.PI * random.uniform()];
        const at = [r * Math.cos(t), r * Math.sin(t)] as const;
        expect(Math.abs(phase.phase(...at) - wanted(...at)), `at ${at}`).toBeLessThan(AGREEMENT);
      }
    },
  );
});

test('no ray from the centre of a ring through the glass meets a cone square on, rays from the ring do', () => {
  const scene = ringScene(['cone', 'interferometer'], OUTLINE, false);
  const { phase } = designFrom(wordsOf(scene)).patches[0]!;
  const [lost, met] = [leastMiss([0, 0], scene), leastMiss([OUTER, 0], scene)];
  // The light closes in on the axis at about cos 80°; one step of the scan is the least that can be told.
  expect(lost).toBeGreaterThan(0.9 * Math.cos((80 * Math.PI) / 180));
  expect(met).toBeLessThan(STEP);
  expect(phase.phase(0, 0)).toBeNaN();
  expect(phase.gradient(0, 0)).toEqual([Number.NaN, Number.NaN]);
});

/** Of the scanned lateral cosines. */
const STEP = 0.01;
const REACH = 0.3;
/** mm, of the difference quotients; a way that bends by more than this part of it has no slope. */
const APART = 1e-4;
const KINK = 0.002;

/**
 * The least difference, over all directions, between the cosines of a ray from P past the glass and those square to the cone there:
 * the slope of the way to the cone. On the axis the way has a kink and no slope, so that no ray is square to the cone.
 */
function leastMiss([x, y]: readonly [number, number], scene: ReturnType<typeof ringScene>): number {
  const way = wayToDatum(scene, 'ring');
  const { thickness = 0, index = 1 } = scene.substrate;
  let least = Number.POSITIVE_INFINITY;
  for (let p = -REACH; p <= REACH; p += STEP)
    for (let q = -REACH; q <= REACH; q += STEP) {
      const run = thickness / Math.sqrt(index ** 2 - p ** 2 - q ** 2);
      const [qx, qy] = [x + p * run, y + q * run];
      const [right, left] = [1, -1].map((side) => way([qx + side * APART, qy, thickness])) as [
        number,
        number,
      ];
      const [up, down] = [1, -1].map((side) => way([qx, qy + side * APART, thickness])) as [number, number];
      const bend = Math.abs(right + left - up - down) + Math.abs(right + left - 2 * way([qx, qy, thickness]));
      if (!(bend < KINK * APART)) continue;
      const slope = [(left - right) / (2 * APART), (down - up) / (2 * APART)] as const;
      least = Math.min(least, Math.hypot(slope[0] - p, slope[1] - q));
    }
  return least;
}
