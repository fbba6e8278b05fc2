/** What `--at` takes: names with lengths and angles, in the units of a scenario, out come mm and radians; and what it refuses. */
import { describe, expect, test } from 'vitest';
import { readDisplacements } from '../../src/reading/bench/read-displacements.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { scenarioWith } from './support/scenario-text.ts';

const { scenario } = readScenario(
  scenarioWith({ parameters: '{slip: 0.25 mm, roll: 2 mrad, n: 3, room: 20 degC}' }),
  's.yaml',
);
const read = (text: string) => readDisplacements(text, '--at', scenario!);

describe('what is read', () => {
  test.each<[string, string, readonly number[], readonly number[]]>([
    ['r: [0.1, -0.2, 0.3]', 'r', [0.1, -0.2, 0.3], [0, 0, 0]],
    ['r: [10 um, 0.5 in, slip * n]', 'r', [0.01, 12.7, 0.75], [0, 0, 0]],
    ['part: [1, 2, 3]', 'part', [1, 2, 3], [0, 0, 0]],
    // Bare angles are degrees: π/180 rad is one.
    ['hologram: [0, 0, 0, 1, -2, 3 mrad]', 'hologram', [0, 0, 0], [Math.PI / 180, -Math.PI / 90, 0.003]],
    ['part: [0, 0, slip, roll, 0, 1 arcmin]', 'part', [0, 0, 0.25], [0.002, 0, Math.PI / 10_800]],
    // A metre and half a turn are still taken.
    ['part: [1000, -1 m, 0, 180, -180 deg, 0]', 'part', [1000, -1000, 0], [Math.PI, -Math.PI, 0]],
  ])('%s', (text, name, translation, rotation) => {
    const { displacements, findings } = read(text);
    expect(findings).toEqual([]);
    expect(displacements.map((one) => one.name)).toEqual([name]);
    for (const [k, value] of translation.entries()) {
      expect(displacements[0].translation[k]).toBeCloseTo(value, 12);
    }
    for (const [k, value] of rotation.entries()) expect(displacements[0].rotation[k]).toBeCloseTo(value, 12);
  });

  test('several names keep their order', () => {
    const { displacements } = read('{part: [0, 0, 1], r: [1, 0, 0]}');
    expect(displacements.map(({ name }) => name)).toEqual(['part', 'r']);
  });
});

describe('what is refused, by code, with what would be right', () => {
  test.each<[string, string, RegExp, RegExp]>([
    ['', 'bad-value', /--at is empty/, /e.g. `north: \[0.02, 0, 0\]`/],
    ['[1, 2, 3]', 'wrong-type', /--at is not a displacement/, /e\.g\. `north/],
    ['holograms: [0, 0, 1]', 'unknown-name', /no reference "holograms"/, /`hologram`/],
    ['telescope: [0, 0, 1]', 'unknown-name', /"telescope"/, /r, part, hologram/],
    ['r: [0, 1]', 'bad-value', /`r` has 2 values/, /three lengths, \[x, y, z\]$/],
    ['r: [0, 0, 1, 0, 0, 0]', 'bad-value', /`r` has 6 values/, /three lengths, \[x, y, z\]$/],
    ['part: [0, 0, 1, 0]', 'bad-value', /`part` has 4 values/, /three lengths and three angles/],
    ['part: 3', 'bad-value', /`part` is not a list/, /three lengths and three angles/],
    ['r: [0, 0, true]', 'wrong-type', /true is not a length/, /a number in mm/],
    ['part: [0, 0, 0, null, 0, 0]', 'wrong-type', /null is not an angle/, /a number in degrees/],
    ['r: [0, 0, 1000.001]', 'out-of-range', /1000.001 is too large/, /at most 1000 mm in either direction/],
    ['r: [-1001 mm, 0, 0]', 'out-of-range', /-1001 mm is too large/, /1000 mm/],
    [
      'part: [0, 0, 0, 0, 0, 180.001]',
      'out-of-range',
      /180.001 is too large/,
      /at most 180 deg in either direction/,
    ],
    ['r: [0, 0, 1 deg]', 'unit-mismatch', /./, /./],
    ['part: [0, 0, 0, 0, 0, 1 mm]', 'unit-mismatch', /./, /./],
  ])('%s', (text, code, message, hint) => {
    const { displacements, findings } = read(text);
    expect(displacements).toEqual([]);
    expect(findings.map(({ severity, rule }) => [severity, rule])).toEqual([['error', code]]);
    expect(findings[0].message).toMatch(message);
    expect(findings[0].hint).toMatch(hint);
  });
});

test('a finding stands at the value that is wrong', () => {
  const text = '{r: [0, 0, 1], part: [0, 0, 0, 0, 999, 0]}';
  const [finding] = read(text).findings;
  expect(finding.where).toBe('part.4');
  expect(finding.place?.column).toBe(text.indexOf('999') + 1);
});
