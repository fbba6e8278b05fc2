/**
 * Plans that only a figure is asked of: the rules that a user's check would ask find nothing, by a design made anew from the planned scenario.
 * nm rms of surface height.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { designScenario } from '../../src/design/design-scenario.ts';
import { estimatePose } from '../../src/metrology/estimate/pose-estimate.ts';
import { figureError } from '../../src/metrology/null/figure-error.ts';
import { motionMaps } from '../../src/metrology/null/motion-maps.ts';
import { Layout } from '../../src/planning/layout.ts';
import type { Plan } from '../../src/planning/plan.ts';
import { applyRules } from '../../src/rules/all-rules.ts';
import { designFrom, type Words } from '../metrology/support/design-from.ts';
import { parabolaScene } from '../metrology/support/parabola-scene.ts';
import { finished, openFrom, planned } from './support/open-scenario.ts';
import '../machine/patience.ts';

const NM = 1e6;
/** Of the search, so that a test takes a second or two. */
const FEW = { sites: 60 };

/** What misalignment is expected to leave, and the errors, by a design from the planned scenario. */
function checked(plan: Plan): { left: number; errors: readonly string[] } {
  const made = designScenario(plan.scenario);
  if ('findings' in made) throw new Error(made.findings.map(({ message }) => message).join('\n'));
  const errors = applyRules(made.design).filter(({ severity }) => severity === 'error');
  return {
    left: NM * figureError(made.design)!.expected!,
    errors: errors.map(({ message }) => message),
  };
}

/** The example's own surface, beam and references, all patches left to the planner, and nothing wished but the figure. */
function offAxis(figure: string): Plan {
  const text = readFileSync('examples/off-axis-asphere.yaml', 'utf8')
    .replace(/^patches:[\s\S]*/m, 'patches: []\n')
    .replaceAll('frame: part}', 'frame: part, patches: auto}')
    .replace('figure: 5 nm', `figure: ${figure}`);
  const { scenario, open } = openFrom(text);
  expect(scenario.wanted).toEqual({});
  expect(open.references).toHaveLength(3);
  return finished(scenario, open, FEW);
}

/** A paraboloid whose six patches have their places and sizes open, the hologram well placed. */
const placed = { x: '5 um', y: '5 um', z: '20 um', rx: '5 urad', ry: '5 urad' };
function onAxis(figure: string, more: Words = {}): Words {
  const words = parabolaScene({ test: { figure } });
  const patches = (words.patches as Words[]).map(({ outline: _, ...patch }) => ({
    ...patch,
    ...{ centre: 'auto', lineAngle: 'auto', outline: 'auto', size: { least: '4 mm', most: '25 mm' } },
  }));
  return {
    ...words,
    interferometer: { ...(words.interferometer as Words), placed },
    keepOuts: [],
    patches,
    ...more,
  };
}

describe('a section of a paraboloid, references with open patches', () => {
  const plan = offAxis('1.25 nm');
  test('the figure is kept, without a wish for any degree, and with little glass', () => {
    expect(plan.reasons).toEqual([]);
    const { left, errors } = checked(plan);
    expect(errors).toEqual([]);
    expect(left).toBeLessThanOrEqual(1.25);
    expect(left).toBeGreaterThan(0.95 * 1.25);
    expect(NM * plan.figure!.expected!).toBeCloseTo(left, 9);
    expect(plan.worst).toBeCloseTo(left / 1.25, 9);
  });
  test('a figure that allows more takes less glass', () => {
    const loose = offAxis('2 nm');
    expect(loose.reasons).toEqual([]);
    expect(checked(loose).left).toBeLessThanOrEqual(2);
    expect(loose.glass).toBeLessThan(plan.glass);
  });
});

describe('a paraboloid, patches with open places and sizes', () => {
  test('the figure is kept, and a wish for what leaves nothing in it as well', () => {
    const plan = planned(onAxis('0.6 nm', { wanted: { rz: '60 urad' } }), FEW);
    expect(plan.reasons).toEqual([]);
    const { left, errors } = checked(plan);
    expect(errors).toEqual([]);
    expect(left).toBeLessThanOrEqual(0.6);
    expect(plan.worst).toBeLessThanOrEqual(1);
  });
  test('what no patches can keep is said with its causes and what would help', () => {
    // A search for what cannot be had goes on to its end.
    const plan = planned(onAxis('0.05 nm'), { sites: 15 });
    const text = plan.reasons.join('\n');
    expect(text).toMatch(
      /^test\.figure is not kept: misalignment is expected to leave [\d.]+ nm rms .*allowed: 0\.05 nm/,
    );
    expect(text).toMatch(/the largest term is .*to meet the figure, all of these: /);
    expect(text).toMatch(/what limits the patches: /);
    expect(plan.worst).toBeCloseTo(checked(plan).left / 0.05, 9);
  });
});

test('a layout is judged by tr(C M) of its readings, over the figure, and by the worst of that and the wishes', () => {
  const scene = (more: Words): Words => ({
    ...parabolaScene({ readable: 0.01, test: { figure: '5 nm' } }),
    // Placement of the pattern is no part of the readings' own uncertainty.
    process: { placement: '1e-6 um' },
    ...more,
  });
  const exact = { form: '1e-6 um', nest: '1e-6 um', centring: '1e-6 um' };
  const references = (parabolaScene().references as Words[]).map((words) => ({ ...words, ...exact }));
  const design = designFrom(scene({ references }));
  const { factor } = motionMaps(design)!;
  const { covariance } = estimatePose(design).stated;
  let trace = 0;
  for (let row = 0; row < 6; row++)
    for (let i = 0; i < 6; i++)
      for (let j = 0; j < 6; j++)
        trace += factor[row * 6 + i]! * covariance[i * 6 + j]! * factor[row * 6 + j]!;
  const ratio = (NM * Math.sqrt(trace)) / 5;
  const layout = new Layout(design, design.references, 10);
  // Setting by eye backs the search up where little is seen.
  expect(layout.score().worst / ratio).toBeCloseTo(1, 2);
  expect(layout.score().smooth).toBeCloseTo(layout.score().worst, 12);
  layout.reckonWith({ sigmas: [null, null, null, null, null, null], left: 3 });
  expect(layout.score().worst).toBeCloseTo(3, 9);

  const wished = designFrom(scene({ references, wanted: { x: '1 nm' } }));
  const byWish = new Layout(wished, wished.references, 10).score().worst;
  expect(byWish).toBeCloseTo(Math.sqrt(estimatePose(wished).stated.covariance[0]!) * NM, 0);
});
