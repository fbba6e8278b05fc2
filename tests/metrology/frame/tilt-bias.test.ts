/**
 * A ball with a tilt bias shows bias and tilt as one: of n fringes beside a bias of B the picture is also that of −n − 2B, along the bias, and of the
 * power with its sign turned. Both are said and are sure together, the one below the bias first; whoever knows that the tilt is below it knows the sign. Fringes.
 */
import { expect, test } from 'vitest';
import { readPatch, SURE_QUALITY } from '../../../src/metrology/frame/read-patch.ts';
import { toBenchReading } from '../../../src/metrology/frame/to-bench-reading.ts';
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
    const read = readPatch(design, patch, [frame], map);
    const { values, other, signKnown, quality } = read;
    expect(signKnown).toBe(false);
    expect(quality >= SURE_QUALITY).toBe(other !== undefined);
    if (other === undefined) continue;
    const offBy = (some: typeof other): number =>
      Math.max(...truth.map((fringes, k) => Math.abs(some![k]!.fringes - fringes) / some![k]!.uncertainty));
    expect(toBenchReading(read)).toMatchObject({ signKnown: false, or: other.map(({ fringes }) => fringes) });
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
