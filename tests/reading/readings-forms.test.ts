/** Counts as people write them, patches by their number, a table as well as YAML, and entries left blank: what is read, and where faults stand. */
import { readFileSync } from 'node:fs';
import Ajv2020 from 'ajv/dist/2020.js';
import { describe, expect, it, test } from 'vitest';
import { parse } from 'yaml';
import { countIn } from '../../src/reading/bench/count-text.ts';
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
patches:
  - {id: north-1, reference: north, focus: line, centre: [0, 60], outline: {rectangle: {width: 10, height: 10}}, lineAngle: 90 deg}
  - {id: near-1, reference: near, focus: point, centre: [60, 0], outline: {circle: {diameter: 12}}}
measurements: [{id: spacer, reference: near, direction: [0, 0, 1], uncertainty: 5 um}]
`,
  's.yaml',
).scenario!;

const read = (text: string) => readReadings(text, 'r', SCENARIO, ['near-1', 'north-1']);
const schema = JSON.parse(readFileSync('schemas/readings.schema.json', 'utf8'));
const accepts = new Ajv2020.default({ strict: true, allowUnionTypes: true }).compile(schema);

describe('a count', () => {
  test.each([
    ['+0.5', 0.5],
    ['-0.5', -0.5],
    ['−3', -3],
    ['1/4', 0.25],
    ['-1/4', -0.25],
    ['2 1/2', 2.5],
    ['- 2 1/2', -2.5],
    ['½', 0.5],
    ['2½', 2.5],
    ['-1 ¾', -1.75],
    ['0,25', 0.25],
    [' 7 ', 7],
    ['.5', 0.5],
  ])('%s is %d, in the schema too', (text, value) => {
    expect(countIn(text)).toBe(value);
    expect(accepts({ readings: [{ patch: 'north-1', fringes: text }] })).toBe(true);
  });
  test.each(['', 'NaN', '1/2/3', '--1', '1e3x', 'two', '1 2', '1/-2', '+', 'Infinity'])(
    '`%s` is none',
    (text) => {
      expect(countIn(text)).toBeUndefined();
      expect(accepts({ readings: [{ patch: 'north-1', fringes: text }] })).toBe(false);
    },
  );
  test('by nothing is none', () => {
    expect(countIn('1/0')).toBeUndefined();
  });
});

const EXPECTED = [
  { kind: 'fringes', patch: 'north-1', fringes: [2.5], signKnown: true, uncertainty: 0.2 },
  { kind: 'fringes', patch: 'near-1', fringes: [0.4, -1.25, 0.3], signKnown: false, uncertainty: undefined },
  { kind: 'length', measurement: 'spacer', deviation: -0.012 },
];

test.each([
  [
    'YAML, a patch by its number',
    'readings:\n  - {patch: 2, fringes: 2 1/2, uncertainty: 0.2}\n  - {patch: 1, fringes: ["+0.4", -1 1/4], power: 0.3, sign: unknown}\n  - {measurement: spacer, deviation_um: "-12"}\n',
  ],
  [
    'a table with commas',
    '# at the bench\nPatch,fringes,fringes_2,power,sign,uncertainty,measurement,deviation_um\nnorth-1,2 1/2,,,,0.2,,\n1,+0.4,-1 1/4,0.3,unknown,,,\n,,,,,,spacer,-12\n',
  ],
  [
    'a table with semicolons and decimal commas',
    'patch;fringes;fringes_2;power;sign;uncertainty;measurement;deviation_um\n2;2,5;;;;0,2\n1;0,4;−1,25;0,3;unknown\n;;;;;;spacer;-12\n',
  ],
])('%s says the same', (_, text) => {
  const { readings, findings } = read(text);
  expect(findings).toEqual([]);
  expect(readings).toEqual(EXPECTED);
});

describe('what is left blank', () => {
  const text =
    'readings:\n  - {patch: north-1, fringes: ~}\n  - {patch: near-1, fringes: [~, 2], power: ~}\n  - {measurement: spacer, deviation_um: ~}\n';
  it('is not read, and places still are those of the file', () => {
    const { readings, findings, places } = read(text);
    expect(findings).toEqual([]);
    expect(readings).toMatchObject([{ patch: 'near-1', fringes: [undefined, 2, undefined] }]);
    expect(places(['readings', 0])?.line).toBe(3);
    expect(accepts(parse(text))).toBe(true);
  });
  it('is said where nothing is filled in', () => {
    expect(read('readings: [{patch: north-1, fringes: ~}]').findings).toMatchObject([
      { rule: 'missing-key' },
    ]);
  });
});

describe('faults of a table', () => {
  it('are said at once, each at its field', () => {
    const { findings } = read('patch,fringes,frings\n9,1,\nnorth-1,x,,,\nnorth-1,1,,,5\n');
    expect(findings.map(({ rule, place }) => `${place?.line}:${place?.column} ${rule}`)).toEqual([
      '1:15 bad-table',
      '4:13 bad-table',
    ]);
  });
  it('in its values stand at their fields', () => {
    const { findings } = read('patch,fringes\n9,1\nnorth-1,x\nnear-1,1\nnear-1,\n');
    expect(findings.map(({ rule, place }) => `${place?.line}:${place?.column} ${rule}`)).toEqual([
      '2:1 unknown-name',
      '3:9 wrong-type',
      '4:8 bad-value',
      '5:1 missing-key',
      '5:1 duplicate-id',
    ]);
  });
  it('without rows are said', () => {
    expect(read('patch,fringes\n').findings).toMatchObject([{ rule: 'bad-value', place: { line: 1 } }]);
  });
});
