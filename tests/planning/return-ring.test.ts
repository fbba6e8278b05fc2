/** Return rings that the planner places: whole, as far out as they fit, beside all else; and what is said where none does. */
import { describe, expect, test } from 'vitest';
import { designScenario } from '../../src/design/design-scenario.ts';
import type { RingOutline } from '../../src/geometry/outline.ts';
import { fillingOf } from '../../src/planning/filling.ts';
import { fillOpenPlaces } from '../../src/reading/scenario/fill-open-places.ts';
import { readOpenScenario, readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { applyRules } from '../../src/rules/all-rules.ts';
import { balls, finished, openFrom, openScenario, planned, type Words } from './support/open-scenario.ts';
import '../machine/patience.ts';

const SELF: Words = { id: 'self', kind: 'return', patches: 'auto' };
const ringOf = (words: Words): RingOutline => {
  const { planned: patches } = planned(words);
  const { patch } = patches.find((one) => one.patch.focus === 'return')!;
  return patch.outline as RingOutline;
};

describe('a return ring left to the planner', () => {
  // The beam of f/3.2 from 500 mm off is 78.125 mm in radius, the glass 75 with 3 of margin.
  test('stands at the edge margin, at least 3 mm wide', () => {
    const interferometer = { focus: [0, 0, -500], fNumber: 3.2, pixelsAcrossBeam: 2000 };
    expect(ringOf({ references: [SELF], interferometer })).toMatchObject({
      outer: 72,
      inner: 69,
      centre: [0, 0],
    });
  });

  test('is 20 camera pixels wide where those are coarse', () => {
    const interferometer = { focus: [0, 0, -500], fNumber: 3.2, pixelsAcrossBeam: 500 };
    const { outer, inner } = ringOf({ references: [SELF], interferometer });
    expect(outer - inner).toBeGreaterThanOrEqual((20 * 2 * 78.125) / 500);
    expect(outer - inner).toBeLessThan((20 * 2 * 78.125) / 500 + 0.2);
  });

  test('stays in the beam, about the beam’s middle', () => {
    const interferometer = { focus: [6, -4, -500], fNumber: 4 };
    const { centre, outer } = ringOf({ references: [SELF], interferometer });
    expect(centre).toEqual([6, -4]);
    expect(outer).toBeGreaterThan(61.9);
    expect(outer).toBeLessThanOrEqual(62.5);
  });

  test('goes inward where the process cannot write it, and no farther: sin θ of Littrow is λ/(4 features)', () => {
    const { outer } = ringOf({ references: [SELF], process: { minFeature: '1.2 um' } });
    const sine = 632.8e-6 / (4 * 1.2e-3);
    const most = (500 * sine) / Math.sqrt(1 - sine * sine);
    expect(outer).toBeLessThanOrEqual(most);
    expect(outer).toBeGreaterThan(most - 0.6);
  });

  test('beside a given patch, with the clearance; a second ring within the first', () => {
    const given = {
      id: 'x',
      reference: 'b1',
      focus: 'point',
      centre: [0, 66],
      outline: { circle: { diameter: 8 } },
    };
    expect(ringOf({ references: [SELF, ...balls(1)], patches: [given] }).outer).toBeLessThanOrEqual(61.5);
    const two = planned({ references: [SELF, { ...SELF, id: 'again' }] }).planned.map(({ patch }) => patch);
    expect(two.map(({ id }) => id)).toEqual(['self-1', 'again-1']);
    const [first, second] = two.map(({ outline }) => outline as RingOutline);
    expect(first!.inner - second!.outer).toBeGreaterThanOrEqual(0.5);
  });

  test('with balls to plan as well: written into the file, which then breaks no rule', () => {
    const { text } = openScenario({
      references: [SELF, ...balls(3, { patches: 'auto' })],
      wanted: { x: '15 um', y: '15 um', z: '80 um' },
    });
    const { scenario, open } = openFrom(text);
    const plan = finished(scenario, open);
    expect(plan.reasons).toEqual([]);
    const filled = fillOpenPlaces(text, fillingOf(plan, open, readOpenScenario(text, 's').listed!))!;
    expect(filled).toContain('outline: {ring: {inner: 137.6, outer: 144}}');
    const read = readScenario(filled, 's');
    expect(read.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(read.scenario!.patches.map(({ id }) => id)).toEqual(plan.scenario.patches.map(({ id }) => id));
    const made = designScenario(read.scenario!);
    if ('findings' in made) throw new Error('not designed');
    expect(applyRules(made.design).filter(({ severity }) => severity === 'error')).toEqual([]);
  });

  test('without room for a whole one: said, with what would help, and left open', () => {
    const bar = { id: 'bar', outline: { rectangle: { width: 150, height: 8 } } };
    const { text } = openScenario({ references: [SELF], keepOuts: [bar] });
    const { scenario, open } = openFrom(text);
    const plan = finished(scenario, open);
    expect(plan.reasons.join()).toMatch(/no place for a whole return ring .* for self.*sectors/);
    expect(fillingOf(plan, open, ['self'])).toEqual({
      values: [],
      added: [],
      left: [{ path: ['references', 0, 'patches'], of: 'reference self' }],
    });
  });
});

describe('what the planner does not place', () => {
  const part = { origin: [0, 0, 150], datums: { A: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } } } };
  const faults = (words: Words): string =>
    readOpenScenario(JSON.stringify({ ...BASE, part, ...words }), 's.yaml')
      .findings.map(({ rule, message, hint }) => `${rule}: ${message}; ${hint}`)
      .join('\n');
  const BASE = JSON.parse(openScenario({ references: [SELF] }).text);

  test('a datum feature’s patches: the scenario does not say how far the feature reaches', () => {
    const references = [{ id: 'face', kind: 'datum', datum: 'A', patches: 'auto' }];
    expect(faults({ references })).toMatch(
      /^conflicting-keys: .*datum feature.*focus: normal, centre: \[0, 0\], outline: \{ring: \{inner: 120, outer: 126\}\}/,
    );
  });

  test.each(['return', 'normal'])('open places of a patch with `focus: %s`', (focus) => {
    const references = [
      focus === 'return' ? { id: 'r', kind: 'return' } : { id: 'r', kind: 'datum', datum: 'A' },
    ];
    const patches = [{ id: 'p', reference: 'r', focus, centre: 'auto', outline: 'auto' }];
    const text = faults({ references, patches });
    expect(text.match(/^conflicting-keys: `plan` does not change a patch/gm)).toHaveLength(2);
    expect(text).toContain(focus === 'return' ? '`patches: auto` at its reference' : 'outline: {ring:');
  });
});
