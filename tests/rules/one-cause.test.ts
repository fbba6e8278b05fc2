/**
 * One practitioner's slip in a sound scenario, with errors by the dozen: what is named first is the value that was changed, with the value
 * that it had, and each error is marked as following from it; errors that no single value explains stand alone.
 */
import { describe, expect, test } from 'vitest';
import { designScenario } from '../../src/design/design-scenario.ts';
import type { Finding } from '../../src/finding/finding.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { findingsOf } from '../../src/rules/one-cause.ts';
import { linePatch, pointPatch, type Words } from '../metrology/support/design-from.ts';

const GLASS = { outline: { circle: { diameter: 150 } }, thickness: 6.35, glass: 'fused silica' };
const CUBES = { part: { A: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } } } };
const cube = (id: string, at: readonly number[]): Words => ({
  id,
  kind: 'smr',
  diameter: 38.1,
  at,
  frame: 'part',
});
const SOUND: Words = {
  format: 'datumlight/1',
  light: { wavelength: '632.8 nm' },
  interferometer: { focus: [0, 0, -500], fNumber: 3.2, pixelsAcrossBeam: 1000 },
  substrate: { ...GLASS, patternFaces: 'part' },
  process: { kind: 'chrome', minFeature: '2.5 um' },
  part: { origin: [0, 0, 800], datums: CUBES.part },
  references: [cube('a', [0, 110, 0]), cube('b', [-95, -55, 0]), cube('c', [95, -55, 0])],
  patches: [
    linePatch('a1', 'a', [-12, 50], 0),
    linePatch('a2', 'a', [12, 50], 90),
    linePatch('b1', 'b', [-50, -16], 30),
    linePatch('b2', 'b', [-38, -36], 120),
    linePatch('c1', 'c', [50, -16], 150),
    linePatch('c2', 'c', [38, -36], 60),
  ],
};
const FACING: Words = { ...SOUND, substrate: { ...GLASS, patternFaces: 'interferometer' } };

/** What a user is told: of a design that cannot be worked out, or by the rules. */
function told(words: Words): readonly Finding[] {
  const { scenario, findings } = readScenario(JSON.stringify(words), 'test.yaml');
  if (scenario === undefined) return findings;
  const made = designScenario(scenario);
  return 'findings' in made ? made.findings : findingsOf(made.design);
}

const errorsIn = (found: readonly Finding[]) => found.filter(({ severity }) => severity === 'error');
const interferometer = (more: Words): Words => ({
  ...SOUND,
  interferometer: { ...(SOUND.interferometer as Words), ...more },
});

test.each([SOUND, FACING])('the scenario itself breaks no rule', (words) => {
  expect(errorsIn(told(words))).toEqual([]);
});

describe.each<readonly [slip: string, words: Words, where: string, meant: RegExp]>([
  [
    'the sign of the focus',
    interferometer({ focus: [0, 0, 500] }),
    'interferometer.focus',
    /with z = -500 mm/,
  ],
  ['the focus in cm', interferometer({ focus: [0, 0, -50] }), 'interferometer.focus', /with z = -500 mm/],
  [
    'an f-number ten times too large',
    interferometer({ fNumber: 32 }),
    'interferometer.fNumber',
    /no patch is lit; with \d\.\d or less/,
  ],
  [
    'the part on the wrong side',
    { ...SOUND, part: { ...(SOUND.part as Words), origin: [0, 0, -800] } },
    'part.origin',
    /with z = 800 mm/,
  ],
  [
    'the part’s origin left at 0',
    { ...SOUND, part: { ...(SOUND.part as Words), origin: [0, 0, 0] } },
    'part.origin',
    /with z = \d+ mm or more/,
  ],
  [
    'a thickness in m, pattern facing the interferometer',
    { ...FACING, substrate: { ...GLASS, patternFaces: 'interferometer', thickness: '6.35 m' } },
    'substrate.thickness',
    /with 6\.35 mm/,
  ],
])('%s', (_, words, where, meant) => {
  const [first, ...others] = told(words);

  test('is named first, with what it may have been', () => {
    expect([first!.severity, first!.rule, first!.where]).toEqual(['note', 'one-cause', where]);
    expect(first!.message).toMatch(meant);
    expect(first!.path!.join('.')).toBe(where);
  });

  test('every error follows from it', () => {
    const errors = errorsIn(others);
    expect(errors.length).toBeGreaterThanOrEqual(3);
    for (const { follows } of errors) expect(follows).toEqual({ rule: 'one-cause', where });
  });
});

describe('a focus in the glass', () => {
  const focus = (z: number, patternFaces: string): readonly string[] =>
    told({
      ...interferometer({ focus: [0, 0, z] }),
      substrate: { ...GLASS, patternFaces },
    }).map(({ rule, where }) => `${rule} ${where}`);

  test.each([
    ['diverging, in glass before the pattern', -3, 'part'],
    ['converging, in glass after the pattern', 3, 'interferometer'],
    ['on the pattern', 0, 'part'],
    ['on the far face', 6.35, 'interferometer'],
  ])('%s, is an error by itself', (_, z, faces) => {
    expect(focus(z, faces)).toEqual(['focus-in-glass interferometer.focus']);
  });

  test.each([
    ['before the pattern, glass after it', -3, 'interferometer'],
    ['after the pattern, glass before it', 3, 'part'],
  ])('%s, it lies in air', (_, z, faces) => {
    expect(focus(z, faces).join()).not.toContain('focus-in-glass');
  });

  test('so is a reference in it, on either side', () => {
    for (const [z, patternFaces] of [
      [4, 'interferometer'],
      [-4, 'part'],
    ] as const) {
      const references = [{ id: 'r', kind: 'ball', diameter: 2, at: [0, 0, z] }];
      const found = told({
        ...SOUND,
        substrate: { ...GLASS, patternFaces },
        references,
        patches: [pointPatch('p', 'r', [0, 0])],
      });
      expect(found.map(({ rule, where }) => `${rule} ${where}`)).toEqual(['focus-in-glass r']);
    }
  });
});

test('a beam that lights nothing and that no single value mends: the dark is named, and what is said of dark patches follows', () => {
  const found = told({
    ...interferometer({ focus: [0, 0, 2], fNumber: 30 }),
    keepOuts: [{ id: 'main', outline: { circle: { diameter: 90 } } }],
  });
  expect(found[0]).toMatchObject({ severity: 'note', rule: 'one-cause', where: 'interferometer' });
  // A marginal ray at 1/60 is 8.35/60 mm off the axis where it enters the glass, and runs at 1/(60 n) in it.
  expect(found[0]!.message).toMatch(/no patch is lit: the beam's radius at the pattern is 0\.0665 mm/);
  const following = errorsIn(found).filter(({ follows }) => follows !== undefined);
  expect(following.filter(({ rule }) => rule === 'unlit')).toHaveLength(6);
  // Where the patches lie has nothing to do with the light.
  expect(errorsIn(found).find(({ rule }) => rule === 'keep-out')?.follows).toBeUndefined();
});

test('errors of different making have no common cause', () => {
  const patches = (SOUND.patches as readonly Words[]).map((patch, k) => ({
    ...patch,
    ...(k < 3 ? { centre: [0, 0] } : {}),
  }));
  const found = told({ ...SOUND, patches });
  expect(errorsIn(found).length).toBeGreaterThanOrEqual(3);
  expect(found.every(({ rule, follows }) => rule !== 'one-cause' && follows === undefined)).toBe(true);
});

test('a patch that returns nothing shows no bias: that follows from it, and so it is said', () => {
  const found = told({
    ...SOUND,
    references: [{ id: 'r', kind: 'ball', diameter: 12.7, at: [0, 0, 200] }],
    patches: [{ ...linePatch('p', 'r', [0, 0], 0), bias: { shape: 'roof', fringes: 3 } }],
  });
  const codes = errorsIn(found).map(({ rule }) => rule);
  expect(codes).toContain('no-return');
  for (const { follows } of found.filter(({ rule }) => rule === 'bias-cancels'))
    expect(follows).toEqual({ rule: 'no-return', where: 'p' });
});
