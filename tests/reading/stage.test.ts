/** The stage's screws as a scenario describes them. */
import { describe, expect, it } from 'vitest';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';

const read = (stage: string) =>
  readScenario(
    `format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -500]}
substrate: {outline: {circle: {diameter: 150}}}
references: []
patches: []
stage:
  - ${stage}
`,
    's.yaml',
  );

describe('a screw of the stage', () => {
  it.each([
    ['{id: a, degree: y, perTurn: 500 um}', { kind: 'moves', direction: [0, 1, 0], perTurn: 0.5 }],
    ['{id: a, degree: y, perTurn: 0.5}', { kind: 'moves', perTurn: 0.5 }],
    ['{id: a, direction: [0, 0, -4], perTurn: -1 mm}', { kind: 'moves', direction: [0, 0, -1], perTurn: -1 }],
    [
      '{id: a, degree: rz, perTurn: 200 urad}',
      { kind: 'turns', direction: [0, 0, 1], through: [0, 0, 0], perTurn: 200e-6 },
    ],
    ['{id: a, degree: rx, through: [0, -280, 0], perTurn: 2 mrad}', { kind: 'turns', through: [0, -280, 0] }],
  ])('%s', (words, expected) => {
    const { scenario, findings } = read(words);
    expect(findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(scenario!.stage[0]).toMatchObject({
      id: 'a',
      ...expected,
      perTurn: expect.closeTo((expected as { perTurn?: number }).perTurn ?? 2e-3, 12),
    });
  });

  it.each([
    ['{id: a, degree: x, direction: [1, 0, 0], perTurn: 1}', 'conflicting-keys'],
    ['{id: a, perTurn: 1}', 'missing-key'],
    ['{id: a, degree: w, perTurn: 1}', 'bad-value'],
    ['{id: a, degree: x, through: [0, 0, 0], perTurn: 1}', 'conflicting-keys'],
    ['{id: a, degree: rx, perTurn: 500 um}', 'unit-mismatch'],
    ['{id: a, degree: x, perTurn: 0}', 'out-of-range'],
    ['{id: a, degree: x, perTurn: 2 m}', 'out-of-range'],
    ['{id: a, degree: x}', 'missing-key'],
  ])('%s is refused as %s', (words, rule) => {
    const { scenario, findings } = read(words);
    expect(scenario).toBeUndefined();
    const errors = findings.filter(({ severity }) => severity === 'error');
    expect(errors.map((finding) => finding.rule)).toEqual([rule]);
    expect(errors[0]!.place?.line).toBe(8);
  });
});
