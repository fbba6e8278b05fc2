/** Scenarios from a grammar of all their words: mostly sound ones, now and then one of the faults that people make. */
import fc from 'fast-check';
import { angle, direction, length, mostly, outline, sometimes } from './fuzz-values.ts';

const bias = fc.record({
  shape: fc.constantFrom('roof', 'roof', 'roof', 'tilt'),
  fringes: mostly(fc.constantFrom(1, 0.5, 3), 0, 1e6),
});
const placed = {
  diameter: mostly(fc.constantFrom('1.5 in', '0.875 in', '0.5 in'), 0, '1 nm', '1 km'),
  at: fc.oneof(
    fc.tuple(length(-150, 150), length(-150, 150), length(100, 3000)),
    fc.tuple(length(-120, 120), length(-120, 120), length(1500, 2500)),
  ),
  use: mostly(fc.constant(true), false, 'auto'),
};
const reference = fc.oneof(
  fc.record(
    {
      kind: mostly(fc.constant('smr'), 'cube'),
      ...placed,
      centring: length(0.001, 0.01),
      roll: angle,
      acceptance: fc.constantFrom('25 deg', '40 deg'),
    },
    { requiredKeys: ['kind', 'diameter', 'at'] },
  ),
  fc.record({ kind: fc.constant('ball'), ...placed }, { requiredKeys: ['kind', 'diameter', 'at'] }),
  fc.record({ kind: fc.constantFrom('ball', 'smr'), at: placed.at, diameter: placed.diameter }),
  fc.record({ kind: fc.constant('screen'), at: placed.at }),
);
const touches = mostly(
  fc.constantFrom(
    [{ datum: 'B', azimuth: 90 }, { datum: 'A' }],
    [{ datum: 'B', azimuth: '1 rad' }, { datum: 'A' }],
    [{ datum: 'C', y: 200 }],
  ),
  [{ datum: 'D', azimuth: 10 }, { datum: 'A' }],
  [{ datum: 'E', azimuth: 200 }, { datum: 'A' }],
  [{ datum: 'F', azimuth: 45 }, { datum: 'A' }],
  [{ datum: 'A' }, { datum: 'B' }, { datum: 'E' }],
  [{ datum: 'B' }],
  [{ datum: 'Q' }, { datum: 'A' }],
);
const touching = touches.map((all) => ({ kind: 'smr', diameter: 38.1, touches: all }) as object);
/** Rings on the part and the hologram's own; each with the patch that looks at it. */
const annular = fc.constantFrom(
  { kind: 'return', focus: 'return', patch: { ring: { inner: 136, outer: 140 } } },
  { kind: 'datum', datum: 'A', focus: 'normal', patch: { ring: { inner: 126, outer: 132 } } },
  { kind: 'datum', datum: 'E', focus: 'normal', patch: { ring: { inner: 66, outer: 72 } } },
  { kind: 'datum', datum: 'F', focus: 'normal', patch: { ring: { inner: 66, outer: 72 } } },
);
const patch = fc
  .record({
    reference: mostly(fc.nat(3), 'nobody'),
    line: fc.boolean(),
    centre: fc.tuple(length(38, 62), fc.integer({ min: 0, max: 11 })),
    outline,
    angle,
    order: mostly(fc.constantFrom(1, 1, 1, 1, -1, 2), 0, 1.5),
    bias: fc.option(bias, { nil: undefined }),
  })
  .map(({ line, angle: lineAngle, ...rest }) =>
    line ? { ...rest, focus: 'line', lineAngle } : { ...rest, focus: 'point' },
  );
const DATUMS = {
  A: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } },
  B: { cylinder: { point: [0, 0, 0], axis: [0, 0, 1], diameter: 240 } },
  C: { vee: { point: [0, 200, 0], axis: [0, 1, 0], normal: [0, 0, -1], angle: 90 } },
  D: { cone: { apex: [0, 0, -400], axis: [0, 0, 1], angle: 20 } },
  E: { sphere: { centre: [0, 0, 500], diameter: 900 } },
  F: { torus: { centre: [0, 0, 20], axis: [0, 0, 1], diameter: 220, tube: 30 } },
};
const envelope = mostly(
  fc.constantFrom(
    [{ cylinder: { point: [0, 0, 10], axis: [0, 0, 1], diameter: 230, length: 40 } }],
    [
      { box: { corner: [-50, -50, 0], size: [100, 100, 20] } },
      { sphere: { centre: [0, 0, 90], diameter: 60 } },
    ],
    [{ cone: { point: [0, 0, 0], axis: [0, 0, 1], diameters: [60, 20], length: 30 } }],
  ),
  [{ mesh: { file: 'nowhere.stl' } }],
  [{ cylinder: { point: [0, 0, 0], axis: [0, 0, 1], diameter: 0, length: 40 } }],
);
const OF_THEIR_OWN_IDS = { minLength: 1, maxLength: 3, selector: ({ id }: { id: unknown }) => id };
const measurements = fc.uniqueArray(
  fc.record({
    id: mostly(fc.constantFrom('m0', 'm1', 'm2', 'm3'), 'm 0', ''),
    reference: mostly(fc.constant('r0'), 'r2', 'nobody'),
    direction,
    uncertainty: length(0.001, 0.02),
  }),
  OF_THEIR_OWN_IDS,
);
const stage = fc.uniqueArray(
  fc.record(
    {
      id: fc.constantFrom('s0', 's1', 's2', 's3', 's4', 's5'),
      degree: mostly(fc.constantFrom('x', 'y', 'z'), 'rx', 'rw'),
      perTurn: mostly(fc.constantFrom('500 um', '1 mm'), 0, '1 kg', '2 mrad'),
    },
    { requiredKeys: ['id', 'degree', 'perTurn'] },
  ),
  OF_THEIR_OWN_IDS,
);
const seats = fc.uniqueArray(
  fc.record(
    {
      id: fc.constantFrom('n', 'e', 's', 'w', 'up', 'down'),
      kind: mostly(fc.constantFrom('ball', 'nest'), 'nail'),
      diameter: fc.constant('0.5 in'),
      at: fc.tuple(length(-60, 60), length(-60, 60)),
      face: fc.constantFrom('part', 'interferometer'),
      height: length(6, 9),
      uncertainty: length(0.001, 0.01),
    },
    { requiredKeys: ['id', 'kind', 'diameter', 'at'] },
  ),
  OF_THEIR_OWN_IDS,
);
const sweep = fc.oneof(
  fc.record({
    values: fc.record({ a: mostly(fc.constant({ from: '20 mm', to: '21 mm', count: 3 }), [], {}) }),
  }),
  fc.record({
    draws: fc.record({
      count: mostly(fc.integer({ min: 1, max: 9 }), 0, -1, 1e12, 'many'),
      of: mostly(
        fc.constantFrom({ a: { mean: '20 mm', deviation: '1 um' } }, { b: { from: 1, to: 2 } }),
        { z: { from: 1, to: 2 } },
        { a: { mean: '20 mm', deviation: '1 km' } },
      ),
    }),
  }),
  fc.record({
    cases: mostly(fc.constant([{ a: '20 mm' }, { a: '21 mm' }]), 'nowhere.csv', [{ a: 1 }, { b: 2 }]),
  }),
);
const drawing = fc.record(
  {
    number: fc.oneof(fc.constant('HT-0417'), fc.string({ maxLength: 45 }), fc.double()),
    revision: fc.constantFrom('B', 2),
    owner: mostly(fc.constantFrom('optics group', 'Prüfstelle 基準'), ['group']),
    page: mostly(fc.constant('1 of 2'), '1/2'),
    sheet: mostly(fc.constantFrom('A4', 'A3', 'ISO', 'ANSI B'), 'A9'),
    date: mostly(fc.constant('2026-01-31'), '2026-02-31', 'today'),
  },
  { requiredKeys: [] },
);
const focus = (near: number, far: number, fNumber: number): fc.Arbitrary<unknown> =>
  fc.record({
    focus: fc.tuple(length(-3, 3), length(-3, 3), length(near, far)),
    fNumber: mostly(fc.constant(fNumber), 0, -1, 1e-9),
  });

export const scenario: fc.Arbitrary<object> = fc
  .record(
    {
      format: mostly(fc.constant('datumlight/1'), 'datumlight/2'),
      title: fc.string({ maxLength: 20 }),
      parameters: mostly(fc.constant({ a: '20 mm', b: 3 }), { a: 'b', b: 'a' }, { a: '2 deg' }, 7),
      light: mostly(
        fc.oneof(
          fc.record({ wavelength: fc.constantFrom('632.8 nm', '1.064 um', 5e-4) }),
          fc.constant({
            vacuumWavelength: '632.99 nm',
            air: { temperature: 293 - 273, pressure: '100 kPa' },
          }),
        ),
        { wavelength: '1 mm' },
        { wavelength: '1e-30 m' },
        {},
      ),
      interferometer: mostly(
        fc.oneof(
          focus(-900, -400, 3),
          focus(3000, 6000, 20),
          fc.constant({ collimated: true, beamDiameter: 145 }),
        ),
        { focus: [0, 0, 2] },
        { focus: [0, 0, 0] },
      ),
      substrate: fc.record(
        {
          outline: fc.constantFrom({ circle: { diameter: 150 } }, { rectangle: { width: 150, height: 150 } }),
          thickness: length(1, 12),
          glass: mostly(fc.constantFrom('fused silica', 'N-BK7'), 'soap'),
          patternFaces: fc.constantFrom('part', 'interferometer'),
          edgeMargin: length(0, 3),
          clearance: length(0, 1),
        },
        { requiredKeys: ['outline', 'glass', 'thickness'] },
      ),
      process: fc.record({
        kind: fc.constantFrom('etched', 'chrome'),
        minFeature: mostly(fc.constantFrom('0.3 um', '0.5 um', '1 um'), '1 mm', 0),
        dutyCycle: mostly(fc.constantFrom(0.5, 0.3), 0, 1, 1e-9),
      }),
      keepOuts: fc.constantFrom([], [{ id: 'main', outline: { circle: { diameter: 60 } } }]),
      references: fc.array(
        fc.oneof(
          { weight: 8, arbitrary: reference as fc.Arbitrary<object> },
          { weight: 1, arbitrary: touching },
        ),
        { minLength: 1, maxLength: 3 },
      ),
      // Mostly apart: each at an hour of its own on the dial.
      patches: fc.uniqueArray(patch, { minLength: 1, maxLength: 4, selector: ({ centre }) => centre[1] }),
      annular: sometimes(8, annular),
      envelope: sometimes(4, envelope),
      measurements: sometimes(4, measurements),
      stage: sometimes(4, stage),
      seats: sometimes(12, seats),
      sweep: sometimes(8, sweep),
      drawing: sometimes(4, drawing),
      wanted: sometimes(6, fc.record({ x: length(0.5, 1), rz: fc.constant('1 deg') }, { requiredKeys: [] })),
    },
    {
      requiredKeys: ['format', 'light', 'interferometer', 'substrate', 'references', 'patches', 'parameters'],
    },
  )
  .map(({ references, patches, annular: one, envelope: solids, ...rest }) => ({
    ...rest,
    part: { origin: [0, 0, 900], datums: DATUMS, ...(solids === undefined ? {} : { envelope: solids }) },
    references: [
      ...references.map((each, k) => ({ id: `r${k}`, ...each })),
      ...(one === undefined
        ? []
        : [{ id: 'ring', kind: one.kind, ...('datum' in one ? { datum: one.datum } : {}) }]),
    ],
    patches: [
      ...patches.map(({ reference: asked, centre: [radius, hour], ...each }, k) => ({
        id: `p${k}`,
        ...each,
        reference: typeof asked === 'number' ? `r${asked % references.length}` : asked,
        centre:
          typeof radius === 'number'
            ? [radius * Math.cos((hour * Math.PI) / 6), radius * Math.sin((hour * Math.PI) / 6)]
            : [radius, hour],
      })),
      ...(one === undefined
        ? []
        : [{ id: 'ring', reference: 'ring', focus: one.focus, centre: [0, 0], outline: one.patch }]),
    ],
  }));
