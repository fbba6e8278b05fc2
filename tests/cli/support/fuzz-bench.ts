/** What a bench and a shop send back, for the fuzz: fringe readings, tracked points, points of the plane, coefficient tables. */
import { readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import fc from 'fast-check';
import { parse } from 'yaml';
import { withBranchesChanged, withBytesChanged } from './fuzz-mutation.ts';
import { bytesOf, written } from './fuzz-scenarios.ts';
import { asTable, type Rows, rowsOf, withCellsChanged } from './fuzz-tables.ts';
import { mostly } from './fuzz-values.ts';

/** A scenario of the repository, and what can be asked about it by name. */
export interface Known {
  readonly file: string;
  readonly patches: readonly string[];
  /** Of the patches those with a point focus, which show two tilts and a power. */
  readonly points: readonly string[];
  readonly references: readonly string[];
  readonly measurements: readonly string[];
}

const idsOf = (list: readonly { readonly id: string }[] = []): readonly string[] => list.map(({ id }) => id);
const known = (name: string): Known => {
  const file = resolve('examples', `${name}.yaml`);
  const { patches, references, measurements } = parse(readFileSync(file, 'utf8'));
  return {
    file,
    patches: idsOf(patches),
    points: idsOf(patches.filter(({ focus }: { focus: string }) => focus === 'point')),
    references: idsOf(references),
    measurements: idsOf(measurements),
  };
};
export const STEERED = known('steer-mirror-on-stage');
export const TRACKED = known('transfer-mirror-on-rim');
export const BALLS = known('diverging-balls');
export const FULL = known('full-bench');
/** Of the grammar's own scenarios, which have one patch at least; its focus is by chance. */
export const GRAMMAR: Omit<Known, 'file'> = {
  patches: ['p0', 'p0', 'p1'],
  points: ['p1'],
  references: ['r0', 'r1', 'r2', 'ring'],
  measurements: ['m0', 'm1', 'm2', 'm3'],
};

const count = mostly(
  fc.oneof(
    fc.integer({ min: -60, max: 60 }).map((tenths) => tenths / 10),
    fc.constantFrom(0, -0, 80, -300),
  ),
  1e5,
  -1e6,
  Number.NaN,
  '1.3',
  null,
  1e-320,
);

type Readable = Pick<Known, 'patches' | 'points' | 'measurements'>;
const readingsOf = ({ patches, points, measurements }: Readable): fc.Arbitrary<object> => {
  const plain = fc
    .record({ patch: fc.constantFrom(...patches), one: count, two: count })
    .map(({ patch, one, two }) => ({ patch, fringes: points.includes(patch) ? [one, two] : one }));
  const whole = fc
    .tuple(
      plain,
      fc.record(
        {
          power: count,
          sign: mostly(fc.constantFrom('known', 'unknown'), 'maybe'),
          uncertainty: mostly(fc.constantFrom(0.1, 0.02, 1), 0, -1, 1e9),
        },
        { requiredKeys: [] },
      ),
    )
    .map(([one, { power, ...more }]) => ({
      ...one,
      ...more,
      ...(power !== undefined && points.includes(one.patch) ? { power } : {}),
    }));
  const ofLength = fc.record({
    measurement: mostly(
      fc.constantFrom(...measurements, ...(measurements.length > 0 ? [] : ['m0'])),
      'nobody',
    ),
    deviation_um: mostly(fc.integer({ min: -100, max: 100 }), 1e7, '12'),
  });
  const entry = fc.oneof(
    { weight: 40, arbitrary: plain as fc.Arbitrary<object> },
    { weight: 20, arbitrary: whole as fc.Arbitrary<object> },
    { weight: measurements.length > 0 ? 5 : 0, arbitrary: ofLength as fc.Arbitrary<object> },
    {
      weight: 1,
      arbitrary: fc.constantFrom<object[]>({ patch: 'nobody', fringes: 1 }, { patch: patches[0] }, {}),
    },
  );
  return fc
    .uniqueArray(entry, {
      minLength: 1,
      maxLength: 6,
      selector: (one) => ('patch' in one ? one.patch : (one as { measurement: unknown }).measurement),
    })
    .map((readings) => ({ readings }));
};

const exampleReadings = readFileSync('examples/steer-mirror-on-stage.readings.yml', 'utf8');
const exampleReadingsTree = fc.constant(parse(exampleReadings) as object);

export const anyReadings = (of: Readable): fc.Arbitrary<Uint8Array> =>
  fc.oneof(
    { weight: 6, arbitrary: written(readingsOf(of)) },
    { weight: 2, arbitrary: written(withBranchesChanged(readingsOf(of))) },
    { weight: 2, arbitrary: withBytesChanged(written(readingsOf(of)), 3) },
  );
/** Readings of STEERED, the example's own among them. */
export const steeredReadings: fc.Arbitrary<Uint8Array> = fc.oneof(
  { weight: 2, arbitrary: anyReadings(STEERED) },
  { weight: 1, arbitrary: written(withBranchesChanged(exampleReadingsTree)) },
  { weight: 1, arbitrary: withBytesChanged(fc.constant(bytesOf(exampleReadings)), 3) },
);

const exampleLog = readFileSync('examples/steer-mirror-on-stage.log.yml', 'utf8');
const exampleLogTree = parse(exampleLog) as object;
/** Logs of STEERED: the example's with keys by chance, some of its rounds read otherwise, branches and bytes changed. */
const steeredLog: fc.Arbitrary<object> = fc
  .tuple(
    fc.subarray(['before', 'clamped', 'reseated', 'steps', 'remarks', 'temperature', 'pressure', 'witness']),
    readingsOf(STEERED),
    fc.constantFrom('before', 'clamped', 'extra'),
  )
  .map(([left, read, round]) => ({
    ...Object.fromEntries(Object.entries(exampleLogTree).filter(([key]) => !left.includes(key))),
    ...(round === 'extra' ? {} : { [round]: read }),
  }));
export const anyLog: fc.Arbitrary<Uint8Array> = fc.oneof(
  { weight: 4, arbitrary: written(steeredLog) },
  { weight: 2, arbitrary: written(withBranchesChanged(steeredLog)) },
  { weight: 1, arbitrary: withBytesChanged(fc.constant(bytesOf(exampleLog)), 3) },
);
/** A record that somebody has touched; now and then as it was. */
export const touchedRecord = (record: string): fc.Arbitrary<Uint8Array> =>
  fc.oneof(
    { weight: 3, arbitrary: withBytesChanged(fc.constant(bytesOf(record)), 2) },
    {
      weight: 3,
      arbitrary: withBranchesChanged(fc.constant(JSON.parse(record) as object)).map((tree) =>
        bytesOf(JSON.stringify(tree)),
      ),
    },
    { weight: 1, arbitrary: fc.constant(bytesOf(record)) },
  );

const figure = (min: number, max: number): fc.Arbitrary<string> =>
  fc.double({ min, max, noNaN: true }).map((value) => value.toFixed(4));
const SIDES = ['', '', '@hologram', '@part'];

/** Points by chance, as a tracker's export names them. */
const trackedRows = ({ references }: Pick<Known, 'references'>): fc.Arbitrary<Rows> =>
  fc
    .record({
      head: fc.constantFrom(
        ['point', 'x_mm', 'y_mm', 'z_mm'],
        ['point', 'range_mm', 'azimuth_deg', 'elevation_deg'],
        ['point', 'x_mm', 'y_mm', 'z_mm', 'sx_mm', 'sy_mm', 'sz_mm'],
        ['point', 'range_mm', 'azimuth_deg', 'elevation_deg', 'srange_mm', 'sazimuth_deg', 'selevation_deg'],
      ),
      points: fc.uniqueArray(
        fc.record({
          name: fc
            .tuple(fc.constantFrom(...references), fc.constantFrom(...SIDES))
            .map(([id, side]) => id + side),
          at: fc.oneof(
            fc.tuple(figure(-300, 300), figure(-300, 300), figure(500, 3000)),
            // Small figures of few digits: points that coincide, or lie on one line.
            fc.tuple(fc.constantFrom('0', '1', '-1'), fc.constantFrom('0', '2'), fc.constantFrom('0', '5')),
          ),
          sigma: fc.constantFrom('0.01', '0.02', '1e-9', '1000'),
        }),
        { minLength: 1, maxLength: 9, selector: ({ name }) => name },
      ),
    })
    .map(({ head, points }) => [
      head,
      ...points.map(({ name, at, sigma }) => [
        name,
        ...at,
        ...(head.length > 4 ? [sigma, sigma, sigma] : []),
      ]),
    ]);

const exampleTracker = readFileSync('examples/transfer-mirror-on-rim.points.csv', 'utf8');
const EXPORTS = 'tests/end-to-end/tracker-exports';
/** In the forms that trackers export. */
const exports = readdirSync(EXPORTS).map((name) => bytesOf(readFileSync(`${EXPORTS}/${name}`, 'utf8')));
const exampleTracked = fc.constant(rowsOf(exampleTracker));

export const trackedPoints = (of: Pick<Known, 'references'>): fc.Arbitrary<Uint8Array> =>
  fc.oneof(
    { weight: 2, arbitrary: asTable(withCellsChanged(trackedRows(of))) },
    { weight: 3, arbitrary: asTable(withCellsChanged(exampleTracked)) },
    { weight: 1, arbitrary: withBytesChanged(fc.constant(bytesOf(exampleTracker)), 3) },
    { weight: 2, arbitrary: withBytesChanged(fc.constantFrom(...exports), 3) },
  );

/** Points of the pattern plane: on the patch, at its centre, far off, where the phase has no meaning. */
const planeRows: fc.Arbitrary<Rows> = fc
  .array(
    fc.tuple(
      fc.oneof(figure(-75, 75), fc.constantFrom('0', '59', '60', '-0', '1e7', '-1e7', '1e-9')),
      fc.oneof(figure(-75, 75), fc.constantFrom('0', '59', '-29.5', '-0', '1e7', '1e-9')),
    ),
    { minLength: 1, maxLength: 6 },
  )
  .map((points) => [['x_mm', 'y_mm'], ...points]);

export const planePoints: fc.Arbitrary<Uint8Array> = fc.oneof(
  { weight: 4, arbitrary: asTable(withCellsChanged(planeRows)) },
  { weight: 1, arbitrary: withBytesChanged(asTable(planeRows), 3) },
);

/** A coefficient table that comes back: the package's own, which somebody's program has written anew. */
const goldenTable = (name: string): string => readFileSync(`tests/goldens/${name}/coefficients.csv`, 'utf8');
/** Comments apart, a table in a test's own words: the head of a golden is long. */
const shortened = (text: string): Rows => rowsOf(text).filter((row) => !row[0]!.startsWith('# patch'));
export const RETURNED: readonly { readonly known: Known; readonly text: string }[] = [
  { known: BALLS, text: goldenTable('diverging-balls') },
  { known: known('converging-retroreflectors'), text: goldenTable('converging-retroreflectors') },
  { known: known('infrared-collimated'), text: goldenTable('infrared-collimated') },
];
export const returnedTable = (text: string): fc.Arbitrary<Uint8Array> =>
  fc.oneof(
    { weight: 4, arbitrary: asTable(withCellsChanged(fc.constant(shortened(text)))) },
    { weight: 1, arbitrary: withBytesChanged(fc.constant(bytesOf(text)), 3) },
  );
