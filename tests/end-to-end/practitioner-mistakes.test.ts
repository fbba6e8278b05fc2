/**
 * Mistakes that practitioners make, one line of a sound design each (practitioner.yaml): none may pass as fine. What each breaks follows
 * from the bench: three retroreflectors in the corner of a rim of 480 mm and a flange of 580 mm, 2.8 m away in a diverging beam; a ball
 * 150 mm from the hologram; a clamp below the part; a seat on the interferometer's side.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { designScenario } from '../../src/design/design-scenario.ts';
import type { Finding } from '../../src/finding/finding.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { applyRules } from '../../src/rules/all-rules.ts';

const SOUND = readFileSync(new URL('practitioner.yaml', import.meta.url), 'utf8');

function findingsIn(text: string): readonly Finding[] {
  const { scenario, findings } = readScenario(text, 'practitioner.yaml');
  if (scenario === undefined) return findings;
  const made = designScenario(scenario);
  return [...findings, ...('findings' in made ? made.findings : applyRules(made.design))];
}

/** Words that stand once in the sound design, and what the mistake makes of them. */
interface Mistake {
  readonly name: string;
  readonly words: string;
  readonly typed: string;
  readonly rule: string;
  /** What the finding is about. */
  readonly where: string;
  readonly severity?: 'error' | 'warning';
  /** In its message or its hint. */
  readonly says?: string;
}

const TOUCHES: readonly Mistake[] = [
  {
    name: 'the normal of the flange points into it: the spheres stand in the metal',
    words: 'normal: [0, 0, -1]',
    typed: 'normal: [0, 0, 1]',
    rule: 'collision',
    where: 'north',
    says: 'reverse the normal of A, to [0, 0, -1]',
  },
  {
    name: 'the radius of the rim for its diameter',
    words: 'diameter: rim, side: outside',
    typed: 'diameter: rim/2, side: outside',
    rule: 'collision',
    where: 'north',
    says: 'give B `diameter: 480 mm`, if 240 mm is its radius',
  },
  {
    name: 'inside of the rim, where there is no bore',
    words: 'side: outside',
    typed: 'side: inside',
    rule: 'collision',
    where: 'north',
    says: 'give B `side: outside`',
  },
  {
    // The contact is 240 + 19.05 mm from the axis; the flange ends at 255.
    name: 'off the end of a flange that is too narrow',
    words: 'diameter: rim + 100 mm',
    typed: 'diameter: rim + 30 mm',
    rule: 'no-contact',
    where: 'north',
    says: 'touches A at a point in the air, 4.05 mm',
  },
  {
    name: 'off the end of a rim that is too short: 15 mm, and the contact at 19.05',
    words: 'point: [0, 0, -40], axis: [0, 0, 1], diameter: rim, length: 40',
    typed: 'point: [0, 0, -15], axis: [0, 0, 1], diameter: rim, length: 15',
    rule: 'no-contact',
    where: 'north',
    says: 'touches B at a point in the air, 4.05 mm',
  },
  {
    name: 'an azimuth on the wrong side, where the clamp is',
    words: '{ datum: B, azimuth: 90 deg }',
    typed: '{ datum: B, azimuth: -90 deg }',
    rule: 'collision',
    where: 'north',
    says: 'give `azimuth: 90 deg` at B',
  },
  {
    // Two of 38.1 mm, 2 · 259.05 · sin 2° = 18.08 mm apart.
    name: 'two spheres in one place, nearly',
    words: '{ datum: B, azimuth: 330 deg }',
    typed: '{ datum: B, azimuth: 214 deg }',
    rule: 'collision',
    where: 'east, west',
    says: 'overlap by 20.018571 mm',
  },
  {
    name: 'two references in one place, a line copied',
    words: '{ datum: B, azimuth: 330 deg }',
    typed: '{ datum: B, azimuth: 210 deg }',
    rule: 'collision',
    where: 'east, west',
    says: 'overlap by 38.1 mm',
  },
];

const FRAMES: readonly Mistake[] = [
  {
    name: 'the part frame for the substrate frame: the ball is behind the part',
    words: 'at: [90, 0, 150]',
    typed: 'at: [90, 0, 150], frame: part',
    rule: 'blocked',
    where: 'near',
  },
  {
    name: 'the part turned round: its back to the light',
    words: 'origin: [0, 0, away]',
    typed: 'origin: [0, 0, away]\n  rotation: [180 deg, 0, 0]',
    rule: 'blocked',
    where: 'north-rim',
  },
  {
    name: 'metres for millimetres: the references stand behind the hologram',
    words: 'away: 2800 mm',
    typed: 'away: 2.8',
    rule: 'target-behind',
    where: 'north',
  },
  {
    name: 'the pattern on the other face, where the seat is: 0.7 mm from the patch',
    words: 'patternFaces: part',
    typed: 'patternFaces: interferometer',
    rule: 'seat-clash',
    where: 'foot, near',
    says: '0.7 mm',
  },
  {
    name: 'the clamp in the light',
    words: 'corner: [-20, -300, 2770]',
    typed: 'corner: [-20, 100, 1500]',
    rule: 'blocked',
    where: 'north-across',
    says: 'obstacle clamp',
  },
];

const LIGHT: readonly Mistake[] = [
  {
    // A beam that converges leans in where it leant out: 0.1 more to deflect at 60 mm, λ/0.27 of period.
    name: 'the sign of the focus',
    words: 'focus: [0, 0, -1200]',
    typed: 'focus: [0, 0, 1200]',
    rule: 'feature-too-small',
    where: 'near',
  },
  {
    name: 'the focus inside the glass',
    words: 'focus: [0, 0, -1200]',
    typed: 'focus: [0, 0, -3]',
    rule: 'focus-in-glass',
    where: 'interferometer.focus',
  },
  {
    name: 'a patch outside of a beam that is too slow',
    words: 'fNumber: 8',
    typed: 'fNumber: 10',
    rule: 'unlit',
    where: 'north-rim',
  },
  {
    name: 'a cube that faces away',
    words: 'axis: [0, -0.1, -1]',
    typed: 'axis: [0, 0.1, 1]',
    rule: 'retro-turned',
    where: 'north-rim',
  },
  {
    name: 'a line along an edge of the cube',
    words: 'roll: 45 deg',
    typed: 'roll: 30 deg',
    rule: 'retro-turned',
    where: 'north-rim',
    says: 'edge of the cube',
  },
  {
    name: 'a bias that the cube cancels',
    words: 'lineAngle: 210 deg\n    bias: { shape: roof',
    typed: 'lineAngle: 210 deg\n    bias: { shape: tilt',
    rule: 'bias-cancels',
    where: 'west-rim',
  },
];

const UNITS: readonly Mistake[] = [
  {
    name: 'a thickness in metres',
    words: 'thickness: 6.35',
    typed: 'thickness: 0.00635',
    rule: 'unlikely-value',
    where: 'substrate.thickness',
    says: '6.35 mm',
  },
  {
    name: 'radians for degrees, a line angle',
    words: 'lineAngle: 210 deg',
    typed: 'lineAngle: 3.665',
    rule: 'unlikely-value',
    where: 'west-rim',
    says: '210 deg',
  },
  {
    name: 'radians for degrees, an azimuth',
    words: '{ datum: B, azimuth: 210 deg }',
    typed: '{ datum: B, azimuth: 3.665 }',
    rule: 'unlikely-value',
    where: 'west',
    says: '210 deg',
  },
  {
    name: 'a wish in micrometres without its unit',
    words: 'x: 20 um',
    typed: 'x: 20',
    rule: 'unlikely-value',
    where: 'wanted.x',
    says: '20 um',
  },
  {
    name: 'inches without their unit',
    words: 'diameter: 0.5 in',
    typed: 'diameter: 0.5',
    rule: 'unlikely-value',
    where: 'near',
    says: '12.7 mm',
  },
].map((mistake) => ({ ...mistake, severity: 'warning' }));

test('the design without a mistake is sound', () => {
  expect(findingsIn(SOUND).filter(({ severity }) => severity === 'error')).toEqual([]);
  expect(findingsIn(SOUND).filter(({ rule }) => rule === 'unlikely-value')).toEqual([]);
});

const MISTAKES = [...TOUCHES, ...FRAMES, ...LIGHT, ...UNITS];

describe.each([
  ['touches', TOUCHES],
  ['frames and places', FRAMES],
  ['light', LIGHT],
  ['units', UNITS],
])('a mistake with %s', (_, mistakes) => {
  test.each(mistakes)('$name', ({ words, typed, rule, where, severity = 'error', says = '' }) => {
    expect(SOUND.split(words), 'the line to change').toHaveLength(2);
    const found = findingsIn(SOUND.replace(words, typed));
    const own = found.filter((finding) => finding.rule === rule);
    expect(own.map((finding) => finding.severity)).toContain(severity);
    expect(own.map((finding) => finding.where)).toContain(where);
    expect(own.map(({ message, hint }) => `${message}; ${hint}`).join('\n')).toContain(says);
  });
});

test('a point focus on a retroreflector, all of whose light is lost', () => {
  const found = findingsIn(SOUND.replace('focus: line\n    lineAngle: 0 deg', 'focus: point'));
  const { hint, severity } = found.find(
    ({ rule, where }) => rule === 'no-return' && where === 'north-across',
  )!;
  expect(severity).toBe('error');
  expect(hint).toContain('a retroreflector needs `focus: line`');
});

test('they are more than twenty, each another one', () => {
  expect(new Set(MISTAKES.map(({ typed }) => typed)).size).toBe(MISTAKES.length);
  expect(MISTAKES.length).toBeGreaterThanOrEqual(20);
});
