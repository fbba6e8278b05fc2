import { describe, expect, it } from 'vitest';
import { boundaryPoints } from '../../../src/geometry/sampling.ts';
import { textBox } from '../../../src/writing/drawing/lettering.ts';
import { seatOutline, seatWords } from '../../../src/writing/drawing/seat-model.ts';
import { layoutModel } from '../../../src/writing/drawing/sheet/layout-model.ts';
import { fullBench } from '../../metrology/support/full-bench.ts';
import { curvesOn, textsOn } from './drawn-items.ts';

const seats = [
  {
    id: 'north',
    kind: 'nest',
    diameter: 12.7,
    at: [0, 78],
    face: 'interferometer',
    height: 8,
    footprint: 10,
  },
  { id: 'small', kind: 'ball', diameter: 3, at: [60, 48], footprint: 2 },
];
const design = fullBench({ seats });

describe('seats on the drawing', () => {
  const drawing = layoutModel(design, { version: '0', scenarioHash: 'ab', draft: false });

  it('are drawn as their footprints at true scale, each with its number', () => {
    expect(curvesOn(drawing, 'SEATS').filter(({ kind }) => kind === 'circle')).toMatchObject([
      { kind: 'circle', centre: [0, 78], radius: 5, owner: 'north' },
      { kind: 'circle', centre: [60, 48], radius: 1, owner: 'small' },
    ]);
    expect(textsOn(drawing, 'SEATS').map(({ text }) => text)).toEqual(['SEAT 1', 'SEAT 2']);
  });

  it('bear names that cross no edge of a patch or a seat', () => {
    const outlines = [
      ...design.patches.map(({ outline }) => outline),
      ...design.scenario.seats.map(seatOutline),
    ];
    const points = outlines.flatMap((outline) => {
      const { xs, ys } = boundaryPoints(outline, 720);
      return Array.from(xs, (x, k) => [x, ys[k]!] as const);
    });
    for (const text of textsOn(drawing, 'SEATS')) {
      const { left, bottom, right, top } = textBox(text);
      const crossed = points.filter(([x, y]) => x > left && x < right && y > bottom && y < top);
      expect(crossed, text.text).toEqual([]);
    }
  });

  it('are told in words', () => {
    expect(seatWords(design.scenario.seats)).toBe(
      'SEAT 1 north: nest for a Ø12.7 sphere at (0, 78), on the face toward the interferometer, footprint Ø10, sphere centre 8 above that face; ' +
        'SEAT 2 small: Ø3 ball at (60, 48), on the face toward the part, footprint Ø2, sphere centre 1.5 above that face',
    );
    const many = Array.from({ length: 9 }, () => design.scenario.seats[0]!);
    expect(seatWords(many)).toMatch(/and 3 more$/);
  });

  it('are no layer where there are none', () => {
    const { layers } = layoutModel(fullBench(), { version: '0', scenarioHash: 'ab', draft: false });
    expect(layers.has('SEATS')).toBe(false);
  });
});
