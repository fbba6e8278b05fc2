/**
 * A ball with a tilt bias shows bias and tilt as one: of n fringes beside a bias of B the picture is also that of −n − 2B, along the bias, and of the
 * power with its sign turned. Both are said, the one below the bias first; whoever knows that the tilt is below it knows the sign. Fringes.
 */
import { expect, test } from 'vitest';
import { readPatch, SURE_QUALITY } from '../../../src/metrology/frame/read-patch.ts';
import '../../machine/patience.ts';
import { exampleOf, sceneOf } from './scene.ts';

const FAR = 4;
const design = exampleOf('diverging-balls');

test.each(
  design.patches.filter(({ bias }) => bias?.shape === 'tilt').map((patch) => [patch.id, patch] as const),
)('the ball on %s', (id, patch) => {
  let isTold = false;
  for (const off of [0.3, 1.5]) {
    const { truth, frame, map } = sceneOf(design, patch, { seed: id, off });
    const { values, other, signKnown, quality } = readPatch(design, patch, [frame], map);
    expect(signKnown).toBe(false);
    expect(quality).toBeLessThan(SURE_QUALITY);
    const offBy = (read: typeof other): number =>
      Math.max(...truth.map((fringes, k) => Math.abs(read![k]!.fringes - fringes) / read![k]!.uncertainty));
    const first = values as NonNullable<typeof other>;
    expect(Math.min(offBy(first), offBy(other))).toBeLessThan(FAR);
    // The two powers are one another's opposite.
    expect(Math.abs(first[2]!.fringes + other![2]!.fringes)).toBeLessThan(0.1);
    if (offBy(first) > FAR) continue;
    isTold = true;
    const below = readPatch(design, patch, [frame], map, { belowBias: true });
    expect(below.signKnown).toBe(true);
    expect(below.quality).toBeGreaterThan(SURE_QUALITY);
    expect(offBy(below.values as NonNullable<typeof other>)).toBeLessThan(FAR);
  }
  expect(isTold).toBe(true);
});
