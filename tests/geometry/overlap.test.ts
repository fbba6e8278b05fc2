import { describe, expect, it } from 'vitest';
import { overlapDepth, signedGap } from '../../src/geometry/clearance.ts';
import type { Outline } from '../../src/geometry/outline.ts';

const circle = (x: number, y: number, radius: number): Outline => ({
  shape: 'circle',
  centre: [x, y],
  radius,
});
const box = (x: number, y: number, width: number, height: number): Outline => ({
  shape: 'rectangle',
  centre: [x, y],
  width,
  height,
  rotation: 0,
});

describe('signedGap', () => {
  it.each<[string, Outline, Outline, number]>([
    ['circles apart: the gap', circle(0, 0, 2), circle(3, 4, 1), 2],
    ['circles that overlap: r₁ + r₂ − distance', circle(0, 0, 2), circle(3, 0, 2), -1],
    ['circles that touch', circle(0, 0, 2), circle(4, 0, 2), 0],
    ['boxes that share a strip', box(0, 0, 4, 4), box(3.5, 0, 4, 2), -0.5],
    ['boxes that share an edge', box(0, 0, 4, 4), box(4, 0, 4, 4), 0],
    [
      'in the hole of a ring: apart',
      { shape: 'ring', centre: [0, 0], inner: 5, outer: 8 },
      circle(1, 0, 2),
      2,
    ],
  ])('%s', (_, a, b, gap) => {
    expect(signedGap(a, b)).toBeCloseTo(gap, 8);
    expect(signedGap(b, a)).toBeCloseTo(gap, 8);
  });

  it('tells an outline upon itself from one that only touches', () => {
    expect(overlapDepth(box(1, 2, 4, 4), box(1, 2, 4, 4))).toBeGreaterThan(1);
  });
});
