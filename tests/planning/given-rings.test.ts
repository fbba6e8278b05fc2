/**
 * Rings at normal incidence that stand already tell the planner of the part what they tell `check`: their tilts too, and with no seat or apex
 * between. They are not paid for twice.
 */
import { expect, test } from 'vitest';
import { designScenario } from '../../src/design/design-scenario.ts';
import { poseOf } from '../../src/metrology/estimate/pose-estimate.ts';
import { DEGREES } from '../../src/scenario/scenario.ts';
import { planned, type Words } from './support/open-scenario.ts';
import '../machine/patience.ts';

const WANTED = { x: 2e-3, y: 2e-3, z: 60e-3, rx: 5e-6, ry: 5e-6, rz: 40e-6 };

const ring = (id: string, inner: number, outer: number): Words => ({
  ...{ id, reference: id, focus: 'normal', centre: [0, 0] },
  outline: { ring: { inner, outer } },
});

/** A land and a face, which leave only the turn about the part's axis; two retroreflectors to tell that. */
const scene = (patches: readonly Words[]): Words => ({
  interferometer: { focus: [0, 0, -500], fNumber: 3, pixelsAcrossBeam: 2000, readable: 0.1 },
  substrate: { outline: { circle: { diameter: 170 } }, edgeMargin: 3 },
  keepOuts: [{ id: 'main', outline: { circle: { diameter: 76 } } }],
  process: { minFeature: '0.8 um' },
  part: {
    origin: [0, 0, 300],
    datums: {
      L: { sphere: { centre: [0, 0, 348], diameter: 700 } },
      F: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } },
    },
  },
  references: [
    ...(patches.length === 0
      ? []
      : [
          { id: 'land', kind: 'datum', datum: 'L' },
          { id: 'face', kind: 'datum', datum: 'F' },
        ]),
    {
      id: 'left',
      kind: 'smr',
      diameter: '1.5 in',
      at: [-190, 0, 0],
      frame: 'part',
      centring: '3 um',
      patches: 'auto',
    },
    {
      id: 'right',
      kind: 'smr',
      diameter: '1.5 in',
      at: [190, 0, 0],
      frame: 'part',
      centring: '3 um',
      patches: 'auto',
    },
  ],
  ...(patches.length === 0 ? {} : { patches }),
  wanted: { x: '2 um', y: '2 um', z: '60 um', rx: '5 urad', ry: '5 urad', rz: '40 urad' },
});

const rings = [ring('land', 78, 84), ring('face', 126, 132)];

test('what the plan reaches is what its design reaches, and it takes no more patches than the missing degree needs', () => {
  const plan = planned(scene(rings));
  expect(plan.reasons).toEqual([]);
  // Two patches on each retroreflector is the least it gives.
  expect(plan.planned.length).toBeLessThanOrEqual(4);
  const made = designScenario(plan.scenario);
  if ('findings' in made) throw new Error('no design');
  const { full } = poseOf(made.design);
  const reached = DEGREES.map((degree, k) => Math.sqrt(full.covariance[7 * k]!) / WANTED[degree]);
  expect(plan.worst).toBeCloseTo(Math.max(...reached), 1);
  expect(plan.worst).toBeLessThan(1);
});

test('without the rings the same wishes are out of reach', () => {
  expect(planned(scene([])).worst).toBeGreaterThan(1);
});
