/** Scenarios from a grammar, sound ones and faulty ones, some with bytes changed; through the whole program in memory. */
import fc from 'fast-check';
import { expect } from 'vitest';
import { sourceOf } from '../../../src/batch/case.ts';
import { makeCase } from '../../../src/batch/make-case.ts';
import type { Outcome } from '../../../src/writing/batch-row.ts';

/** Mostly what is sound, now and then one of the faults. */
const mostly = <T>(sound: fc.Arbitrary<T>, ...faults: unknown[]): fc.Arbitrary<unknown> =>
  fc.oneof(
    { weight: 60, arbitrary: sound as fc.Arbitrary<unknown> },
    { weight: 1, arbitrary: fc.constantFrom(...faults) },
  );

const length = (min: number, max: number): fc.Arbitrary<unknown> => {
  const number = fc.double({ min, max, noNaN: true });
  const written = fc.oneof(
    number.map((value) => Number(value.toPrecision(6)) as unknown),
    number.map((value) => `${value.toPrecision(5)} mm`),
    number.map((value) => `${(value / 25.4).toPrecision(5)} in`),
    number.map((value) => `a * ${(value / 20).toPrecision(4)}`),
  );
  return mostly(written, 'a/0', '1 nm', '-1', 1e9, 0, 'c', '', null, '2 deg', [], '__proto__');
};
const angle = mostly(
  fc.oneof(fc.integer({ min: -360, max: 360 }), fc.constantFrom('30 deg', '1 rad', 'pi/4 * 1 rad')),
  '5 mm',
  '1e99 deg',
  {},
);
const outline = mostly(
  fc.oneof(
    fc.record({ circle: fc.record({ diameter: length(2, 14) }) }),
    fc.record({ rectangle: fc.record({ width: length(2, 14), height: length(2, 14), rotation: angle }) }),
    fc.record({ ring: fc.record({ inner: length(1, 4), outer: length(5, 8) }) }),
    fc.record({
      sector: fc.record({
        inner: length(0.5, 3),
        outer: length(5, 9),
        from: fc.constant(10),
        to: fc.integer({ min: 20, max: 300 }),
      }),
    }),
    fc.constant({
      polygon: {
        points: [
          [-4, -4],
          [5, -3],
          [4, 4],
          [-5, 3],
        ],
      },
    }),
  ),
  {},
  { circle: { diameter: -3 } },
  {
    polygon: {
      points: [
        [0, 0],
        [5, 5],
        [5, 0],
        [0, 5],
      ],
    },
  },
  { ring: { inner: 5, outer: 5 } },
);
const bias = fc.record({
  shape: fc.constantFrom('roof', 'tilt'),
  fringes: mostly(fc.constantFrom(1, 0.5, 3), 0, 1e6),
});
const reference = fc.record({
  kind: mostly(fc.constantFrom('ball', 'smr', 'screen'), 'cube'),
  diameter: length(5, 40),
  at: fc.tuple(length(-150, 150), length(-150, 150), length(100, 3000)),
});
const touching = fc.constantFrom(
  { kind: 'smr', diameter: 38.1, touches: [{ datum: 'B', azimuth: 90 }, { datum: 'A' }] },
  { kind: 'ball', diameter: 12.7, touches: [{ datum: 'B', azimuth: '1 rad' }, { datum: 'A' }] },
  { kind: 'smr', diameter: 38.1, touches: [{ datum: 'B' }] },
  { kind: 'smr', diameter: 38.1, touches: [{ datum: 'Q' }, { datum: 'A' }] },
);
const patch = fc
  .record({
    reference: mostly(fc.nat(3), 'nobody'),
    line: fc.boolean(),
    centre: fc.tuple(length(40, 58), fc.integer({ min: 0, max: 11 })),
    outline,
    angle,
    order: mostly(fc.constantFrom(1, -1, 2), 0, 1.5),
    bias: fc.option(bias, { nil: undefined }),
  })
  .map(({ line, angle: lineAngle, ...rest }) =>
    line ? { ...rest, focus: 'line', lineAngle } : { ...rest, focus: 'point' },
  );
const scenario = fc
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
        {},
      ),
      interferometer: mostly(
        fc.oneof(
          fc.record({
            focus: fc.tuple(length(-3, 3), length(-3, 3), length(-900, -400)),
            fNumber: fc.constant(3),
          }),
          fc.record({
            focus: fc.tuple(length(-3, 3), length(-3, 3), length(3000, 6000)),
            fNumber: fc.constant(20),
          }),
          fc.constant({ collimated: true, beamDiameter: 140 }),
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
      keepOuts: fc.constantFrom([], [{ id: 'main', outline: { circle: { diameter: 60 } } }]),
      references: fc.array(
        fc.oneof(
          { weight: 8, arbitrary: reference as fc.Arbitrary<object> },
          { weight: 1, arbitrary: touching },
        ),
        {
          minLength: 1,
          maxLength: 3,
        },
      ),
      patches: fc.array(patch, { minLength: 1, maxLength: 4 }),
      wanted: fc.record({ x: length(0.5, 1) }, { requiredKeys: [] }),
    },
    {
      requiredKeys: ['format', 'light', 'interferometer', 'substrate', 'references', 'patches', 'parameters'],
    },
  )
  .map(({ references, patches, ...rest }) => ({
    ...rest,
    part: PART,
    references: references.map((one, k) => ({ id: `r${k}`, ...one })),
    // Mostly apart: each patch at one of twelve places on the dial, at its own radius.
    patches: patches.map(({ reference: asked, centre: [radius, hour], ...one }, k) => ({
      id: `p${k}`,
      ...one,
      reference: typeof asked === 'number' ? `r${asked % references.length}` : asked,
      centre:
        typeof radius === 'number'
          ? [radius * Math.cos((hour * Math.PI) / 6), radius * Math.sin((hour * Math.PI) / 6)]
          : [radius, hour],
    })),
  }));
const PART = {
  origin: [0, 0, 900],
  datums: {
    A: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } },
    B: { cylinder: { point: [0, 0, 0], axis: [0, 0, 1], diameter: 240 } },
  },
};

/** JSON is YAML. */
const text = scenario.map((value) => JSON.stringify(value, undefined, 1));
const mutated = fc
  .tuple(
    text,
    fc.array(fc.tuple(fc.nat(), fc.constantFrom(0, 9, 10, 32, 34, 35, 45, 58, 91, 123, 128, 255)), {
      maxLength: 4,
    }),
  )
  .map(([whole, changes]) => {
    const bytes = Buffer.from(whole);
    for (const [at, byte] of changes) bytes[at % bytes.length] = byte;
    return new TextDecoder().decode(bytes);
  });
export const anyInput = fc.oneof({ weight: 3, arbitrary: text }, { weight: 2, arbitrary: mutated });

/** No input takes longer, ms: hundreds of times what a scenario of a few patches takes. */
const LONGEST = 30_000;

export function fuzzed(count: number, seed: number): Record<Outcome, number> {
  const outcomes = { fine: 0, broken: 0, unusable: 0, fault: 0 };
  const making = { version: '0', program: '', draft: false };
  fc.assert(
    fc.property(anyInput, (input) => {
      const source = sourceOf(input, '0', 'fuzz.yaml');
      const start = performance.now();
      const one = { name: 'fuzz', file: 'fuzz.yaml', case: undefined, source, overrides: [] };
      const { figures, files, findings } = makeCase(one, making);
      expect(performance.now() - start).toBeLessThan(LONGEST);
      outcomes[figures.outcome]++;
      const errors = findings.some(({ severity }) => severity === 'error');
      expect(errors).toBe(figures.outcome !== 'fine');
      expect(files !== undefined).toBe(figures.outcome === 'fine');
    }),
    { numRuns: count, seed },
  );
  return outcomes;
}
