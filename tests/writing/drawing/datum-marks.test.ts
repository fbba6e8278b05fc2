/**
 * Datum marks (ISO 5459): the triangle stands on what the letter names, with its base along the edge or across the line of the diameter,
 * and points away from the substrate.
 */
import { describe, expect, it, test } from 'vitest';
import type { Outline } from '../../../src/geometry/outline.ts';
import { datumMarks, datumsOf } from '../../../src/writing/drawing/datum-marks.ts';
import { isText } from '../../../src/writing/drawing/drawing.ts';
import { writeCurves } from '../../../src/writing/drawing/outline-model.ts';
import { circle, square } from './drawn-designs.ts';

const TEXT = 2.5;
const RECTANGLE: Outline = { shape: 'rectangle', centre: [5, -3], width: 80, height: 60, rotation: 0 };

test.each<[string, Outline, string]>([
  ['a circle', circle(40), 'A'],
  ['a ring', { shape: 'ring', centre: [1, 2], inner: 10, outer: 40 }, 'A'],
  ['a rectangle', RECTANGLE, 'A B'],
  ['a rectangle turned by a right angle', square([0, 0], 50, Math.PI / 2), 'A B'],
  ['a rectangle turned by 20 degrees', square([0, 0], 50, Math.PI / 9), ''],
  [
    'a triangle with its point at the left',
    {
      shape: 'polygon',
      points: [
        [-20, 0],
        [20, -20],
        [20, 20],
      ],
    },
    '',
  ],
])('%s has the datums %s', (_, outline, letters) => {
  expect(
    datumsOf(outline)
      .map(({ letter }) => letter)
      .join(' '),
  ).toBe(letters);
});

/** Corners of the triangles, in the marks' order. */
const triangles = (outline: Outline) =>
  datumMarks(outline, TEXT, 0)
    .items.flatMap((item) =>
      isText(item) || !item.closed
        ? []
        : writeCurves(item, { loop: (loop) => loop, line: () => [], circle: () => [] }),
    )
    .filter((loop) => loop.length === 3)
    .map((loop) => loop.map(({ point }) => point));

describe('the triangles', () => {
  it('of a rectangle stand with their bases on the lines of the left and the bottom edge, outside', () => {
    const [left, bottom] = triangles(RECTANGLE);
    expect(left!.map(([x]) => x).sort((a, b) => a - b)).toEqual([-35 - 0.8 * TEXT, -35, -35]);
    expect(left!.every(([, y]) => y > 27)).toBe(true);
    expect(bottom!.map(([, y]) => y).sort((a, b) => a - b)).toEqual([-33 - 0.8 * TEXT, -33, -33]);
    expect(bottom!.every(([x]) => x > 45)).toBe(true);
  });

  it('of a round edge stands at the end of the line of its diameter, along it', () => {
    const [axis, ...more] = triangles(circle(40));
    expect(more).toEqual([]);
    const [[, low], [tipX, tipY], [, high]] = axis as [number, number][] as [
      [number, number],
      [number, number],
      [number, number],
    ];
    expect(tipX).toBeGreaterThan(40);
    expect((low + high) / 2).toBeCloseTo(tipY, 12);
    expect(tipY).toBeLessThan(-40);
  });
});
