/**
 * How an edge bends beside a stationary point, against the circle through three points of the edge, found by bisection: an extreme and
 * a saddle, turned, of either sign. mm.
 */
import { expect, test } from 'vitest';
import type { Vec2 } from '../../src/geometry/vector.ts';
import { turnsOf } from '../../src/pattern/narrowest.ts';
import { QuadraticPhase, rectangle } from './sample-patches.ts';

const DUTY = 0.3;
const TURN = 0.4;
const [C, S] = [Math.cos(TURN), Math.sin(TURN)];

/** Φ = value + (p u² + q v²)/2 about the middle of a square of 2 mm, u and v turned by TURN. */
function phaseOf(value: number, p: number, q: number) {
  const [xx, xy, yy] = [(p * C * C + q * S * S) / 2, (p - q) * C * S, (p * S * S + q * C * C) / 2];
  const phi = ([x, y]: Vec2): number => value + xx * x * x + xy * x * y + yy * y * y;
  return { phi, phase: new QuadraticPhase([0, 0], { xx, xy, yy, x: 0, y: 0, constant: value }) };
}

/** The middle of the circle through a tip and two points of its level beside it. */
function circleAt(phi: (at: Vec2) => number, tip: Vec2): { middle: Vec2; radius: number } {
  const away = Math.hypot(...tip);
  const out: Vec2 = [tip[0] / away, tip[1] / away];
  const onLevel = (side: number): Vec2 => {
    const at = (run: number): Vec2 => [
      tip[0] + run * out[0] - side * out[1],
      tip[1] + run * out[1] + side * out[0],
    ];
    let [low, high] = [-away / 4, away / 4];
    const sign = Math.sign(phi(at(high)) - phi(tip));
    for (let k = 0; k < 60; k++) {
      const run = (low + high) / 2;
      if ((phi(at(run)) - phi(tip)) * sign > 0) high = run;
      else low = run;
    }
    return at(low);
  };
  const side = away * 0.01;
  const beside = onLevel(side);
  // Both sides alike: the chord lies square to the axis, `sag` from the tip.
  const sag = (beside[0] - tip[0]) * out[0] + (beside[1] - tip[1]) * out[1];
  const along = (side * side) / (2 * sag) + sag / 2;
  return { middle: [tip[0] + along * out[0], tip[1] + along * out[1]], radius: Math.abs(along) };
}

test.each([
  ['a least value', 0.25, 90, 40],
  ['a greatest value', 0.35, -90, -40],
  ['a saddle', 0.2, 90, -40],
  ['a saddle turned the other way', 0.9, -60, 80],
])('beside %s: radius and side of each bend', (_, value, p, q) => {
  const { phi, phase } = phaseOf(value, p, q);
  const { bends } = turnsOf({ outline: rectangle([0, 0], 2), phase }, DUTY);
  expect(bends).toHaveLength(4);
  for (const { at, radius, away, closesOutward } of bends) {
    const level = phi(at);
    const share = level - Math.floor(level + 1e-6);
    // Every level is an edge of a line: k where the line begins, k + duty where it ends.
    expect(Math.min(Math.abs(share), Math.abs(share - DUTY))).toBeLessThan(1e-6);
    expect(away).toBeCloseTo(Math.hypot(...at), 9);
    const circle = circleAt(phi, at);
    expect(radius / circle.radius).toBeCloseTo(1, 3);
    // A step toward the middle of the bend either leaves the line, as an outward shift does, or goes into it.
    const step = 1e-3 * radius;
    const toward: Vec2 = [
      at[0] + (step * (circle.middle[0] - at[0])) / circle.radius,
      at[1] + (step * (circle.middle[1] - at[1])) / circle.radius,
    ];
    const there = phi(toward) - Math.floor(phi(toward));
    expect(closesOutward).toBe(there > DUTY);
  }
});
