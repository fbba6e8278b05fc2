/** A reference's own figures take the place of common practice, for it alone. */
import { describe, expect, it } from 'vitest';
import { nest, touchForm, touchRadius } from '../../src/metrology/budget/mounting-errors.ts';
import { COMMON_PRACTICE } from '../../src/metrology/budget/practice.ts';
import { readingsOf } from '../../src/metrology/budget/readings.ts';
import { apexCentring, ballForm } from '../../src/metrology/budget/reference-errors.ts';
import { findingsOf } from '../rules/support/fact.ts';
import { RULE } from '../rules/support/rule-codes.ts';
import { designFrom, linePatch, pointPatch, type Words } from './support/design-from.ts';

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

/** µm: the combined standard uncertainty as a user is told it, of a wish that nothing meets. */
function told(degree: string, words: Words): number {
  const found = findingsOf({ ...words, wanted: { [degree]: '1e-6 um' } }).filter(
    ({ rule }) => rule === RULE.missesWanted,
  );
  expect(found).toHaveLength(1);
  return found[0]!.value!;
}
/** Of tolerances ±a, each rectangular (JCGM 100, 4.3.7), beside standard uncertainties. */
const combined = (u: readonly number[], tolerances: readonly number[]): number =>
  Math.hypot(...u, ...tolerances.map((a) => a / Math.sqrt(3)));

describe('three references on a face, their heights measured to 5 µm: by hand', () => {
  const onFace = (references: readonly Words[]): Words => ({
    part: { origin: [0, 0, 900], datums: { A: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } } } },
    references: references.map((words, k) => {
      const angle = (2 * Math.PI * k) / 3;
      const touch = { datum: 'A', x: 100 * Math.cos(angle), y: 100 * Math.sin(angle) };
      return { id: `r${k}`, touches: [touch], ...words };
    }),
    measurements: references.map((_, k) => {
      return { id: `m${k}`, reference: `r${k}`, direction: [0, 0, 1], uncertainty: '5 um' };
    }),
  });
  const ball = (more: Words = {}): Words => ({ kind: 'ball', diameter: 12.7, ...more });
  const smr = (more: Words = {}): Words => ({ kind: 'smr', diameter: 38.1, ...more });
  // Defaults in µm. A tooling ball of 0.5 in +0/−0.0004 in: the radius ±2.54; an SMR ±0.0001 in on the diameter: ±1.27 (common
  // practice, no source). Form of ISO 3290, grade 10: 0.25.
  const [BALL, SMR, FORM] = [2.54, 1.27, 0.25];

  it.each([
    ['balls by common practice', [ball(), ball(), ball()], [1, 1, 1].map(() => [FORM, BALL])],
    ['SMRs by common practice', [smr(), smr(), smr()], [1, 1, 1].map(() => [FORM, SMR])],
    [
      'one SMR between two balls',
      [ball(), smr(), ball()],
      [
        [FORM, BALL],
        [FORM, SMR],
        [FORM, BALL],
      ],
    ],
    [
      'a ball’s own radius, for it alone',
      [ball({ radiusTolerance: '30 um' }), ball(), smr()],
      [
        [FORM, 30],
        [FORM, BALL],
        [FORM, SMR],
      ],
    ],
    [
      'an SMR’s own radius and another one’s form',
      [smr({ radiusTolerance: '20 um' }), smr({ form: '15 um' }), ball()],
      [
        [FORM, 20],
        [15, SMR],
        [FORM, BALL],
      ],
    ],
    [
      'a centring is of what patches see: it is not felt here',
      [smr({ centring: '50 um' }), smr(), smr()],
      [1, 1, 1].map(() => [FORM, SMR]),
    ],
  ])('%s', (_, references, tolerances) => {
    // Three heights tell z as their mean.
    const each = tolerances.map((list) => combined([5], list));
    expect(told('z', onFace(references))).toBeCloseTo(Math.hypot(...each) / 3, 9);
  });
});

describe('one reference in a given place, seen straight on by one patch: what a figure adds to the variance', () => {
  // The beam's focus aside: with a carrier across the patch its orders stand apart.
  const interferometer = { focus: [100, 60, -500] };
  const cube = (more: Words): Words => ({
    interferometer,
    references: [{ id: 'r', kind: 'smr', diameter: 38.1, frame: 'part', at: [0, 0, 0], nest: 0, ...more }],
    patches: [linePatch('p', 'r', [0, 0], 90)],
    part: { origin: [0, 0, 900] },
  });
  const ball = (more: Words): Words => ({
    interferometer,
    references: [{ id: 'r', kind: 'ball', diameter: 12.7, frame: 'part', at: [0, 0, 0], nest: 0, ...more }],
    patches: [pointPatch('p', 'r', [0, 0])],
    part: { origin: [0, 0, 200] },
  });
  const variance = (words: Words): number => told('x', words) ** 2;

  it.each([
    ['an SMR’s centring', cube({ centring: '9 um' }), cube({ centring: 0 }), 9],
    ['an SMR’s centring by common practice', cube({}), cube({ centring: 0 }), 6],
    ['an SMR’s form, where it touches nothing', cube({ form: '9 um' }), cube({ form: 0 }), 0],
    ['an SMR’s radius, where it touches nothing', cube({ radiusTolerance: '9 um' }), cube({}), 0],
    ['a ball’s form', ball({ form: '9 um' }), ball({ form: 0 }), 9],
    ['a ball’s form by common practice', ball({}), ball({ form: 0 }), 0.25],
    ['a ball’s radius, where it touches nothing', ball({ radiusTolerance: '9 um' }), ball({}), 0],
    ['a nest', ball({ nest: '9 um' }), ball({}), 9],
    ['a nest by common practice', ball({ nest: undefined }), ball({}), 2.5],
  ])('%s', (_, more, less, halfWidth) => {
    expect(variance(more) - variance(less)).toBeCloseTo(halfWidth ** 2 / 3, 8);
  });
});
