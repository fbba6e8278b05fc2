import { describe, expect, it } from 'vitest';
import { seatWords } from '../../../src/writing/drawing/seat-model.ts';
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
    expect(curvesOn(drawing, 'SEATS')).toMatchObject([
      { kind: 'circle', centre: [0, 78], radius: 5, owner: 'north' },
      { kind: 'circle', centre: [60, 48], radius: 1, owner: 'small' },
    ]);
    expect(textsOn(drawing, 'SEATS').map(({ text }) => text)).toEqual(['S1', 'S2']);
  });

  it('are told in words', () => {
    expect(seatWords(design.scenario.seats)).toBe(
      'S1 north: nest for a sphere Ø12.7 at (0, 78), face toward the interferometer, footprint Ø10, centre 8 above it; ' +
        'S2 small: ball Ø3 at (60, 48), face toward the part, footprint Ø2, centre 1.5 above it',
    );
    const many = Array.from({ length: 9 }, () => design.scenario.seats[0]!);
    expect(seatWords(many)).toMatch(/and 3 more$/);
  });

  it('are no layer where there are none', () => {
    const { layers } = layoutModel(fullBench(), { version: '0', scenarioHash: 'ab', draft: false });
    expect(layers.has('SEATS')).toBe(false);
  });
});
