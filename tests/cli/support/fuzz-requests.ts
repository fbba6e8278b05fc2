/** What is asked of the program in the fuzz: every command, with its scenarios, its other inputs and its options. */
import fc from 'fast-check';
import {
  type Asked,
  both,
  flag,
  fromStdin,
  given,
  json,
  type Made,
  NOTHING,
  type Options,
  some,
  type Use,
  withOptions,
} from './fuzz-asked.ts';
import { sweptFiles, touchedSummary } from './fuzz-batch.ts';
import * as bench from './fuzz-bench.ts';
import { anyFrame } from './fuzz-frames.ts';
import type { Shards } from './fuzz-ground.ts';
import { withBytesChanged } from './fuzz-mutation.ts';
import { anyOpenScenario, anyScenario, mostlyUsable } from './fuzz-scenarios.ts';
import { mostly } from './fuzz-values.ts';

const plan = withOptions(
  withOptions(
    fromStdin(anyOpenScenario, 'plan', '-', '--out', '@/planned/plan.yaml'),
    some(
      given('--reach', fc.constant('@/planned/reach.svg')),
      given('--seed', fc.constantFrom('a', ''), '\u0000'),
    ),
  ),
  json,
);

const motion = fc
  .tuple(
    mostly(fc.constantFrom('r0', 'part', 'hologram', 'north', 'near'), 'nobody', '=1'),
    fc.array(mostly(fc.constantFrom('0.02', '20 um', '0', '-1 mrad', '5 arcsec'), '1e9', 'x', '-0', '.nan'), {
      minLength: 2,
      maxLength: 6,
    }),
  )
  .map(([name, values]) => `${name}: [${values.join(', ')}]`);
const fringes = withOptions(
  withOptions(
    fromStdin(
      fc.oneof({ weight: 2, arbitrary: mostlyUsable }, { weight: 1, arbitrary: anyScenario }),
      ...['fringes', '-', '--out', '@/pictures'],
    ),
    fc
      .tuple(
        given('--size', fc.constantFrom('16', '24'), '0', '-1', '1e9', 'x', ''),
        some(
          given('--at', motion, 'x', '', '[', '{a: b}'),
          given('--patch', fc.constantFrom('p0', 'p1'), 'nobody', '__proto__'),
          given('--view', fc.constantFrom('part', 'interferometer')),
          flag('--camera'),
          given('--noise', fc.constantFrom('0.1', '1'), '-1', 'NaN', ''),
          flag('--diffraction'),
        ),
      )
      .map((both) => both.flat()),
  ),
  json,
);

const steer = withOptions(
  fc.oneof(
    {
      weight: 3,
      arbitrary: fromStdin(bench.steeredReadings, 'steer', bench.STEERED.file, '--readings', '-'),
    },
    {
      weight: 1,
      arbitrary: fromStdin(bench.anyReadings(bench.FULL), 'steer', bench.FULL.file, '--readings', '-'),
    },
    {
      weight: 3,
      arbitrary: both(
        mostlyUsable,
        'in/readings.yaml',
        bench.anyReadings(bench.GRAMMAR),
        ...['steer', '-', '--readings', '@/in/readings.yaml'],
      ),
    },
  ),
  json,
);

const read = withOptions(
  withOptions(
    anyFrame.map(
      ({ scenario, frame }): Made => ({
        argv: ['read', scenario, '@/in/frame'],
        input: NOTHING,
        files: { 'in/frame': frame },
      }),
    ),
    some(
      given('--unit', fc.constantFrom('waves', 'rad', 'nm', 'intensity')),
      given('--steps', fc.constantFrom('longer', 'shorter', 'unknown')),
      given('--view', fc.constantFrom('part', 'interferometer')),
      given('--turned', fc.constantFrom('90', '180')),
      flag('--mirrored'),
      flag('--below-bias'),
    ),
  ),
  json,
);

const transfer = withOptions(
  fc.oneof(
    {
      weight: 3,
      arbitrary: fromStdin(
        bench.trackedPoints(bench.TRACKED),
        'transfer',
        bench.TRACKED.file,
        '--points',
        '-',
      ),
    },
    {
      weight: 1,
      arbitrary: both(
        mostlyUsable,
        'in/points.csv',
        bench.trackedPoints(bench.GRAMMAR),
        ...['transfer', '-', '--points', '@/in/points.csv'],
      ),
    },
  ),
  json,
);

const record = withOptions(
  withOptions(
    fromStdin(
      bench.anyLog,
      ...['record', bench.STEERED.file, '--log', '-', '--package', '@/package', '--out', '@/recorded'],
    ),
    some(given('--serial', fc.constantFrom('H-0042', 'H-1'), '\u202e', 'x'.repeat(200))),
  ),
  json,
);
const recheck = ({ record: text }: Shards): fc.Arbitrary<Made> =>
  withOptions(
    fromStdin(
      bench.touchedRecord(text),
      ...['record', bench.STEERED.file, '--check', '-', '--package', '@/package'],
    ),
    json,
  );

const phase = withOptions(
  fc.oneof(
    {
      weight: 2,
      arbitrary: fc
        .constantFrom(...bench.BALLS.patches)
        .chain((id) =>
          fromStdin(bench.planePoints, 'phase', bench.BALLS.file, '--patch', id, '--points', '-'),
        ),
    },
    {
      weight: 2,
      arbitrary: both(
        mostlyUsable,
        'in/points.csv',
        bench.planePoints,
        ...['phase', '-', '--patch', 'p0', '--points', '@/in/points.csv'],
      ),
    },
  ),
  json,
);

const table = withOptions(
  withOptions(
    fc
      .constantFrom(...bench.RETURNED)
      .chain(({ known, text }) => fromStdin(bench.returnedTable(text), 'check', known.file, '--table', '-')),
    some(given('--within', fc.constantFrom('0.01', '10'), '0', '-1', 'NaN', '')),
  ),
  json,
);

const batchOf = (...argv: readonly string[]): fc.Arbitrary<Made> =>
  fc.oneof(
    {
      weight: 3,
      arbitrary: sweptFiles.map((files) => ({
        argv: ['batch', '@/in/swept.yaml', ...argv],
        input: NOTHING,
        files: { ...files },
      })),
    },
    {
      weight: 1,
      arbitrary: anyScenario.map((bytes) => ({
        argv: ['batch', '@/in/s.yaml', ...argv],
        input: NOTHING,
        files: { 'in/s.yaml': bytes },
      })),
    },
  );
const batch = withOptions(
  withOptions(
    batchOf('--out', '@/batch', '--no-cache'),
    some(
      flag('--draft'),
      given('--jobs', fc.constant('1'), '0', 'x', '1e9'),
      given('--shard', fc.constantFrom('1/2', '1/1'), '3/2', '0/0', 'x'),
    ),
  ),
  json,
);
const verify = withOptions(
  batchOf('--out', '@/batch', '--verify'),
  fc.oneof(
    { weight: 3, arbitrary: json },
    { weight: 1, arbitrary: fc.constant(['--markdown', '-']) as Options },
  ),
);

const gather = ({ summaries, packages }: Shards): fc.Arbitrary<Made> => {
  const paths = Object.keys(summaries);
  const touched = fc
    .tuple(...paths.map((path) => touchedSummary(summaries[path]!)))
    .map((all): Asked['files'] => Object.fromEntries(all.map((bytes, k) => [paths[k]!, bytes])));
  const bent = fc
    .constantFrom(...Object.keys(packages))
    .chain((path) =>
      withBytesChanged(fc.constant(packages[path]!), 2).map((bytes): Asked['files'] => ({ [path]: bytes })),
    );
  const one = fc
    .tuple(fc.constantFrom(...paths), fc.nat())
    .chain(([path]) => touchedSummary(summaries[path]!).map((bytes): Asked['files'] => ({ [path]: bytes })));
  const shards = fc.constantFrom(
    ...[['1', '2'], ['1', '2'], ['1', '2'], ['2', '1'], ['1', '1'], ['1'], ['1', '3']],
  );
  return withOptions(
    fc
      .tuple(
        shards,
        fc.oneof(
          { weight: 3, arbitrary: one },
          { weight: 1, arbitrary: touched },
          { weight: 1, arbitrary: bent },
        ),
      )
      .map(([names, files]) => ({
        argv: ['batch', '--gather', ...names.map((name) => `@/shards/${name}`), '--out', '@/joined'],
        input: NOTHING,
        files,
      })),
    json,
  );
};

const WORDS = [
  'patches',
  'wanted',
  'patch-overlap',
  'bad-table',
  'focus',
  'light.wavelength',
  'pathces',
  '',
  '__proto__',
  '-',
];
/** What takes no file: words to explain, shells, words that are no command. */
const words: fc.Arbitrary<Made> = fc
  .oneof(
    fc.tuple(
      fc.constant('explain'),
      mostly(fc.constantFrom(...WORDS), '\u202e', 'x'.repeat(300)).map(String),
    ),
    fc.tuple(fc.constant('completion'), fc.constantFrom('bash', 'zsh', 'fish', 'tcsh', '')),
    fc.array(fc.constantFrom('chek', '--json', '--version', '--help', '', '--out', 'make', '-'), {
      maxLength: 3,
    }),
  )
  .map((argv) => ({ argv, input: NOTHING, files: {} }));

const package_ = (...argv: readonly string[]): fc.Arbitrary<Made> =>
  withOptions(
    fromStdin(anyScenario, 'make', '-', '--out', '@/out', '--json', ...argv),
    fc.oneof(
      { weight: 12, arbitrary: fc.constant([]) as Options },
      {
        weight: 1,
        arbitrary: some(
          fc.constantFrom<readonly string[]>(
            ['--pattern', 'gds', '--every', '500'],
            ['--pattern', 'oas', '--every', '500'],
            ['--pattern-dxf', '--every', '500'],
            ['--pattern', 'gdsii'],
          ),
          given('--edge-shift', fc.constantFrom('50 nm', '0'), '1 mm', 'x', '-0'),
          given('--vertex-limit', fc.constantFrom('8190', '4'), '3', '1e9', 'x'),
          given('--every', fc.constant('500'), '0', '-1', 'x'),
          given('--slivers', fc.constantFrom('keep', 'drop'), 'some', ''),
          given('--jobs', fc.constantFrom('1', '2'), '0', 'x'),
          fc.constantFrom<readonly string[]>([], ['--as-written']),
          given('--database-unit', fc.constantFrom('0.5 nm'), '3 nm', '0', 'x'),
        ),
      },
    ),
  );

/** Shares of the inputs, in parts of a hundred: a plan or a batch costs ten times what others do, some plans a thousand times. */
export const asked = (shards: Shards): fc.Arbitrary<Asked> => {
  const uses: readonly (readonly [Use, number, fc.Arbitrary<Made>])[] = [
    ['make', 20, package_()],
    ['draft', 7, package_('--draft')],
    ['check', 10, fromStdin(anyScenario, 'check', '-', '--json')],
    ['plan', 2, plan],
    ['fringes', 7, fringes],
    ['steer', 10, steer],
    ['read', 2, read],
    ['transfer', 8, transfer],
    ['record', 2, record],
    ['recheck', 2, recheck(shards)],
    ['phase', 6, phase],
    ['table', 9, table],
    ['batch', 1, batch],
    ['verify', 1, verify],
    ['gather', 11, gather(shards)],
    ['words', 2, words],
  ];
  return fc.oneof(
    ...uses.map(([use, weight, arbitrary]) => ({
      weight,
      arbitrary: arbitrary.map((made) => ({ use, ...made })),
    })),
  );
};
