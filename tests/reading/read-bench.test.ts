/** What a bench file and a readings file say of the camera, and readings as they are seen; each fault at its place; the schemas say the same. */
import { readFileSync } from 'node:fs';
import Ajv2020 from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { readBench } from '../../src/reading/bench/read-bench.ts';
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
`,
  's.yaml',
).scenario!;

const ajv = new Ajv2020.default({ strict: true, allowUnionTypes: true });
const schemaOf = (name: string) =>
  ajv.compile(JSON.parse(readFileSync(`schemas/${name}.schema.json`, 'utf8')));
const [acceptsBench, acceptsReadings] = [schemaOf('bench'), schemaOf('readings')];

describe('the camera of a bench file, and of a readings file', () => {
  test.each([
    ['all of it', '{view: part, turned: 270, mirrored: true}', { view: 'part', turned: 270, mirrored: true }],
    ['a part of it', '{turned: 90}', { turned: 90 }],
    ['nothing', '{}', {}],
  ])('%s', (_, camera, expected) => {
    const text = `camera: ${camera}\n`;
    expect(readBench(text, 'b.yaml')).toEqual({ camera: expected, findings: [] });
    expect(acceptsBench(parse(text))).toBe(true);
    const readings = `readings: [{patch: north-1, fringes: 1}]\n${text}`;
    expect(readReadings(readings, 'r.yaml', SCENARIO)).toMatchObject({ camera: expected, findings: [] });
    expect(acceptsReadings(parse(readings))).toBe(true);
  });

  test.each([
    ['45 degrees', 'camera: {turned: 45}', 'bad-value', '1:18', 'expected 0, 90, 180 or 270 degrees'],
    ['a text for a number', 'camera: {turned: "90"}', 'bad-value', '1:18', 'expected 0, 90'],
    ['another side', 'camera: {view: behind}', 'bad-value', '1:16', 'expected interferometer or part'],
    ['yes for true', 'camera: {mirrored: yes}', 'bad-value', '1:20', 'expected true or false'],
    ['a slip', 'camera: {mirored: true}', 'unknown-key', '1:10', 'did you mean `mirrored`'],
    ['a list', 'camera: [90]', 'wrong-type', '1:9', 'expected e.g. {view'],
    ['another key', 'light: 1', 'unknown-key', '1:1', 'allowed keys: camera'],
    ['another format', 'format: datumlight/1\ncamera: {}', 'bad-value', '1:9', 'datumlight-bench/1'],
  ])('%s is refused where it stands', (_, text, rule, place, hint) => {
    const { findings } = readBench(text, 'b.yaml');
    const said = findings.map((one) => ({
      rule: one.rule,
      place: `${one.place?.line}:${one.place?.column}`,
    }));
    expect(said).toEqual([{ rule, place }]);
    expect(findings[0]!.hint).toContain(hint);
    expect(acceptsBench(parse(text))).toBe(false);
  });

  test('where the picture has the beam’s circle, which a readings file does not say', () => {
    const text = 'camera: {turned: 90, centre: [511.5, 498], pixelsPerMm: 6.4}\n';
    expect(readBench(text, 'b.yaml')).toEqual({
      camera: { turned: 90 },
      place: { centre: [511.5, 498], pixelsPerMm: 6.4 },
      findings: [],
    });
    expect(acceptsBench(parse(text))).toBe(true);
    const { findings } = readReadings(
      `readings: [{patch: north-1, fringes: 1}]\n${text}`,
      'r.yaml',
      SCENARIO,
    );
    expect(findings.map(({ rule }) => rule)).toEqual(['unknown-key', 'unknown-key']);
  });

  test.each([
    ['no scale', '{centre: [1, 2]}', 'missing-key'],
    ['no centre', '{pixelsPerMm: 2}', 'missing-key'],
    ['one number', '{centre: 1, pixelsPerMm: 2}', 'wrong-type'],
    ['three numbers', '{centre: [1, 2, 3], pixelsPerMm: 2}', 'wrong-type'],
    ['a word', '{centre: [1, here], pixelsPerMm: 2}', 'wrong-type'],
    ['a number in quotes', '{centre: [1, 2], pixelsPerMm: "2"}', 'wrong-type'],
    ['no pixels', '{centre: [1, 2], pixelsPerMm: 0}', 'out-of-range'],
    ['a mirrored scale', '{centre: [1, 2], pixelsPerMm: -2}', 'out-of-range'],
  ])('a place with %s is refused', (_, camera, rule) => {
    const text = `camera: ${camera}\n`;
    const { place, findings } = readBench(text, 'b.yaml');
    expect(findings.map((one) => one.rule)).toEqual([rule]);
    expect(place).toBeUndefined();
    expect(acceptsBench(parse(text))).toBe(false);
  });

  test('an empty file says nothing of the camera', () => {
    expect(readBench('format: datumlight-bench/1', 'b.yaml').findings.map(({ rule }) => rule)).toEqual([
      'missing-key',
    ]);
  });
});

describe('readings as seen', () => {
  test.each([
    [
      'a point focus',
      '{patch: near-1, fringes: 1.3, toward: 4.5}',
      { toward: 4.5, fringes: [1.3, undefined, undefined] },
    ],
    [
      'and its power',
      '{patch: near-1, fringes: 1.3, toward: 12, power: -1}',
      { toward: 12, fringes: [1.3, undefined, -1] },
    ],
    ['a line focus', '{patch: north-1, fringes: 2, toward: 3}', { toward: 3, fringes: [2] }],
  ])('%s', (_, entry, expected) => {
    const text = `readings: [${entry}]`;
    const { readings, findings } = readReadings(text, 'r.yaml', SCENARIO);
    expect(findings).toEqual([]);
    expect(readings).toEqual([expect.objectContaining(expected)]);
    expect(acceptsReadings(parse(text))).toBe(true);
  });

  test.each([
    ['two counts', '{patch: near-1, fringes: [1, 2], toward: 3}', 'bad-value'],
    ['a sign besides', '{patch: near-1, fringes: -1, toward: 3}', 'out-of-range'],
    ['no hour', '{patch: near-1, fringes: 1, toward: 13}', 'out-of-range'],
    ['hour 0', '{patch: near-1, fringes: 1, toward: 0}', 'out-of-range'],
    ['no count', '{patch: near-1, power: 1, toward: 3}', 'conflicting-keys'],
    ['an unknown sign', '{patch: near-1, fringes: 1, toward: 3, sign: unknown}', 'conflicting-keys'],
  ])('%s is refused', (_, entry, rule) => {
    const text = `readings: [${entry}]`;
    expect(readReadings(text, 'r.yaml', SCENARIO).findings.map((one) => one.rule)).toEqual([rule]);
    expect(acceptsReadings(parse(text))).toBe(false);
  });
});
