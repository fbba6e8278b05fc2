/** A reference's own figures take the place of common practice, for it alone. */
import { describe, expect, it } from 'vitest';
import { nest, touchForm, touchRadius } from '../../src/metrology/budget/mounting-errors.ts';
import { COMMON_PRACTICE } from '../../src/metrology/budget/practice.ts';
import { readingsOf } from '../../src/metrology/budget/readings.ts';
import { apexCentring, ballForm } from '../../src/metrology/budget/reference-errors.ts';
import { designFrom, linePatch, pointPatch } from './support/design-from.ts';

const touches = [{ datum: 'B', azimuth: 90 }, { datum: 'A' }];
const design = designFrom({
  part: {
    origin: [0, 0, 900],
    datums: {
      A: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } },
      B: { cylinder: { point: [0, 0, 0], axis: [0, 0, 1], diameter: 240 } },
    },
  },
  references: [
    {
      id: 'told',
      kind: 'smr',
      diameter: 38.1,
      touches,
      centring: '3 um',
      form: '0.1 um',
      radiusTolerance: '5 um',
    },
    { id: 'untold', kind: 'smr', diameter: 38.1, at: [0, 100, 900] },
    { id: 'ball', kind: 'ball', diameter: 12.7, at: [0, 60, 200], form: '1 um', nest: '0 um' },
  ],
  patches: [
    linePatch('a', 'told', [0, 50], 0),
    linePatch('b', 'untold', [0, 35], 0),
    pointPatch('c', 'ball', [0, 20]),
  ],
});
const readings = readingsOf(design);
const um = (model: typeof nest, named: string): number[] =>
  model(design, readings, COMMON_PRACTICE)
    .filter(({ name }) => name.startsWith(`${named} `) || name === named)
    .map(({ u }) => u * Math.sqrt(3) * 1000);

describe('own figures', () => {
  it.each([
    ['centring', apexCentring, 'told', 3, 3],
    ['centring by default', apexCentring, 'untold', 6, 3],
    ['form on its touches', touchForm, 'told', 0.1, 2],
    ['form of a ball', ballForm, 'ball', 1, 3],
    ['radius', touchRadius, 'told', 5, 1],
    ['nest of 0', nest, 'ball', 0, 3],
    ['nest by default', nest, 'untold', 2.5, 3],
  ])('%s', (_name, model, named, halfWidth, count) => {
    const found = um(model, named);
    expect(found).toHaveLength(count);
    for (const value of found) expect(value).toBeCloseTo(halfWidth, 12);
  });
});
