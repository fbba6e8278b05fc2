/**
 * The bound of the second derivatives of a wave seen through glass (1/mm), near the axis that it closes in on or comes from: no
 * difference quotient of its slopes in the rectangle is above it, and it is not far above them. Without glass the curvature across
 * the axis is cos α/ρ.
 */
import { expect, test } from 'vitest';
import { randomFrom } from '../../src/algebra/random.ts';
import { unit, type Vec3 } from '../../src/geometry/vector.ts';
import { conicalWave, ringFocusWave } from '../../src/optics/air-wave.ts';
import { type Eikonal, gradientAt } from '../../src/optics/eikonal.ts';
import { layeredWave } from '../../src/optics/layered-wave.ts';

const [THICKNESS, INDEX, HALF_ANGLE] = [6.35, 1.457, (80 * Math.PI) / 180];
const AXIS = unit([0.01, -0.02, 1]);
const BACK: Vec3 = [-AXIS[0], -AXIS[1], -AXIS[2]];
/** On the axis that passes (1, 1) near the glass. */
const onAxis = (z: number): Vec3 => [1 + (z * AXIS[0]) / AXIS[2], 1 + (z * AXIS[1]) / AXIS[2], z];
const WAVES: Record<string, Eikonal> = {
  'closing in on the axis of a cone': layeredWave(
    conicalWave(onAxis(70), AXIS, HALF_ANGLE, 'outside'),
    THICKNESS,
    INDEX,
  ),
  'coming from the axis of a cone': layeredWave(
    conicalWave(onAxis(170), BACK, HALF_ANGLE, 'inside'),
    THICKNESS,
    INDEX,
  ),
  'running to the circle of a torus': layeredWave(ringFocusWave(onAxis(150), AXIS, 35, 1), THICKNESS, INDEX),
};
/** mm from the axis to the rectangle's middle, and half its side. */
const RECTANGLES = [
  [3, 0.3],
  [6, 1],
  [12, 2],
  [20, 1],
] as const;
/** The bound is for the worst place that a ray of the rectangle may pass. */
const NOT_FAR = 3;

test.each(Object.entries(WAVES))('a wave %s bends by no more than the bound', (_, wave) => {
  const random = randomFrom('bends');
  for (const [away, half] of RECTANGLES)
    for (const turn of [0.3, 2, 4]) {
      const [x, y] = [1 + away * Math.cos(turn), 1 + away * Math.sin(turn)];
      const box = { minX: x - half, maxX: x + half, minY: y - half, maxY: y + half };
      const bound = wave.curvatureBound(box);
      let most = 0;
      for (let k = 0; k < 200; k++) {
        const [u, v] = [x + half * (2 * random.uniform() - 1), y + half * (2 * random.uniform() - 1)];
        const angle = 2 * Math.PI * random.uniform();
        most = Math.max(most, Math.abs(bendAt(wave, u, v, angle)));
      }
      expect(most).toBeLessThanOrEqual(bound * (1 + 1e-6));
      expect(bound).toBeLessThan(NOT_FAR * most);
    }
});

test('where no ray leaves there is no bound', () => {
  const wave = WAVES['closing in on the axis of a cone']!;
  expect(wave.curvatureBound({ minX: 1, maxX: 1.1, minY: 1, maxY: 1.1 })).toBe(Number.POSITIVE_INFINITY);
  expect(wave.curvatureBound({ minX: -5, maxX: 5, minY: -5, maxY: 5 })).toBe(Number.POSITIVE_INFINITY);
});

function bendAt(wave: Eikonal, x: number, y: number, angle: number, h = 1e-4): number {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const [ahead, behind] = [gradientAt(wave, x + h * c, y + h * s), gradientAt(wave, x - h * c, y - h * s)];
  return ((ahead[0] - behind[0]) * c + (ahead[1] - behind[1]) * s) / (2 * h);
}
