/** Every layout rule at its limit: just kept, at it, just broken, with the figures that a user is told. The facts are in limits/. */
import { describe, expect, test } from 'vitest';
import { CODES } from '../../src/finding/codes.ts';
import { BEAM } from './limits/beam.ts';
import { BIAS } from './limits/bias.ts';
import { CAMERA } from './limits/camera.ts';
import { CUBE_TURNED } from './limits/cube.ts';
import { DIFFRACTION } from './limits/diffraction.ts';
import { GLASS } from './limits/glass.ts';
import { POSE } from './limits/pose.ts';
import { FEATURES } from './limits/process.ts';
import { WEAK_RETURN } from './limits/return.ts';
import { SEATS } from './limits/seats.ts';
import { SIGHT } from './limits/sight.ts';
import { STRAY } from './limits/stray.ts';
import { expectFact } from './support/fact.ts';

const TABLES = [
  ...GLASS,
  ...SEATS,
  ...BEAM,
  ...FEATURES,
  ...BIAS,
  ...SIGHT,
  ...STRAY,
  ...CUBE_TURNED,
  ...WEAK_RETURN,
  ...CAMERA,
  ...DIFFRACTION,
  ...POSE,
];

describe.each(TABLES)('$law.rule: $about', ({ law, facts }) => {
  test.each(facts)('%s', (_, words, said) => expectFact(law, words, said));
});

test('no rule is without a fact that breaks it and one that keeps it', () => {
  const rules = Object.entries(CODES).flatMap(([code, { family }]) => (family === 'rule' ? [code] : []));
  const lacking = rules.filter((code) => {
    const facts = TABLES.filter(({ law }) => law.rule === code).flatMap((table) => table.facts);
    return !facts.some(([, , said]) => said.length > 0) || !facts.some(([, , said]) => said.length === 0);
  });
  expect(lacking).toEqual([]);
});
