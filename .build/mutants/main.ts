/** `npm run mutants`: changes the program one place at a time and sees whether a test fails. Never part of the gate. */
import { readFileSync } from 'node:fs';
import process from 'node:process';
import { parseArgs } from 'node:util';
import { Baseline } from './baseline.ts';
import { changedLines, drawn, onLines, ROOMS } from './draw.ts';
import { equivalents, keyOf, namedAsMutant, namedMutants } from './lists.ts';
import { inWords, jsonReport, survivors, textReport } from './report.ts';
import { killAll } from './run-tests.ts';
import { Scratch } from './scratch.ts';
import { allMutants, type Mutant, roomOf } from './sites.ts';
import { testFiles } from './tests-of.ts';
import { tryAll } from './try-all.ts';

const HELP = `npm run mutants -- [ROOM…] [options]

Mutates the lines of src/ that changed, or all of the rooms named, and lists what no test catches.

  --base REF     what changed since REF (default: where the branch left its upstream, or the commit before)
  --sample N     N mutants drawn at random from the rooms named, or from all
  --seed S       of the draw (default: 1)
  --named        the mutants of tests/mutants/named/, each against the test that it names
  --match TEXT   only those whose file, operator, line or change contains TEXT
  --jobs N       mutants tried at a time (default: 1)
  --list         lists the mutants and tries none
  --json         the report as JSON
`;

const { values, positionals: rooms } = parseArgs({
  allowPositionals: true,
  options: {
    base: { type: 'string' },
    sample: { type: 'string' },
    seed: { type: 'string', default: '1' },
    named: { type: 'boolean', default: false },
    match: { type: 'string' },
    jobs: { type: 'string', default: '1' },
    list: { type: 'boolean', default: false },
    json: { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
  },
});

const say = (words: string): boolean => process.stderr.write(`${words}\n`);

function chosen(): readonly Mutant[] {
  const unknown = rooms.filter((room) => !ROOMS.includes(room));
  if (unknown.length > 0) throw new Error(`no room ${unknown.join(', ')}; the rooms are ${ROOMS.join(', ')}`);
  if (values.named) {
    return namedMutants().map((named) => namedAsMutant(named, readFileSync(named.file, 'utf8')));
  }
  const all = allMutants().filter(({ file }) => rooms.length === 0 || rooms.includes(roomOf(file)));
  const some =
    rooms.length > 0 || values.sample !== undefined ? all : onLines(all, changedLines(values.base));
  return values.sample === undefined ? some : drawn(some, wholeNumber('sample', values.sample), values.seed);
}

function wholeNumber(option: string, text: string): number {
  const value = Number(text);
  if (!Number.isInteger(value) || value < 1) throw new Error(`--${option} takes a whole number from 1 on`);
  return value;
}

async function main(): Promise<number> {
  if (values.help) {
    process.stdout.write(HELP);
    return 0;
  }
  const mutants = chosen().filter(({ key }) => values.match === undefined || key.includes(values.match));
  if (values.list) {
    process.stdout.write(mutants.map((mutant) => `${inWords(mutant)}\n`).join(''));
    return 0;
  }
  if (mutants.length === 0) {
    say('nothing to mutate: no line of src/ has changed, or nothing matches');
    return 0;
  }
  const scratches = Array.from({ length: wholeNumber('jobs', values.jobs) }, () => new Scratch());
  const cleanUp = (): void => {
    killAll();
    for (const scratch of scratches) scratch.remove();
  };
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
    process.on(signal, () => {
      cleanUp();
      process.exit(130);
    });
  }
  try {
    const results = await tryAll(mutants, {
      scratches,
      tests: testFiles(),
      baseline: new Baseline(),
      named: new Map(values.named ? namedMutants().map((named) => [named.id, named]) : []),
      equivalent: new Map(equivalents().map((entry) => [keyOf(entry), entry.reason])),
      say,
    });
    process.stdout.write(values.json ? jsonReport(results) : textReport(results));
    return survivors(results).length > 0 ? 1 : 0;
  } finally {
    cleanUp();
  }
}

try {
  process.exitCode = await main();
} catch (fault) {
  say(fault instanceof Error ? fault.message : String(fault));
  process.exitCode = 2;
}
