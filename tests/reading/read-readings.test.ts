/** The bench's readings: what is read, and every fault at its place, all at once; the schema says the same. */
import { readFileSync } from 'node:fs';
import Ajv2020 from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { readReadings } from '../../src/reading/bench/read-readings.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';

const SCENARIO = readScenario(
  `
format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -500], fNumber: 3.2}
substrate: {outline: {circle: {diameter: 150}}}
references:
  - {id: north, kind: smr, diameter: 1.5 in, at: [0, 250, 2800]}
  - {id: near, kind: ball, diameter: 0.5 in, at: [90, 20, 130]}
  - {id: spot, kind: screen, at: [0, 0, 400]}
patches:
  - {id: north-1, reference: north, focus: line, centre: [0, 60], outline: {rectangle: {width: 10, height: 10}}, lineAngle: 90 deg}
  - {id: near-1, reference: near, focus: point, centre: [60, 0], outline: {circle: {diameter: 12}}}
  - {id: spot-1, reference: spot, focus: point, centre: [-60, 0], outline: {circle: {diameter: 12}}}
measurements: [{id: spacer, reference: near, direction: [0, 0, 1], uncertainty: 5 um}]
part: {origin: [0, 0, 900], datums: {M: {sphere: {centre: [0, 0, 0], diameter: 1200, side: inside}}}}
test: {surface: M, aperture: {circle: {diameter: 60}}}
`,
  's.yaml',
).scenario!;

const read = (text: string) => readReadings(text, 'r.yaml', SCENARIO);
const ajv = new Ajv2020.default({ strict: true, allowUnionTypes: true });
const accepts = ajv.compile(JSON.parse(readFileSync('schemas/readings.schema.json', 'utf8')));

describe('readings that can be used', () => {
  it.each([
    [
      'a line focus',
      '{patch: north-1, fringes: 1.3}',
      { fringes: [1.3], signKnown: true, uncertainty: undefined },
    ],
    ['a list of one', '{patch: north-1, fringes: [-2]}', { fringes: [-2] }],
    ['a point focus', '{patch: near-1, fringes: [0.4, -1.2]}', { fringes: [0.4, -1.2, undefined] }],
    ['with power', '{patch: near-1, fringes: [0.4, -1.2], power: 0.3}', { fringes: [0.4, -1.2, 0.3] }],
    ['power alone', '{patch: near-1, power: 0.3}', { fringes: [undefined, undefined, 0.3] }],
    ['no sign', '{patch: north-1, fringes: 2, sign: unknown}', { signKnown: false }],
    ['its own uncertainty', '{patch: north-1, fringes: 2, uncertainty: 0.25}', { uncertainty: 0.25 }],
    [
      'the null, as its fringes are counted',
      '{patch: main, fringes: [0.8, -1.5], power: 0.4, coma: [0.1, 0]}',
      {
        ...{ kind: 'null', unit: 'fringes', signKnown: true },
        values: [
          { term: 'tilt', part: 0, value: 0.8 },
          { term: 'tilt', part: 1, value: -1.5 },
          { term: 'power', part: 0, value: 0.4 },
          { term: 'coma', part: 0, value: 0.1 },
          { term: 'coma', part: 1, value: 0 },
        ],
      },
    ],
    [
      'the null, its tilt as seen',
      '{patch: main, fringes: 1.7, toward: 4, power: 0.4}',
      {
        ...{ kind: 'null', toward: 4, unit: 'fringes', signKnown: true },
        values: [
          { term: 'tilt', part: 0, value: 1.7 },
          { term: 'power', part: 0, value: 0.4 },
        ],
      },
    ],
    [
      'the null, by Zernike term',
      '{patch: main, waves: {power: 0.1, astigmatism: [0.2, 0.3], spherical: -1}, sign: unknown, uncertainty: 0.02}',
      {
        ...{ kind: 'null', unit: 'waves', signKnown: false, uncertainty: 0.02 },
        values: [
          { term: 'power', part: 0, value: 0.1 },
          { term: 'astigmatism', part: 0, value: 0.2 },
          { term: 'astigmatism', part: 1, value: 0.3 },
          { term: 'spherical', part: 0, value: -1 },
        ],
      },
    ],
    ['a length', '{measurement: spacer, deviation_um: -12}', { kind: 'length', deviation: -0.012 }],
  ])('%s', (_, entry, expected) => {
    const text = `readings:\n  - ${entry}\n`;
    const { readings, findings } = read(text);
    expect(findings).toEqual([]);
    expect(readings).toEqual([expect.objectContaining(expected)]);
    expect(accepts(parse(text))).toBe(true);
  });
});

describe('readings that cannot', () => {
  it.each([
    ['an unknown patch', '{patch: north-2, fringes: 1}', 'unknown-name', '2:13', /did you mean `north-1`/],
    ['NaN', '{patch: north-1, fringes: .nan}', 'out-of-range', '2:31', /NaN/],
    ['infinity', '{patch: near-1, fringes: [.inf, 1]}', 'out-of-range', '2:31', /Infinity/],
    ['a text', '{patch: north-1, fringes: NaN}', 'wrong-type', '2:31', /`NaN`/],
    [
      'too many values',
      '{patch: north-1, fringes: [1, 2]}',
      'bad-value',
      '2:31',
      /2 values for patch north-1, a line focus/,
    ],
    [
      'too few values',
      '{patch: near-1, fringes: 1}',
      'bad-value',
      '2:30',
      /1 value for patch near-1, a point focus/,
    ],
    ['three values', '{patch: near-1, fringes: [1, 2, 3]}', 'bad-value', '2:30', /3 values/],
    ['no values', '{patch: near-1, fringes: []}', 'bad-value', '2:30', /0 values/],
    ['power of a line', '{patch: north-1, fringes: 1, power: 1}', 'conflicting-keys', '2:34', /no power/],
    ['a screen', '{patch: spot-1, fringes: [1, 2]}', 'bad-value', '2:13', /screen/],
    ['no fringes', '{patch: north-1}', 'missing-key', '2:5', /needs its `fringes`/],
    ['no patch', '{fringes: 1}', 'missing-key', '2:5', /needs its `patch`/],
    ['a slip of a key', '{patch: north-1, frings: 1}', 'unknown-key', '2:22', /did you mean `fringes`/],
    ['a sign in words', '{patch: north-1, fringes: 1, sign: plus}', 'bad-value', '2:40', /sign: unknown/],
    ['no uncertainty', '{patch: north-1, fringes: 1, uncertainty: 0}', 'out-of-range', '2:47', /more than 0/],
    [
      'no measurement',
      '{measurement: spacr, deviation_um: 1}',
      'unknown-name',
      '2:19',
      /did you mean `spacer`/,
    ],
    [
      'one tilt of the null',
      '{patch: main, fringes: 1}',
      'bad-value',
      '2:28',
      /1 value for the tilt of main; .*a list of two/,
    ],
    ['a list for its power', '{patch: main, power: [1]}', 'bad-value', '2:26', /expected one number/],
    ['three comas', '{patch: main, coma: [1, 2, 3]}', 'bad-value', '2:25', /3 values for the coma/],
    [
      'both of its forms',
      '{patch: main, fringes: [1, 2], waves: {power: 1}}',
      'conflicting-keys',
      '2:36',
      /keep one/,
    ],
    [
      'an hour of the null beside waves',
      '{patch: main, waves: {power: 1}, toward: 4}',
      'conflicting-keys',
      '2:38',
      /`toward` stands without `fringes`/,
    ],
    ['nothing of the null', '{patch: main}', 'missing-key', '2:5', /needs its `fringes`/],
    ['no term in waves', '{patch: main, waves: {}}', 'missing-key', '2:26', /names no term/],
    ['waves as a number', '{patch: main, waves: 0.3}', 'wrong-type', '2:26', /expected e.g./],
    [
      'a slip of a term',
      '{patch: main, waves: {comma: [1, 2]}}',
      'unknown-key',
      '2:27',
      /did you mean `coma`/,
    ],
    ['NaN in a term', '{patch: main, waves: {coma: [.nan, 2]}}', 'out-of-range', '2:34', /NaN/],
    [
      'no uncertainty in waves',
      '{patch: main, waves: {power: 1}, uncertainty: 0}',
      'out-of-range',
      '2:51',
      /in waves/,
    ],
    [
      'coma of a patch',
      '{patch: near-1, fringes: [1, 2], coma: [1, 2]}',
      'unknown-key',
      '2:38',
      /allowed keys/,
    ],
    ['not a reading', '3', 'wrong-type', '2:5', /a reading is `3`/],
  ])('%s', (_, entry, rule, place, message) => {
    const { readings, findings } = read(`readings:\n  - ${entry}\n`);
    expect(readings).toBeUndefined();
    expect(findings).toHaveLength(1);
    const [{ place: at, ...finding }] = findings as [(typeof findings)[number]];
    expect(finding).toMatchObject({ severity: 'error', rule });
    expect(`${finding.message}; ${finding.hint}`).toMatch(message);
    expect(`${at?.line}:${at?.column}`).toBe(place);
  });

  it.each([
    ['an empty file', '', 'yaml-syntax', /contains no readings/],
    ['comments only', '# nothing yet\n', 'yaml-syntax', /contains no readings/],
    ['an empty list', 'readings: []\n', 'bad-value', /is empty/],
    ['nothing after the key', 'readings:\n', 'wrong-type', /a list/],
    ['a list', '- {patch: north-1, fringes: 1}\n', 'wrong-type', /a list/],
    ['no YAML', 'readings: [\n', 'yaml-syntax', /not YAML/],
    ['no readings', 'title: x\n', 'unknown-key', /title/],
  ])('%s', (_, text, rule, message) => {
    const { findings } = read(text);
    expect(findings[0]).toMatchObject({ rule, place: { file: 'r.yaml' } });
    expect(`${findings[0]!.message}; ${findings[0]!.hint}`).toMatch(message);
  });

  it('name a null where the scenario names no surface under test', () => {
    const { test: _, ...without } = SCENARIO;
    const { findings } = readReadings('readings: [{patch: main, fringes: [1, 2]}]', 'r.yaml', without);
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({ rule: 'unknown-name', place: { line: 1, column: 20 } });
    expect(findings[0]!.message).toMatch(/no main pattern/);
  });

  it('are all said at once, in the order of the file, duplicates where they stand again', () => {
    const { findings } = read(`readings:
  - {patch: north-1, fringes: .nan}
  - {patch: nobody, fringes: 1}
  - {patch: north-1, fringes: 2}
`);
    expect(findings.map(({ rule, place }) => `${place?.line} ${rule}`)).toEqual([
      '2 out-of-range',
      '3 unknown-name',
      '4 duplicate-id',
    ]);
  });
});

describe('the schema of readings', () => {
  it.each([
    'readings: []',
    'readings: [{patch: a}]',
    'readings: [{patch: a, fringes: x}]',
    'readings: [{patch: a, fringes: [1, 2, 3]}]',
    'readings: [{patch: main, fringes: 1}]',
    'readings: [{patch: main}]',
    'readings: [{patch: main, waves: {power: 1}, power: 1}]',
    'readings: [{patch: main, waves: {}}]',
    'readings: [{patch: main, power: [1]}]',
    'reading: []',
  ])('refuses %s', (text) => {
    expect(accepts(parse(text))).toBe(false);
  });

  it('accepts the example', () => {
    expect(accepts(parse(readFileSync('examples/steer-mirror-on-stage.readings.yml', 'utf8')))).toBe(true);
  });
});
