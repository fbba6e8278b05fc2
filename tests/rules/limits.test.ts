/** Every layout rule at its limit: just kept, at it, just broken, with the figures that a user is told. The facts are in limits/. */

import { describe, expect, test } from 'vitest';
import { RULES } from '../../src/rules/all-rules.ts';
import { ALIGNMENT } from './limits/alignment.ts';
import { BEAM } from './limits/beam.ts';
import { BIAS } from './limits/bias.ts';
import { CAMERA } from './limits/camera.ts';
import { CARRIERS } from './limits/carriers.ts';
import { COLLISIONS } from './limits/collisions.ts';
import { CONTACT } from './limits/contact.ts';
import { CUBE_TURNED } from './limits/cube.ts';
import { DIFFRACTION } from './limits/diffraction.ts';
import { FIGURE } from './limits/figure.ts';
import { FIT } from './limits/fit.ts';
import { GLASS } from './limits/glass.ts';
import { MARKS } from './limits/marks.ts';
import { POSE } from './limits/pose.ts';
import { FEATURES } from './limits/process.ts';
import { WEAK_RETURN } from './limits/return.ts';
import { SEATS } from './limits/seats.ts';
import { SIGHT } from './limits/sight.ts';
import { STRAY } from './limits/stray.ts';
import { VALUES } from './limits/values.ts';
import { expectFact, findingsOf } from './support/fact.ts';
import { RULE } from './support/rule-codes.ts';

const TABLES = [
  ...GLASS,
  ...SEATS,
  ...MARKS,
  ...CONTACT,
  ...COLLISIONS,
  ...BEAM,
  ...FEATURES,
  ...FIT,
  ...BIAS,
  ...SIGHT,
  ...STRAY,
  ...CUBE_TURNED,
  ...WEAK_RETURN,
  ...CAMERA,
  ...DIFFRACTION,
  ...POSE,
  ...FIGURE,
  ...ALIGNMENT,
  ...CARRIERS,
  ...VALUES,
];

describe.each(TABLES)('$law.rule: $about', ({ law, facts }) => {
  test.each(facts)('%s', (_, words, said) => expectFact(law, words, said));
});

test('no rule is without a fact that breaks it and one that keeps it', () => {
  const lacking = RULES.map(({ code }) => code).filter((code) => {
    const facts = TABLES.filter(({ law }) => law.rule === code).flatMap((table) => table.facts);
    return !facts.some(([, , said]) => said.length > 0) || !facts.some(([, , said]) => said.length === 0);
  });
  expect(lacking).toEqual([]);
});

test('errors stand first; under each severity rule by rule, and of one rule in the order of the file', () => {
  // Two pairs too near to each other, small ones between, for which the camera's pixels are too coarse.
  const patch = (id: string, x: number, diameter: number) => {
    return { id, reference: 'r', focus: 'point', centre: [x, 0], outline: { circle: { diameter } } };
  };
  const found = findingsOf({
    interferometer: { collimated: true, beamDiameter: 100, pixelsAcrossBeam: 100 },
    references: [{ id: 'r', kind: 'ball', diameter: 12, at: [0, 0, 40] }],
    patches: [
      patch('s1', -40, 8),
      patch('a', -30, 20),
      patch('b', -14, 20),
      patch('s2', 1, 4),
      patch('c', 18, 20),
      patch('d', 37, 20),
    ],
  });
  const told = found.map(({ severity, rule, where }) => `${severity} ${rule} ${where}`);
  expect(told).toEqual([
    `error ${RULE.overlap} s1, a`,
    `error ${RULE.overlap} a, b`,
    `error ${RULE.overlap} c, d`,
    `error ${RULE.feature} s1`,
    `error ${RULE.feature} a`,
    `error ${RULE.feature} b`,
    `error ${RULE.feature} c`,
    `error ${RULE.feature} d`,
    `warning ${RULE.camera} s1`,
    `warning ${RULE.camera} s2`,
    // One ball 40 mm from the part's origin: z alone is seen of the six.
    ...Array.from({ length: 5 }, () => `warning ${RULE.notObserved} part`),
  ]);
});
