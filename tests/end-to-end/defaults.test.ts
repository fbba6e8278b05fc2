/**
 * What a scenario gets where it does not say: with the documented default written out the report stays the same, with another value it does
 * not. The values are those of the scenario's documentation; where they come from is in tests/metrology/constants.test.ts.
 */
import { expect, test } from 'vitest';
import { reportOf, type Words } from './support/command.ts';

const BASE = {
  light: { vacuumWavelength: '633 nm' },
  interferometer: { collimated: true, beamDiameter: 146 },
  substrate: { outline: { circle: { diameter: 150 } }, thickness: 0 },
  seats: [0, 1, 2].map((k) => ({
    id: `s${k}`,
    kind: 'ball',
    diameter: 6,
    at: [66 * Math.cos(0.5 + 2.1 * k), 66 * Math.sin(0.5 + 2.1 * k)],
  })),
  process: {},
  part: {
    datums: {
      A: { plane: { point: [0, 0, 900], normal: [0, 0, -1] } },
      B: { cylinder: { point: [0, 0, 900], axis: [0, 0, 1], diameter: 180 } },
    },
  },
  references: [
    { id: 'cube', kind: 'smr', diameter: 38.1, at: [0, 100, 900] },
    { id: 'rim', kind: 'smr', diameter: 38.1, touches: [{ datum: 'B', azimuth: 0 }, { datum: 'A' }] },
    { id: 'ball', kind: 'ball', diameter: 25.4, at: [0, -70, 300] },
    { id: 'bead', kind: 'ball', diameter: 25.4, touches: [{ datum: 'B', azimuth: 200 }, { datum: 'A' }] },
    { id: 'screen', kind: 'screen', at: [0, 0, 500] },
  ],
  patches: [
    {
      id: 'c',
      reference: 'cube',
      focus: 'line',
      lineAngle: 0,
      centre: [0, 45],
      outline: { rectangle: { width: 10, height: 10 } },
    },
    {
      id: 'r',
      reference: 'rim',
      focus: 'line',
      lineAngle: 90,
      centre: [40, 0],
      outline: { rectangle: { width: 10, height: 10 } },
    },
    {
      id: 'b',
      reference: 'ball',
      focus: 'point',
      centre: [0, -45],
      outline: { rectangle: { width: 10, height: 8 } },
      bias: { shape: 'tilt', fringes: 2 },
    },
    { id: 'd', reference: 'bead', focus: 'point', centre: [-40, 0], outline: { circle: { diameter: 10 } } },
    { id: 's', reference: 'screen', focus: 'point', centre: [0, 0], outline: { circle: { diameter: 10 } } },
  ],
} as const;

const DEFAULTS: readonly (readonly [path: string, value: unknown, another: unknown])[] = [
  ['light.air.temperature', '20 degC', 21],
  ['light.air.pressure', '101325 Pa', '101 kPa'],
  ['light.air.humidity', '50 %', 0.4],
  ['interferometer.direction', [0, 0, 1], [0, 0.01, 1]],
  ['interferometer.pixelsAcrossBeam', 1000, 900],
  ['interferometer.readable', 0.1, 0.2],
  ['substrate.edgeMargin', 0, 70],
  ['substrate.clearance', 0, 50],
  ['process.kind', 'etched', 'chrome'],
  ['process.minFeature', '1 um', '100 um'],
  ['process.dutyCycle', 0.5, 0.4],
  ['process.placement', '0.1 um', '0.2 um'],
  ['part.origin', [0, 0, 0], [0, 0, 1]],
  ['part.rotation', ['0 deg', '0 deg', '0 deg'], [0, 1, 0]],
  ['references.0.centring', '6 um', '7 um'],
  ['references.0.nest', '2.5 um', '3 um'],
  ['references.0.acceptance', '30 deg', 31],
  ['references.1.form', '0.25 um', '0.5 um'],
  ['references.1.radiusTolerance', '1.27 um', '2.54 um'],
  ['references.2.form', '0.25 um', '0.5 um'],
  ['references.3.radiusTolerance', '2.54 um', '1.27 um'],
  ['patches.0.order', 1, -1],
  ['patches.2.bias.direction', 0, 90],
  ['seats.0.face', 'part', 'interferometer'],
  ['seats.0.height', '3 mm', 4],
  ['seats.0.footprint', 6, 60],
  ['seats.0.uncertainty', '2 um', '3 um'],
];

/** The base with words more. */
function withWords(more: readonly (readonly [path: string, value: unknown])[]): Words {
  const words = structuredClone(BASE) as Record<string, unknown>;
  for (const [path, value] of more) {
    const keys = path.split('.');
    const last = keys.pop()!;
    let at = words;
    for (const key of keys) {
      at[key] ??= {};
      at = at[key] as Record<string, unknown>;
    }
    if (last in at) throw new Error(`${path} is said already`);
    at[last] = value;
  }
  return words;
}

/** All that is reported but what says which text it is of, and where in it. */
async function reported(words: Words): Promise<unknown> {
  const report = await reportOf<{ scenario: unknown; findings: readonly object[] }>(words);
  return {
    ...report,
    scenario: undefined,
    findings: report.findings.map((finding) => ({ ...finding, place: undefined })),
  };
}

const base = reported(BASE);

test('all defaults written out change nothing', async () => {
  expect(await reported(withWords(DEFAULTS.map(([path, value]) => [path, value])))).toEqual(await base);
});

test.each(DEFAULTS)('%s: another value than %j tells', async (path, _value, another) => {
  expect(await reported(withWords([[path, another]]))).not.toEqual(await base);
});
