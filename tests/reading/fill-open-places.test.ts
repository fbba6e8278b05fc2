/** Filling in a user's own text: comments, order, spaces and line ends stay; what is chosen is marked. */
import { expect, test } from 'vitest';
import { fillOpenPlaces } from '../../src/reading/scenario/fill-open-places.ts';
import { readOpenScenario, readScenario } from '../../src/reading/scenario/read-scenario.ts';

const TEXT = `# a bench
format: datumlight/1     # first
references:
  - {id: a,   kind: smr, at: [0, 0, 900], patches: auto}   # "the # one"
  - id: b
    use: auto   # maybe
    kind: smr
    at: [0, 100, 900]
patches:
  # the first
  - id: p
    reference: a
    centre: auto
    lineAngle:   auto
    outline: {circle: {diameter: 4}}   # given

  # nothing after this
wanted: {x: 1 um}
`;

test('each auto where it stands, patches after the last one, marks at the end of the line', () => {
  const filled = fillOpenPlaces(TEXT, {
    values: [
      { path: ['references', 0, 'patches'], yaml: '[a-1]' },
      { path: ['references', 1, 'use'], yaml: 'false' },
      { path: ['patches', 0, 'centre'], yaml: '[1, 2]' },
      { path: ['patches', 0, 'lineAngle'], yaml: '30 deg' },
    ],
    added: ['{id: a-1, reference: a}'],
  });
  expect(filled).toBe(
    TEXT.replace('patches: auto}   # "the # one"', 'patches: [a-1]}   # "the # one"; plan: patches')
      .replace('use: auto   # maybe', 'use: false   # maybe; plan: use')
      .replace('centre: auto', 'centre: [1, 2]   # plan: centre')
      .replace('lineAngle:   auto', 'lineAngle:   30 deg   # plan: lineAngle')
      .replace('# given\n', '# given\n  - {id: a-1, reference: a}   # plan\n'),
  );
});

test.each([
  ['an empty flow list', 'patches: []\nwanted: {}\n', 'patches: \n  - {id: n}   # plan\nwanted: {}\n'],
  ['a flow list', 'patches: [{id: m}]\n', 'patches: [{id: m}, {id: n}]\n'],
  ['no line end at the end', 'patches:\n- {id: m}', 'patches:\n- {id: m}\n- {id: n}   # plan'],
  [
    'CR LF',
    'patches:\r\n  - {id: m}\r\nx: 1\r\n',
    'patches:\r\n  - {id: m}\r\n  - {id: n}   # plan\r\nx: 1\r\n',
  ],
  [
    'a byte order mark',
    '\ufeffpatches:\n  - {id: m}\n',
    '\ufeffpatches:\n  - {id: m}\n  - {id: n}   # plan\n',
  ],
  ['JSON', '{"patches": []}', '{"patches": [{id: n}]}'],
])('%s', (_, text, expected) => {
  expect(fillOpenPlaces(text, { values: [], added: ['{id: n}'] })).toBe(expected);
});

test('a line that goes on inside quotes takes no mark: the meaning comes first', () => {
  const text = 'patches:\n  - {centre: auto, note: "one\n    two"}\n';
  const filled = fillOpenPlaces(text, {
    values: [{ path: ['patches', 0, 'centre'], yaml: '[1, 2]' }],
    added: [],
  });
  expect(filled).toBe('patches:\n  - {centre: [1, 2], note: "one\n    two"}\n');
});

test('a place that comes from an alias or a merge key cannot be written into', () => {
  const text = 'base: &b {centre: auto}\npatches:\n  - {<<: *b, id: p}\n';
  expect(
    fillOpenPlaces(text, { values: [{ path: ['patches', 0, 'centre'], yaml: '[1, 2]' }], added: [] }),
  ).toBeUndefined();
});

const scenario = (patch: string, reference = ''): string => `format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -500]}
substrate: {outline: {circle: {diameter: 150}}}
references:
  - {id: a, kind: smr, at: [0, 0, 900]${reference}}
  - {id: b, kind: smr, at: [0, 90, 900]}
patches:
  - {id: p, reference: b, focus: line, ${patch}}
`;

test('check and make refuse what is open, each place with its word; plan takes it', () => {
  const text = scenario(
    'centre: auto, lineAngle: auto, outline: auto, size: {least: 3 mm}',
    ', use: auto, patches: auto',
  );
  const { scenario: closed, findings } = readScenario(text, 's.yaml');
  expect(closed).toBeUndefined();
  expect(findings.map(({ rule, where, place }) => [rule, where, place?.line])).toEqual([
    ['open-place', 'references[0].use', 6],
    ['open-place', 'references[0].patches', 6],
    ['open-place', 'patches[0].centre', 9],
    ['open-place', 'patches[0].lineAngle', 9],
    ['open-place', 'patches[0].outline', 9],
  ]);
  expect(findings[0]!.hint).toMatch(/datumlight plan/);
  const { open } = readOpenScenario(text, 's.yaml');
  expect(open).toEqual({
    patches: [{ index: 0, centre: true, lineAngle: true, size: { least: 3, most: undefined } }],
    references: [{ id: 'a', use: true, patches: true }],
  });
});

test('use: false leaves a reference out; a patch that names it is told', () => {
  const given = 'centre: [0, 0], lineAngle: 0, outline: {circle: {diameter: 4}}';
  const without = readScenario(scenario(given, ', use: false'), 's.yaml');
  expect(without.scenario!.references.map(({ id }) => id)).toEqual(['b']);
  const named = readScenario(
    scenario(given, ', use: false').replace('reference: b', 'reference: a'),
    's.yaml',
  );
  expect(named.findings.map(({ rule }) => rule)).toEqual(['unknown-reference']);
});

test('other faults are found beside open places, by plan too', () => {
  const { findings } = readOpenScenario(
    scenario('centre: auto, lineAngle: 0, outline: {circl: {diameter: 4}}'),
    's.yaml',
  );
  expect(findings.map(({ rule }) => rule)).toEqual(['unknown-key']);
});
