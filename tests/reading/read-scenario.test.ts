import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { brief, scenarioWith } from './support/scenario-text.ts';

const degree = Math.PI / 180;
const everyWord = readFileSync(new URL('every-word.yaml', import.meta.url), 'utf8');

test('a scenario with every word comes out in mm and radians', () => {
  const { scenario, findings } = readScenario(everyWord, 'every-word.yaml');
  expect(findings).toEqual([]);
  expect(scenario).toEqual({
    title: 'text',
    parameters: [
      { name: 'rim', value: 120, dimension: 'length' },
      { name: 'smr', value: 38.1, dimension: 'length' },
    ],
    light: { given: 'air', wavelength: 632.8e-6, uncertainty: { wavelength: 1e-9, pressure: 500 } },
    interferometer: {
      beam: { kind: 'diverging', focus: [0, 0, -500] },
      fNumber: 3.2,
      beamDiameter: undefined,
      pixelsAcrossBeam: 1000,
      readable: 0.1,
      placed: { x: 0.1, y: 0.2, z: 0.3, rx: 2e-4, ry: 1e-4 },
      wavefront: 0.05,
    },
    substrate: {
      outline: { shape: 'circle', centre: [0, 0], radius: 75 },
      thickness: 6.35,
      material: { glass: 'fused silica' },
      patternFaces: 'part',
      tolerance: { thickness: 0.02, index: 1e-4, wedge: 1e-5, wavefront: 0.2 },
      edgeMargin: 3,
      clearance: 0.5,
    },
    keepOuts: [{ id: 'main', pattern: true, outline: { shape: 'circle', centre: [0, 0], radius: 45 } }],
    process: {
      kind: 'etched',
      minFeature: 1e-3,
      dutyCycle: 0.5,
      placement: 1e-4,
      tone: 'written is etched',
      etchDepth: 692e-6,
      etchTolerance: 1e-5,
      opticalDensity: undefined,
      widthTolerance: 2e-5,
      placementStated: true,
    },
    part: {
      frame: {
        origin: [0, 0, 900],
        rotation: [
          [1, 0, 0],
          [0, 1, 0],
          [0, 0, 1],
        ],
      },
      rotation: [0, 0, 0],
      datums: [
        { id: 'A', kind: 'plane', point: [0, 0, 0], normal: [0, 0, -1] },
        { id: 'B', kind: 'cylinder', point: [0, 0, 0], axis: [0, 0, 1], diameter: 240, side: 'outside' },
      ],
      envelope: [{ kind: 'cylinder', point: [0, 0, 0], axis: [0, 0, 1], diameter: 240, length: 40 }],
    },
    references: [
      {
        id: 'north',
        kind: 'smr',
        diameter: 38.1,
        // The ball rests on the cylinder (120 + 19.05 from its axis) and on the plane (19.05 along its normal).
        at: [expect.closeTo(0, 9), expect.closeTo(139.05, 9), expect.closeTo(880.95, 9)],
        given: 'touches',
        movesWith: 'part',
        touches: [{ datum: 'B', azimuth: 90 * degree }, { datum: 'A' }],
        cube: {},
      },
      { id: 'east', kind: 'ball', diameter: 12.7, at: [140, 0, 200], given: 'substrate', touches: [] },
    ],
    patches: [
      {
        id: 'north-1',
        reference: 'north',
        focus: 'line',
        centre: [0, 60],
        outline: { shape: 'rectangle', centre: [0, 60], width: 10, height: 10, rotation: 0 },
        lineAngle: 90 * degree,
        order: 1,
        bias: { shape: 'roof', fringes: 1, direction: undefined },
      },
    ],
    marks: {
      fiducials: [
        [-60, 0],
        [60, 0],
        [0, -66],
      ],
      orientation: 'auto',
      patches: 'none',
      drawing: 'auto',
      side: [[0, -60]],
      serial: 'none',
      bars: 'auto',
      height: 1,
    },
    measurements: [],
    obstacles: [],
    stage: [],
    seats: [],
    wanted: { x: 0.01, y: 0.01, z: 0.05, rx: 20e-6, ry: 20e-6, rz: 50e-6 },
  });
});

test('the required words alone get the documented defaults', () => {
  const { scenario, findings } = readScenario(
    scenarioWith({ interferometer: '{focus: [0, 0, -500]}', references: '[]', patches: '[]' }),
    'a.yaml',
  );
  expect(findings).toEqual([]);
  expect(scenario).toMatchObject({
    title: '',
    parameters: [],
    interferometer: { pixelsAcrossBeam: 1000, readable: 0.1 },
    substrate: { thickness: 0, material: { index: 1 }, patternFaces: 'part', edgeMargin: 0, clearance: 0 },
    keepOuts: [],
    process: {
      kind: 'etched',
      minFeature: 1e-3,
      dutyCycle: 0.5,
      placement: 1e-4,
      placementStated: false,
      tone: 'written is etched',
    },
    part: { datums: [], envelope: [], rotation: [0, 0, 0] },
    measurements: [],
    obstacles: [],
    stage: [],
    seats: [],
    wanted: {},
  });
  expect(scenario?.interferometer.fNumber).toBeUndefined();
});

test('the defaults that the schema states are those that are filled in', () => {
  const schema = JSON.parse(
    readFileSync(new URL('../../schemas/scenario.schema.json', import.meta.url), 'utf8'),
  );
  const { properties, $defs } = schema;
  const stated = {
    light: { vacuumWavelength: '633 nm', air: defaultsOf(properties.light.properties.air) },
    interferometer: { collimated: true, ...defaultsOf(properties.interferometer) },
    substrate: { outline: { circle: { diameter: 150 } }, ...defaultsOf(properties.substrate) },
    process: defaultsOf(properties.process),
    part: defaultsOf(properties.part),
    references: [{ id: 'r', kind: 'screen', at: [0, 0, 900], ...defaultsOf($defs.reference) }],
    patches: [
      {
        ...{ id: 'p', reference: 'r', focus: 'point', centre: [0, 60] },
        outline: { rectangle: { width: 1, height: 1, ...defaultsOf($defs.outline.properties.rectangle) } },
        ...defaultsOf($defs.patch),
      },
    ],
  };
  const silent = {
    light: { vacuumWavelength: '633 nm' },
    interferometer: { collimated: true },
    substrate: { outline: { circle: { diameter: 150 } } },
    references: [{ id: 'r', kind: 'screen', at: [0, 0, 900] }],
    patches: [
      {
        ...{ id: 'p', reference: 'r', focus: 'point', centre: [0, 60] },
        outline: { rectangle: { width: 1, height: 1 } },
      },
    ],
  };
  const read = (words: object) => readScenario(JSON.stringify({ format: 'datumlight/1', ...words }), 'a');
  expect(read(stated).findings).toEqual([]);
  expect(read(stated).scenario).toEqual(read(silent).scenario);
});

function defaultsOf({
  properties,
}: {
  properties: Record<string, { default?: unknown }>;
}): Record<string, unknown> {
  const stated = Object.entries(properties).filter(([, schema]) => schema.default !== undefined);
  return Object.fromEntries(stated.map(([key, schema]) => [key, schema.default]));
}

describe('light and beam', () => {
  test.each([
    [
      'light',
      '{vacuumWavelength: 632.9908 nm}',
      { given: 'vacuum', air: { temperature: 20, pressure: 101_325, humidity: 0.5 } },
    ],
    [
      'light',
      '{vacuumWavelength: 633 nm, air: {temperature: 293.15 K, pressure: 1000 hPa, humidity: 40 %}}',
      { given: 'vacuum', vacuumWavelength: 633e-6, air: { temperature: 20, pressure: 1e5, humidity: 0.4 } },
    ],
    ['interferometer', '{focus: [0, 0, 1 m]}', { beam: { kind: 'converging', focus: [0, 0, 1000] } }],
    [
      'interferometer',
      '{collimated: true, beamDiameter: 4 in}',
      { beam: { kind: 'collimated', direction: [0, 0, 1] }, beamDiameter: 101.6 },
    ],
    [
      'interferometer',
      '{collimated: true, direction: [0, 3, 4]}',
      { beam: { direction: [0, expect.closeTo(0.6, 15), 0.8] } },
    ],
  ] as const)('%s: %s', (key, words, expected) => {
    const { scenario, findings } = readScenario(scenarioWith({ [key]: words }), 'a.yaml');
    expect(findings).toEqual([]);
    expect(scenario?.[key]).toMatchObject(expected);
  });

  test('words without effect are warned of and keep nothing from being read', () => {
    const beam = '{collimated: true, fNumber: 3.2}';
    const { scenario, findings } = readScenario(scenarioWith({ interferometer: beam }), 'a.yaml');
    expect(brief(findings)).toEqual([[3, 'unused-key']]);
    expect(findings[0]?.severity).toBe('warning');
    expect(scenario).toBeDefined();
  });
});

describe('outlines: diameters in, radii out, the patch’s centre added', () => {
  test.each([
    ['{circle: {diameter: 8, centre: [1, 2]}}', { shape: 'circle', centre: [1, 62], radius: 4 }],
    [
      '{rectangle: {width: 8, height: 6, rotation: 30}}',
      { shape: 'rectangle', centre: [0, 60], width: 8, height: 6 },
    ],
    ['{ring: {inner: 4, outer: 8}}', { shape: 'ring', centre: [0, 60], inner: 2, outer: 4 }],
    [
      '{sector: {inner: 0, outer: 8, from: -10, to: 350 deg - 1 deg}}',
      { shape: 'sector', inner: 0, outer: 4, from: -10 * degree },
    ],
    [
      '{polygon: {points: [[0, 0], [4, 0], [0, 3]]}}',
      {
        points: [
          [0, 60],
          [4, 60],
          [0, 63],
        ],
      },
    ],
    [
      '{polygon: {points: [[0, 0], [0, 3], [4, 0]], centre: [1, 0]}}',
      {
        points: [
          [5, 60],
          [1, 63],
          [1, 60],
        ],
      },
    ],
  ])('%s', (words, expected) => {
    const { scenario, findings } = readScenario(scenarioWith({ outline: words }), 'a.yaml');
    expect(findings).toEqual([]);
    expect(scenario?.patches[0]?.outline).toMatchObject(expected);
  });
});

test('the part’s frame carries places of the part into the substrate frame', () => {
  const words = {
    part: '{origin: [0, 0, 900], rotation: [0, 0, 90]}',
    references: '[{id: r, kind: screen, at: [10, 0, 5], frame: part}]',
  };
  const { scenario } = readScenario(scenarioWith(words), 'a.yaml');
  expect(scenario?.references[0]).toMatchObject({
    given: 'part',
    diameter: undefined,
    at: [expect.closeTo(0, 12), expect.closeTo(10, 12), 905],
  });
});

test('every datum, solid and measurement is read', () => {
  const words = {
    part: `{datums: {A: {plane: {point: [0, 0, 0], normal: [0, 0, -2], extent: {ring: {inner: 4, outer: 1 cm, centre: [3, 0]}}}}, B: {cone: {apex: [0, 0, 0], axis: [0, 0, 1], angle: 90, side: inside}},
      C: {sphere: {centre: [0, 0, 0], diameter: 5}}, D: {point: {at: [1, 2, 3]}}, E: {vee: {point: [0, 0, 0], axis: [0, 2, 0], normal: [0, 0, 3], angle: 90}}, F: {cylinder: {point: [0, 0, 0], axis: [0, 0, 1], diameter: 5, length: 7}}},
      envelope: [{cone: {point: [0, 0, 0], axis: [0, 0, 1], diameters: [0, 4], length: 3}}, {box: {corner: [0, 0, 0], size: [1, 2, 3]}}, {sphere: {centre: [0, 0, 0], diameter: 3}}]}`,
    obstacles: '[{id: clamp, solids: [{box: {corner: [0, 0, 1], size: [1, 2, 3]}}]}]',
    measurements: '[{id: gauge, reference: r, direction: [0, 0, 2], uncertainty: 5 um}]',
  };
  const { scenario, findings } = readScenario(scenarioWith(words), 'a.yaml');
  expect(findings).toEqual([]);
  expect(scenario?.part.datums).toMatchObject([
    {
      id: 'A',
      kind: 'plane',
      normal: [0, 0, -1],
      extent: { shape: 'ring', centre: [3, 0], inner: 2, outer: 5 },
    },
    { id: 'B', kind: 'cone', angle: 90 * degree, side: 'inside' },
    { id: 'C', kind: 'sphere', diameter: 5, side: 'outside' },
    { id: 'D', kind: 'point', point: [1, 2, 3] },
    { id: 'E', kind: 'vee', axis: [0, 1, 0], normal: [0, 0, 1], angle: 90 * degree },
    { id: 'F', kind: 'cylinder', diameter: 5, length: 7, side: 'outside' },
  ]);
  expect(scenario?.obstacles).toEqual([
    { id: 'clamp', solids: [{ kind: 'box', corner: [0, 0, 1], size: [1, 2, 3] }] },
  ]);
  expect(scenario?.part.envelope).toMatchObject([
    { kind: 'cone', diameters: [0, 4], length: 3 },
    { kind: 'box', size: [1, 2, 3] },
    { kind: 'sphere', diameter: 3 },
  ]);
  expect(scenario?.measurements).toEqual([
    { id: 'gauge', reference: 'r', direction: [0, 0, 1], uncertainty: 5e-3 },
  ]);
});

test('a scenario is frozen to its depths', () => {
  const frozen = (value: unknown): boolean =>
    typeof value !== 'object' ||
    value === null ||
    (Object.isFrozen(value) && Object.values(value).every(frozen));
  expect(frozen(readScenario(everyWord, 'a').scenario)).toBe(true);
});

test('anchors, aliases and merge keys are followed', () => {
  const text = scenarioWith({
    patches: `
  - &first {id: a, reference: r, focus: point, centre: [0, 60], outline: &square {rectangle: {width: 5, height: 5}}}
  - {<<: *first, id: b, centre: [0, 70]}
  - {id: c, reference: r, focus: point, centre: [0, 80], outline: *square}`,
  });
  const { scenario, findings } = readScenario(text, 'a.yaml');
  expect(findings).toEqual([]);
  expect(scenario?.patches.map(({ id, centre }) => [id, ...centre])).toEqual([
    ['a', 0, 60],
    ['b', 0, 70],
    ['c', 0, 80],
  ]);
});

test('line ends, a byte order mark and JSON make no difference', () => {
  const { scenario } = readScenario(everyWord, 'a');
  for (const text of [everyWord.replaceAll('\n', '\r\n'), `\ufeff${everyWord}`]) {
    expect(readScenario(text, 'a')).toMatchObject({ scenario, findings: [] });
  }
});

test('a finding of a reference in use points at its own line, past those that are not used', () => {
  const references =
    '[{id: spare, kind: screen, at: [0, 0, 900], use: false},\n {id: used, kind: screen, at: [0, 0, 900]}]';
  const text = scenarioWith({ references, patches: '[]' });
  const { places, scenario } = readScenario(text, 'a.yaml');
  expect(scenario?.references.map(({ id }) => id)).toEqual(['used']);
  const place = places(['references', 0, 'id'])!;
  expect(text.split('\n')[place.line - 1]!.slice(place.column - 1, place.endColumn - 1)).toBe('used');
});
