/** Single values of a scenario: quantities in every manner of writing, directions, outlines; now and then a fault that people make. */
import fc from 'fast-check';

/** Mostly what is sound, now and then one of the faults. */
export const mostly = <T>(sound: fc.Arbitrary<T>, ...faults: unknown[]): fc.Arbitrary<unknown> =>
  fc.oneof(
    { weight: 200, arbitrary: sound as fc.Arbitrary<unknown> },
    { weight: 1, arbitrary: fc.constantFrom(...faults) },
  );

/** A section that is there in one of `often` scenarios. */
export const sometimes = <T>(often: number, section: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> =>
  fc.oneof(
    { weight: often - 1, arbitrary: fc.constant(undefined) },
    { weight: 1, arbitrary: section as fc.Arbitrary<T | undefined> },
  );

export const length = (min: number, max: number): fc.Arbitrary<unknown> => {
  const number = fc.double({ min, max, noNaN: true });
  const written = fc.oneof(
    number.map((value) => Number(value.toPrecision(6)) as unknown),
    number.map((value) => `${value.toPrecision(5)} mm`),
    number.map((value) => `${(value / 25.4).toPrecision(5)} in`),
    number.map((value) => `a * ${(value / 20).toPrecision(4)}`),
  );
  return mostly(written, 'a/0', '1 nm', '-1', 1e9, 0, 'c', '', null, '2 deg', [], '__proto__');
};
export const angle = mostly(
  fc.oneof(fc.integer({ min: -360, max: 360 }), fc.constantFrom('30 deg', '1 rad', 'pi/4 * 1 rad')),
  '5 mm',
  '1e99 deg',
  {},
);
export const direction = mostly(
  fc.constantFrom([0, 0, 1], [0, 0, -1], [0, 1, 0], [1, 0, 0], [0.6, 0, 0.8]),
  [0, 0, 0],
  [1, 1],
  [1e300, 1e300, 0],
);
export const outline = mostly(
  fc.oneof(
    fc.record({ circle: fc.record({ diameter: length(4, 12) }) }),
    fc.record({ rectangle: fc.record({ width: length(4, 12), height: length(4, 12), rotation: angle }) }),
    fc.record({ ring: fc.record({ inner: length(1, 4), outer: length(8, 12) }) }),
    fc.record({
      sector: fc.record({
        inner: length(0.5, 3),
        outer: length(9, 14),
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
