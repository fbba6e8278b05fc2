/** The log of an alignment: what it says, every fault at its place, in the log itself or in a readings file that it names; the schema agrees. */
import { readFileSync } from 'node:fs';
import Ajv2020 from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { errorFinding } from '../../src/finding/finding.ts';
import type { TextSource } from '../../src/reading/bench/log-round.ts';
import { readLog } from '../../src/reading/bench/read-log.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { PLAIN_ORIENTATION } from '../../src/scenario/camera-orientation.ts';

const FILE = 'examples/steer-mirror-on-stage.yaml';
const SCENARIO = readScenario(readFileSync(FILE, 'utf8'), FILE).scenario!;
const FILES: Record<string, string> = {
  'good.yml': 'readings:\n  - {patch: north-near, fringes: 1.5}\n',
  'bad.yml': 'readings:\n  - {patch: north-near, fringes: 1.5}\n  - {patch: nobody, fringes: 1}\n',
};
const SESSION = 'format: datumlight-session/1\nscenario: {sha256: aa, files: {}}\nrounds:';
const round = (more: string) =>
  `\n  - {camera: {turned: 90}, readings: [{patch: north-near, fringes: 1.5}], ${more}}`;
Object.assign(FILES, {
  'session.yml': `${SESSION}${round('')}\n`,
  'empty.yml': `${SESSION} []\n`,
  'other.yml': `${SESSION.replace('aa', 'bb')} []\n`,
  'unread.yml': `${SESSION}${round('').replace(/readings: \[.*?]/, 'readings: []')}\n`,
});
const files: TextSource = (name) => {
  const text = FILES[name];
  return text === undefined ? { finding: errorFinding('unreadable-file', name, 'no such file') } : { text };
};
const read = (text: string) =>
  readLog(text, 'log.yml', {
    ...{ scenario: SCENARIO, numbered: SCENARIO.patches.map(({ id }) => id), files },
    ...{ orient: (told) => ({ ...PLAIN_ORIENTATION, ...told }), hashes: { sha256: 'aa', files: {} } },
  });
const accepts = new Ajv2020.default({ strict: true, allowUnionTypes: true }).compile(
  JSON.parse(readFileSync('schemas/log.schema.json', 'utf8')),
);

const HEAD = 'serial: H-1\ndate: 2026-01-31\n';
const BEFORE = 'before: good.yml\n';

describe('a log that can be used', () => {
  test('says who, when, what was read and what was done, as it was written down', () => {
    const text = `${HEAD}part: M3\ncamera: {turned: 180}\noperator: O\nwitness: W\ntemperature: 294.15 K\npressure: 1009 hPa\nremarks: one\n${BEFORE}clamped:
  - {patch: north-near, fringes: 0.1}\n  - {patch: west-rim, fringes: -2, uncertainty: 0.3}\nreseated: {readings: [{patch: east-far, fringes: 1}], camera: {view: part}}
steps: [hologram, {step: part, at: "09:10", by: X, note: slow}]\n`;
    const { log, faults } = read(text);
    expect(faults).toEqual([]);
    expect(log).toMatchObject({ serial: 'H-1', date: '2026-01-31', part: 'M3', operator: 'O', witness: 'W' });
    expect(log!.temperature).toBeCloseTo(21, 9);
    expect(log!.pressure).toBeCloseTo(100900, 6);
    expect(log!.remarks).toEqual(['one']);
    expect(log!.steps).toEqual([
      { step: 'hologram', at: undefined, by: undefined, note: undefined },
      { step: 'part', at: '09:10', by: 'X', note: 'slow' },
    ]);
    expect(log!.rounds.map(({ round, file }) => [round, file])).toEqual([
      ['before', 'good.yml'],
      ['clamped', undefined],
      ['reseated', undefined],
    ]);
    expect(log!.rounds[1]!.readings).toMatchObject([
      { patch: 'north-near', fringes: [0.1] },
      { patch: 'west-rim', fringes: [-2], uncertainty: 0.3 },
    ]);
    expect(log!.rounds[2]!.given).toEqual({
      readings: [{ patch: 'east-far', fringes: 1 }],
      camera: { view: 'part', turned: 180, mirrored: false },
    });
    expect(log!.rounds[1]!.camera).toEqual({ view: 'interferometer', turned: 180, mirrored: false });
    expect(accepts(parse(text))).toBe(true);
  });

  test('the example’s, which its schema accepts', () => {
    const text = readFileSync('examples/steer-mirror-on-stage.log.yml', 'utf8');
    expect(read(text).log!.rounds.map(({ readings }) => readings.length)).toEqual([9, 9, 9]);
    expect(accepts(parse(text))).toBe(true);
  });

  test('finds a reading’s place in the text that it came from', () => {
    const { places } = read(
      `${HEAD}${BEFORE}clamped:\n  - {patch: north-near, fringes: 0.1}\n  - {patch: west-rim, fringes: 1}\n`,
    );
    expect(places.get('clamped')!.placeOf(['readings', 1])).toMatchObject({ file: 'log.yml', line: 6 });
    expect(places.get('before')!.placeOf(['readings', 0])).toMatchObject({ file: 'good.yml', line: 2 });
  });
});

describe('of a session', () => {
  const [b, c, r] = ['moment: before', 'moment: clamped', 'moment: reseated'];
  // Each round that counts, by its number: moves that follow a clamping undo it.
  test.each<[string, readonly (string | undefined)[], object]>([
    ['the last before clamping counts', ['', b, ''], { before: 3 }],
    [
      'those marked as after clamping and reseating count',
      ['', '', c, r],
      { before: 2, clamped: 3, reseated: 4 },
    ],
    ['of two after clamping the last counts', ['', c, c], { before: 1, clamped: 3 }],
    ['a clamping that was undone does not count', ['', c, ''], { before: 3 }],
    ['a reseating before the clamping does not count', ['', r, c], { before: 1, clamped: 3 }],
    ['nothing need be read before clamping', [c, r], { clamped: 1, reseated: 2 }],
  ])('%s', (_, rounds, expected) => {
    FILES['moments.yml'] = `${SESSION}${rounds.map((one) => round(one ?? '')).join('')}\n`;
    const { log, faults } = read(`${HEAD}session: moments.yml\n`);
    expect(faults).toEqual([]);
    expect(
      Object.fromEntries(log!.rounds.map(({ round: when, sessionRound }) => [when, sessionRound])),
    ).toEqual(expected);
    expect(log!.session).toMatchObject({
      file: 'moments.yml',
      rounds: rounds.map(() => ({ settled: [] })),
    });
  });

  test('the readings after clamping may be the log’s own; each round keeps its camera', () => {
    const { log } = read(`${HEAD}session: session.yml\nclamped: good.yml\ncamera: {view: part}\n`);
    expect(
      log!.rounds.map(({ round: when, file, camera }) => [when, file, camera.view, camera.turned]),
    ).toEqual([
      ['before', 'session.yml', 'interferometer', 90],
      ['clamped', 'good.yml', 'part', 0],
    ]);
  });
});

test('a readings file is taken as `steer` takes it: a table, patches by number, values left blank', () => {
  FILES['table.csv'] = 'patch,fringes\nnorth-near,1.5\n2,-0.5\n';
  const { log, faults } = read(
    `${HEAD}before: table.csv\nclamped: [{patch: 1, fringes: ~}, {patch: 3, fringes: 2}]\n`,
  );
  expect(faults).toEqual([]);
  const ids = SCENARIO.patches.map(({ id }) => id);
  expect(log!.rounds.map(({ given }) => given.readings)).toMatchObject([
    [
      { patch: 'north-near', fringes: '1.5' },
      { patch: ids[1], fringes: '-0.5' },
    ],
    [{ patch: ids[2], fringes: 2 }],
  ]);
});

/** `code@file:line` of each finding. */
const faultsOf = (text: string): readonly string[] =>
  read(text).faults.flatMap(({ findings }) =>
    findings.map(({ rule, place }) => `${rule}@${place?.file}:${place?.line}`),
  );
const long = 'x'.repeat(2001);

describe('faults', () => {
  test.each<[string, string, string[], boolean]>([
    ['no date', `serial: H\n${BEFORE}`, ['missing-key@log.yml:1'], true],
    // A session may be named beside the log.
    ['no readings', HEAD, ['missing-key@log.yml:1'], false],
    ['an unknown key', `${HEAD}${BEFORE}operater: O\n`, ['unknown-key@log.yml:4'], true],
    ['another format', `format: other/1\n${HEAD}${BEFORE}`, ['bad-value@log.yml:1'], true],
    [
      'a serial that YAML takes for a number',
      `serial: 0042\ndate: d\n${BEFORE}`,
      ['wrong-type@log.yml:1'],
      true,
    ],
    ['an empty name', `${HEAD}${BEFORE}operator: ""\n`, ['bad-value@log.yml:4'], true],
    ['a name too long', `${HEAD}${BEFORE}operator: ${'x'.repeat(121)}\n`, ['bad-value@log.yml:4'], true],
    ['a remark too long', `${HEAD}${BEFORE}remarks: [a, ${long}]\n`, ['bad-value@log.yml:4'], true],
    ['101 remarks', `${HEAD}${BEFORE}remarks: [${'a,'.repeat(101)}]\n`, ['too-many@log.yml:4'], true],
    ['201 steps', `${HEAD}${BEFORE}steps: [${'a,'.repeat(201)}]\n`, ['too-many@log.yml:4'], true],
    ['steps that are no list', `${HEAD}${BEFORE}steps: {a: b}\n`, ['wrong-type@log.yml:4'], true],
    ['an entry without a step', `${HEAD}${BEFORE}steps: [{at: "09:00"}]\n`, ['missing-key@log.yml:4'], true],
    ['a step that is a number', `${HEAD}${BEFORE}steps:\n  - a\n  - 7\n`, ['wrong-type@log.yml:6'], true],
    ['a temperature in mm', `${HEAD}${BEFORE}temperature: 20 mm\n`, ['unit-mismatch@log.yml:4'], false],
    [
      'a pressure in hPa without its unit',
      `${HEAD}${BEFORE}pressure: 1009\n`,
      ['out-of-range@log.yml:4'],
      false,
    ],
    ['a temperature that is a list', `${HEAD}${BEFORE}temperature: [20]\n`, ['wrong-type@log.yml:4'], true],
    [
      'a camera turned by 45 degrees',
      `${HEAD}${BEFORE}camera: {turned: 45}\n`,
      ['bad-value@log.yml:4'],
      false,
    ],
    ['readings that are a number', `${HEAD}clamped: 3\n`, ['wrong-type@log.yml:3'], true],
    [
      'a patch that does not exist',
      `${HEAD}before:\n  - {patch: nobody, fringes: 1}\n`,
      ['unknown-name@log.yml:4'],
      false,
    ],
    [
      'a count without end',
      `${HEAD}before: [{patch: north-near, fringes: .inf}]\n`,
      ['wrong-type@log.yml:3'],
      false,
    ],
    ['a fault in a readings file', `${HEAD}before: bad.yml\n`, ['unknown-name@bad.yml:3'], false],
    ['a readings file that is not there', `${HEAD}before: none.yml\n`, ['unreadable-file@log.yml:3'], false],
    [
      'faults in both, all at once',
      `${HEAD}before: bad.yml\nclamped: 3\n`,
      ['wrong-type@log.yml:4', 'unknown-name@bad.yml:3'],
      true,
    ],
    ['a session that is a number', `${HEAD}session: 3\n`, ['wrong-type@log.yml:3'], true],
    ['a session that is not there', `${HEAD}session: none.yml\n`, ['unreadable-file@log.yml:3'], false],
    ['readings named as a session', `${HEAD}session: good.yml\n`, ['bad-value@good.yml:1'], false],
    ['a session named as readings', `${HEAD}clamped: session.yml\n`, ['bad-value@log.yml:3'], false],
    ['a session without rounds', `${HEAD}session: empty.yml\n`, ['missing-key@log.yml:3'], false],
    [
      'the session of another scenario',
      `${HEAD}session: other.yml\n`,
      ['scenario-changed@other.yml:2'],
      false,
    ],
    [
      'readings before clamping in log and session',
      `${HEAD}${BEFORE}session: session.yml\n`,
      ['conflicting-keys@log.yml:3'],
      false,
    ],
    [
      'a round of the session without readings',
      `${HEAD}session: unread.yml\n`,
      ['bad-value@unread.yml:4'],
      false,
    ],
    ['a list', '- a\n', ['wrong-type@log.yml:1'], true],
    ['nothing', '', ['yaml-syntax@log.yml:1'], false],
  ])('%s', (_, text, expected, bySchema) => {
    expect(read(text).log).toBeUndefined();
    expect(faultsOf(text)).toEqual(expected);
    if (bySchema) expect(accepts(parse(text))).toBe(false);
  });
});
