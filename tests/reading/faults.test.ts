import { describe, expect, test } from 'vitest';
import type { Finding } from '../../src/finding/finding.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { brief, scenarioWith } from './support/scenario-text.ts';

const read = (text: string) => readScenario(text, 'a.yaml');
const spots = (findings: readonly Finding[]) =>
  findings.map(({ place, rule }) => `${place?.line}:${place?.column}-${place?.endColumn} ${rule}`);

const SIX_FAULTS = `format: datumlight/1
parameters: {rim: 120 mm, tilt: 2 deg}
light: {wavelength: 632.8}
interferometer:
  focus: [0, 0, -500]
  pixelAcrossBeam: 1000
substrate:
  outline: {circle: {diameter: 150 milimeter}}
references:
  - {id: east, kind: ball, diameter: rim + tilt, at: [140, 0, 200]}
patches:
  - id: east-1
    referense: east
    focus: line
    centre: [0, 60]
    lineAngle: 90
    outline: {rectangle: {width: 10, height: 10}}
  - id: east-2
    reference: esat
    focus: point
    centre: [0, 60]
    outline: {circle: {diameter: 3}}
`;

test('six independent faults are six findings, in the order of the file, at their places', () => {
  const { scenario, findings } = read(SIX_FAULTS);
  expect(scenario).toBeUndefined();
  expect(spots(findings)).toEqual([
    '3:21-26 out-of-range',
    '6:3-18 unknown-key',
    '8:32-45 unknown-unit',
    '10:38-48 unit-mismatch',
    '13:5-14 unknown-key',
    '19:16-20 unknown-reference',
  ]);
  expect(findings.map(({ hint }) => hint)).toEqual([
    'a bare number is in mm: write `632.8 nm`',
    'did you mean `pixelsAcrossBeam`?',
    'did you mean `millimeter`?',
    'give both the same kind of quantity',
    'did you mean `reference`?',
    'did you mean `east`?',
  ]);
  expect(findings.map(({ where }) => where)).toEqual([
    'light.wavelength',
    'interferometer.pixelAcrossBeam',
    'substrate.outline.circle.diameter',
    'references[0].diameter',
    'patches[0].referense',
    'patches[1].reference',
  ]);
});

describe('one fault, one finding', () => {
  const smr = 'id: s, kind: smr';
  test.each<[string, Record<string, string>, string, RegExp]>([
    ['no light', { light: '{}' }, 'missing-key', /needs a wavelength.*`wavelength` or `vacuumWavelength`/],
    [
      'two lights',
      { light: '{wavelength: 633 nm, vacuumWavelength: 633 nm}' },
      'conflicting-keys',
      /both define/,
    ],
    ['misspelled light', { light: '{wavelenght: 633 nm}' }, 'unknown-key', /`wavelength`/],
    ['bare nanometres', { light: '{wavelength: 1064}' }, 'out-of-range', /`1064 nm`/],
    [
      'an infinite number',
      { interferometer: '{focus: [0, 0, -500], fNumber: .inf}' },
      'out-of-range',
      /`fNumber` is Infinity; expected a plain number that is finite/,
    ],
    ['bare micrometres', { light: '{wavelength: 0.6328}' }, 'out-of-range', /`0.6328 um`/],
    ['radio', { light: '{wavelength: 3 mm}' }, 'out-of-range', /100 nm|0.0001 mm/],
    [
      'air beside an air wavelength',
      { light: '{wavelength: 633 nm, air: {}}' },
      'conflicting-keys',
      /remove/,
    ],
    [
      'percent as a number',
      { light: '{vacuumWavelength: 633 nm, air: {humidity: 50}}' },
      'out-of-range',
      /`50 %`/,
    ],
    [
      'a datum that no light meets at normal incidence',
      {
        part: '{datums: {B: {cylinder: {point: [0, 0, 0], axis: [0, 0, 1], diameter: 240}}}}',
        references: '[{id: r, kind: datum, datum: B}]',
        focus: 'normal',
      },
      'bad-value',
      /light cannot meet the cylinder B at normal incidence over a patch/,
    ],
    [
      'two micrometres in air, in figures as they were written',
      { light: '{vacuumWavelength: 2.1 um}' },
      'out-of-range',
      /`vacuumWavelength` is 2100 nm; .* from 300 nm to 1700 nm/,
    ],
    ['far infrared in air', { light: '{vacuumWavelength: 6 um}' }, 'out-of-range', /1700 nm.*`wavelength`/],
    [
      'a vacuum chamber',
      { light: '{vacuumWavelength: 633 nm, air: {pressure: 1000}}' },
      'out-of-range',
      /10000 Pa/,
    ],
    ['an oven', { light: '{vacuumWavelength: 633 nm, air: {temperature: 293}}' }, 'out-of-range', /-40 degC/],
    ['no beam', { interferometer: '{fNumber: 3}' }, 'missing-key', /`focus` or `collimated`/],
    ['two beams', { interferometer: '{focus: [0, 0, 1], collimated: true}' }, 'conflicting-keys', /keep one/],
    ['collimated: false', { interferometer: '{collimated: false}' }, 'bad-value', /`true`/],
    [
      'a beam away from the part',
      { interferometer: '{collimated: true, direction: [0, 0, -1]}' },
      'bad-value',
      /z > 0/,
    ],
    [
      'a beam nowhere',
      { interferometer: '{collimated: true, direction: [0, 0, 0]}' },
      'bad-value',
      /zero vector/,
    ],
    ['f-number 0', { interferometer: '{focus: [0, 0, 9], fNumber: 0}' }, 'out-of-range', /at least 0.1/],
    [
      'a beam of no width',
      { interferometer: '{focus: [0, 0, 9], fNumber: 1e308}' },
      'out-of-range',
      /at most 10000/,
    ],
    ['a flat focus', { interferometer: '{focus: [0, 9]}' }, 'bad-value', /2 entries.*exactly 3/],
    ['text for a list', { interferometer: '{focus: far}' }, 'wrong-type', /a point \[x, y, z\]/],
    [
      'thick and of nothing',
      { substrate: '{outline: {circle: {diameter: 9}}, thickness: 1}' },
      'missing-key',
      /`glass` or `index`/,
    ],
    [
      'misspelled glass',
      { substrate: '{outline: {circle: {diameter: 9}}, thickness: 1, glas: N-BK7}' },
      'unknown-key',
      /`glass`/,
    ],
    [
      'unknown glass',
      { substrate: '{outline: {circle: {diameter: 9}}, glass: N-BK8}' },
      'bad-value',
      /`N-BK7`/,
    ],
    [
      'glass and index',
      { substrate: '{outline: {circle: {diameter: 9}}, glass: N-BK7, index: 1.5}' },
      'conflicting-keys',
      /keep one/,
    ],
    [
      'index of nothing',
      { substrate: '{outline: {circle: {diameter: 9}}, index: 0.9}' },
      'out-of-range',
      /at least 1/,
    ],
    ['no outline', { substrate: '{}' }, 'missing-key', /`outline`/],
    ['an empty outline', { substrate: '{outline: {}}' }, 'bad-value', /one of circle, rectangle/],
    [
      'two outlines',
      { substrate: '{outline: {circle: {diameter: 1}, ring: {inner: 1, outer: 2}}}' },
      'conflicting-keys',
      /circle and ring/,
    ],
    ['a misspelled shape', { outline: '{cirle: {diameter: 1}}' }, 'unknown-key', /`circle`/],
    [
      'a shape and a stray key',
      { outline: '{circle: {diameter: 1}, colour: red}' },
      'unknown-key',
      /allowed keys/,
    ],
    [
      'a ring inside out',
      { outline: '{ring: {inner: 2, outer: 1}}' },
      'bad-outline',
      /not larger than the inner/,
    ],
    [
      'a sector of a full turn',
      { outline: '{sector: {inner: 0, outer: 1, from: 0, to: 360}}' },
      'bad-outline',
      /360 deg/,
    ],
    [
      'a sector backwards',
      { outline: '{sector: {inner: 0, outer: 1, from: 90, to: 0}}' },
      'bad-outline',
      /-90 deg/,
    ],
    [
      'a hair of an ellipse',
      { outline: '{ellipse: {width: 0.01, height: 11}}' },
      'bad-outline',
      /1100 times as long/,
    ],
    [
      'a bow tie',
      { outline: '{polygon: {points: [[0, 0], [1, 1], [1, 0], [0, 1]]}}' },
      'bad-outline',
      /edges .* meet/,
    ],
    [
      'a spike',
      { outline: '{polygon: {points: [[0, 0], [4, 0], [2, 0], [2, 2]]}}' },
      'bad-outline',
      /doubles back/,
    ],
    ['a line', { outline: '{polygon: {points: [[0, 0], [1, 0], [2, 0]]}}' }, 'bad-outline', /doubles back/],
    [
      'a corner twice',
      { outline: '{polygon: {points: [[0, 0], [1, 0], [1, 1], [0, 0]]}}' },
      'bad-outline',
      /repeats/,
    ],
    [
      'a touching polygon',
      { outline: '{polygon: {points: [[0, 0], [4, 0], [4, 4], [2, 0], [0, 4]]}}' },
      'bad-outline',
      /meet/,
    ],
    ['two corners', { outline: '{polygon: {points: [[0, 0], [1, 0]]}}' }, 'bad-value', /at least 3/],
    ['no size', { outline: '{rectangle: {width: 0, height: 1}}' }, 'out-of-range', /at least 0.0001 mm/],
    ['next to none', { outline: '{rectangle: {width: 1e-308, height: 1}}' }, 'out-of-range', /0.0001 mm/],
    ['a kilometre', { outline: '{circle: {diameter: 1 km}}' }, 'out-of-range', /at most 10000 mm/],
    [
      'a corner miles away',
      { outline: '{polygon: {points: [[0, 0], [1, 0], [0, 1 km]]}}' },
      'out-of-range',
      /within 10000 mm/,
    ],
    ['not a number', { centre: '[.nan, 0]' }, 'out-of-range', /NaN/],
    ['infinite', { centre: '[-.inf, 0]' }, 'out-of-range', /Infinity/],
    ['too far', { centre: '[1e308, 0]' }, 'out-of-range', /beyond/],
    ['a line without an angle', { focus: 'line' }, 'missing-key', /lineAngle: 90 deg/],
    ['a point with one', { lineAngle: '90' }, 'conflicting-keys', /a point focus has no line/],
    ['order 0', { order: '0' }, 'bad-value', /whole number other than 0/],
    ['order 1/2', { order: '1/2' }, 'bad-value', /the order is 0.5/],
    ['bias of none', { bias: '{shape: tilt, fringes: 0}' }, 'out-of-range', /more than 0/],
    ['a bias without a shape', { bias: '{fringes: 1}' }, 'missing-key', /`shape`/],
    ['focus of a kind', { focus: 'spot' }, 'bad-value', /expected one of point, line/],
    ['unknown reference', { reference: 'q' }, 'unknown-reference', /known: r/],
    ['an id that climbs', { id: '../../etc' }, 'bad-id', /cannot be used as a file name/],
    ['a hidden id', { id: '.x' }, 'bad-id', /cannot be used as a file name/],
    ['an id with two dots', { id: 'a..b' }, 'bad-id', /`..`/],
    ['an id with a dot last', { id: 'a.' }, 'bad-id', /at the end/],
    ['a device', { id: 'NUL.txt' }, 'bad-id', /device/],
    ['a number for an id', { id: '12' }, 'wrong-type', /in quotes, `'12'`/],
    ['an empty id', { id: "''" }, 'bad-id', /start with a letter or digit/],
    ['a long id', { id: 'x'.repeat(65) }, 'bad-id', /at most 64/],
    ['no place', { references: '[{id: r, kind: screen}]' }, 'missing-key', /`at` or `touches`/],
    [
      'two places',
      {
        references: '[{id: r, kind: screen, at: [0, 0, 9], touches: [{datum: A}]}]',
        part: '{datums: {A: {point: {at: [0, 0, 0]}}}}',
      },
      'conflicting-keys',
      /keep one/,
    ],
    [
      'a ball of no size',
      { references: '[{id: r, kind: ball, at: [0, 0, 9]}]' },
      'missing-key',
      /diameter: 0.5 in/,
    ],
    [
      'a misspelled diameter',
      { references: '[{id: r, kind: ball, diametre: 3, at: [0, 0, 9]}]' },
      'unknown-key',
      /`diameter`/,
    ],
    [
      'no such datum',
      { references: `[{id: r, kind: screen, at: [0, 0, 9]}, {${smr}, diameter: 9, touches: [{datum: Q}]}]` },
      'unknown-datum',
      /no `datums`/,
    ],
    [
      'touches too few',
      {
        part: '{origin: [0, 0, 900], datums: {A: {plane: {point: [0, 0, 0], normal: [0, 0, -1]}}}}',
        references: `[{id: r, kind: screen, at: [0, 0, 9]}, {${smr}, diameter: 9, touches: [{datum: A}]}]`,
      },
      'touch-underdetermined',
      /free/,
    ],
    [
      'a frame with touches',
      {
        part: '{origin: [0, 0, 900], datums: {A: {plane: {point: [0, 0, 0], normal: [0, 0, -1]}}}}',
        references: `[{id: r, kind: screen, at: [0, 0, 9]}, {${smr}, diameter: 9, frame: part, touches: [{datum: A, x: 1, y: 2}]}]`,
      },
      'conflicting-keys',
      /touches are in the part frame/,
    ],
    [
      'a skewed vee',
      { part: '{datums: {V: {vee: {point: [0, 0, 0], axis: [0, 1, 0], normal: [0, 1, 1], angle: 90}}}}' },
      'bad-value',
      /not perpendicular/,
    ],
    ['a bad datum id', { part: '{datums: {"a/b": {point: {at: [0, 0, 0]}}}}' }, 'bad-id', /cannot be used/],
    [
      'a cone of two zeros',
      { part: '{envelope: [{cone: {point: [0, 0, 0], axis: [0, 0, 1], diameters: [0, 0], length: 3}}]}' },
      'out-of-range',
      /both/,
    ],
    [
      'a flat box',
      { part: '{envelope: [{box: {corner: [0, 0, 0], size: [1, 0, 1]}}]}' },
      'out-of-range',
      /side of the box/,
    ],
    ['a parameter’s cycle', { parameters: '{a: b, b: a}' }, 'parameter-cycle', /a -> b -> a/],
    ['a parameter’s name', { parameters: '{mm: 3}', centre: '[0 mm, 3 mm]' }, 'bad-id', /a unit of length/],
    ['a list for a parameter', { parameters: '{a: [1]}', centre: '[a, 0]' }, 'wrong-type', /is a list/],
    ['misspelled parameters', { paramaters: '{rim: 3}', centre: '[rim, 0]' }, 'unknown-key', /`parameters`/],
    ['parameters of no kind', { parameters: 'rim', centre: '[rim, 0]' }, 'wrong-type', /the string `rim`/],
    ['a duplicate key', { title: 'one\ntitle: two' }, 'duplicate-key', /already on line \d+/],
    ['another format', { format: 'datumlight/2' }, 'bad-value', /`datumlight\/1`/],
    ['a long title', { title: 'x'.repeat(201) }, 'out-of-range', /201 characters/],
    ['an unwanted wish', { wanted: '{x: 0}' }, 'out-of-range', /at least 1e-12 mm/],
    [
      'an unknown measured reference',
      { measurements: '[{id: m, reference: q, direction: [0, 0, 1], uncertainty: 1 um}]' },
      'unknown-reference',
      /`q`/,
    ],
    [
      'nothing measured',
      { measurements: '[{id: m, reference: r, direction: [0, 0, 1], uncertainty: 0}]' },
      'out-of-range',
      /more than 0/,
    ],
    [
      'a wrong unit in a list',
      { keepOuts: '[{id: k, outline: {circle: {diameter: 3 deg}}}]' },
      'unit-mismatch',
      /a length/,
    ],
    [
      'ids that share a file',
      { keepOuts: '[{id: k, outline: {circle: {diameter: 3}}}, {id: K, outline: {circle: {diameter: 3}}}]' },
      'duplicate-id',
      /case/,
    ],
    ['text for references', { references: 'none' }, 'wrong-type', /a list of references/],
    ['a number for a patch', { patches: '[3]' }, 'wrong-type', /entry 1 of `patches`/],
  ])('%s', (_, words, code, said) => {
    const { scenario, findings } = read(scenarioWith(words));
    expect(findings.map(({ rule }) => rule)).toEqual([code]);
    expect(`${findings[0]?.message}; ${findings[0]?.hint}`).toMatch(said);
    expect(findings[0]?.place).toBeDefined();
    expect(scenario).toBeUndefined();
  });

  test('a fault behind an alias is told once', () => {
    const patches = `
  - &p {id: a, reference: r, focus: point, centre: [0, 60], outline: &o {circle: {diameter: 3 deg}}}
  - {id: b, reference: r, focus: point, centre: [0, 60], outline: *o}
  - {<<: *p, id: c}`;
    expect(brief(read(scenarioWith({ patches })).findings)).toEqual([[7, 'unit-mismatch']]);
  });

  test('what depends on a faulty entry is not faulty for it', () => {
    const text = scenarioWith({
      part: '{origin: [a, 0, 0], datums: {A: {plane: {point: [0, 0, 0], normal: [0, 0, 0]}}}}',
      references:
        '[{id: r, kind: ball, diameter: 0, at: [0, 0, 9], frame: part}, {id: s, kind: smr, diameter: 9, touches: [{datum: A}]}]',
      measurements: '[{id: m, reference: s, direction: [0, 0, 1], uncertainty: 1 um}]',
    });
    expect(read(text).findings.map(({ rule }) => rule)).toEqual([
      'out-of-range',
      'unknown-name',
      'bad-value',
    ]);
  });
});

describe('places', () => {
  const text =
    'format: datumlight/1\nlight: {wavelength: 633 nm}\nsubstrate:\n  thickness: 3\n  outline: {}\npatches:\n  - id: a\n    focus: point\n  - {id: b}\n';
  const { places } = read(text);
  test.each<[readonly (string | number)[], string]>([
    [['light', 'wavelength'], '2:21-27'],
    [['light', 'air'], '2:1-6'],
    [['light'], '2:8-28'],
    [['substrate'], '3:1-10'],
    [['substrate', 'thickness'], '4:14-15'],
    [['substrate', 'glass', 'deeper'], '3:1-10'],
    [['patches', 0, 'focus'], '8:12-17'],
    [['patches', 0, 'outline'], '7:5-1'],
    [['patches', 1, 'outline'], '9:5-12'],
    [['patches', 7], '6:1-8'],
    [['nowhere'], '1:1-2'],
    [[], '1:1-2'],
  ])('%j is at %s', (path, where) => {
    const place = places(path);
    expect(`${place?.line}:${place?.column}-${place?.endColumn}`).toBe(where);
  });

  test('a byte order mark and CRLF shift nothing', () => {
    const marked = read(`\ufeff${SIX_FAULTS.replaceAll('\n', '\r\n')}`);
    expect(spots(marked.findings)).toEqual(spots(read(SIX_FAULTS).findings));
  });
});

describe('what is no YAML', () => {
  test.each<[string, string, string, RegExp]>([
    ['a tab as indent', 'a:\n\tb: 1\n', '2:1', /tabs.*spaces/],
    ['an open list', 'format: datumlight/1\nlight: [1,\n', '3:1', /./],
    ['an open quote', 'title: "x\n', '2:1', /closing.*close/],
    ['two documents', 'a: 1\n---\nb: 2\n', '2:1', /more than one YAML document/],
    ['a tag', 'a: !js/function 1\n', '1:4', /remove the tag/],
    ['an alias to nowhere', 'a: *b\n', '1:4', /no anchor/],
    ['a list for a key', '? [a]\n: 1\n', '1:3', /plain name/],
    ['nothing', '', '1:1', /no scenario/],
    ['comments', '# only\n', '1:1', /no scenario/],
    ['a bad merge', 'a: {<<: 3}\n', '1:5', /merge key/],
  ])('%s', (_, text, where, said) => {
    const { findings } = read(text);
    expect(findings).toHaveLength(1);
    expect(findings[0]?.rule).toBe('yaml-syntax');
    expect(`${findings[0]?.place?.line}:${findings[0]?.place?.column}`).toBe(where);
    expect(`${findings[0]?.message}; ${findings[0]?.hint}`).toMatch(said);
  });

  test.each([
    ['a text', 'hello'],
    ['a list', '- 1\n'],
    ['a number', '42'],
  ])('%s is no scenario', (_, text) => {
    expect(brief(read(text).findings)).toEqual([[1, 'wrong-type']]);
  });
});
