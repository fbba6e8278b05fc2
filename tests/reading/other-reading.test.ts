/** `or`, the second of two readings that a picture shows alike: what is read, what is refused and where, and that a session gives it back. */
import { readFileSync } from 'node:fs';
import Ajv2020 from 'ajv/dist/2020.js';
import { describe, expect, it, test } from 'vitest';
import { parse } from 'yaml';
import { readReadings } from '../../src/reading/bench/read-readings.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { readingEntry } from '../../src/writing/session/session-text.ts';

const { scenario } = readScenario(readFileSync('examples/diverging-balls.yaml', 'utf8'), 's.yaml');
const { scenario: lines } = readScenario(
  readFileSync('examples/steer-mirror-on-stage.yaml', 'utf8'),
  'l.yaml',
);
const schema = JSON.parse(readFileSync('schemas/readings.schema.json', 'utf8'));
const accepts = new Ajv2020.default({ strict: true, allowUnionTypes: true }).compile(schema);

const entry = (words: string, of = scenario!) => readReadings(`readings:\n  - {${words}}\n`, 'r', of);

describe('a pair of readings', () => {
  test.each([
    ['patch: top, fringes: [0.4, -1.2], or: [-4.4, "+1.2"]', [0.4, -1.2, undefined], [-4.4, 1.2, undefined]],
    [
      'patch: top, fringes: [0.4, -1.2], power: 0.3, or: [-4.4, 1.2, -0.3]',
      [0.4, -1.2, 0.3],
      [-4.4, 1.2, -0.3],
    ],
    [
      'patch: top, fringes: [0.4, ~], or: [-4.4, ~]',
      [0.4, undefined, undefined],
      [-4.4, undefined, undefined],
    ],
  ])('{%s} is read, of a sign that is open', (words, fringes, or) => {
    const { readings, findings } = entry(words);
    expect(findings).toEqual([]);
    expect(readings).toMatchObject([{ patch: 'top', fringes, or, signKnown: false }]);
    expect(accepts(parse(`readings: [{${words}}]`)), JSON.stringify(accepts.errors)).toBe(true);
    const again = readReadings(JSON.stringify({ readings: readings!.map(readingEntry) }), 'again', scenario!);
    expect([again.findings, again.readings]).toEqual([[], readings]);
  });

  it('of a line focus is a number', () => {
    const { readings } = entry('patch: north-near, fringes: 1.3, or: -3.3', lines!);
    expect(readings).toMatchObject([{ fringes: [1.3], or: [-3.3], signKnown: false }]);
  });

  test.each([
    ['fringes: [0.4, -1.2], or: -4.4', 'bad-value'],
    ['fringes: [0.4, -1.2], or: [-4.4, 1.2, 0.1]', 'bad-value'],
    ['fringes: [0.4, -1.2], power: 0.3, or: [-4.4, 1.2]', 'bad-value'],
    ['fringes: [0.4, ~], or: [-4.4, 1.2]', 'bad-value'],
    ['fringes: [0.4, -1.2], or: [-4.4, two]', 'wrong-type'],
    ['fringes: [0.4, -1.2], or: [-4.4, 1.2], sign: unknown', 'conflicting-keys'],
    ['fringes: [0.4, -1.2], or: [-4.4, 1.2], counted: total', 'conflicting-keys'],
    ['or: [-4.4, 1.2]', 'missing-key'],
  ])('{%s} is refused', (words, rule) => {
    const { readings, findings } = entry(`patch: top, ${words}`);
    expect(readings).toBeUndefined();
    expect(findings.map((finding) => [finding.rule, finding.place?.line])).toContainEqual([rule, 2]);
  });
});
