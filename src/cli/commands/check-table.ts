/** The work of `check FILE --table CSV` (check.ts has its words): whether a coefficient table that came back still means the design. */

import type { Finding } from '../../finding/finding.ts';
import { trimmed } from '../../quantity/format.ts';
import { tableFindings } from '../../readback/table-findings.ts';
import { TABLE_BOUND, tableMeaning } from '../../readback/table-meaning.ts';
import { readCoefficientTable } from '../../reading/tables/coefficient-table.ts';
import { jsonText } from '../../writing/json.ts';
import { tableReport } from '../../writing/report/table-report.ts';
import type { TalkOptions } from '../command.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { loadScenario } from '../load-scenario.ts';
import { readInput } from '../read-input.ts';
import { optionFault, refusing } from '../refuse.ts';
import { sayFindings } from '../say.ts';

interface TableOptions extends TalkOptions {
  readonly table?: string;
  readonly within?: string;
}

export async function checkTable(files: readonly string[], options: TableOptions, io: Io): Promise<ExitCode> {
  const refuse = refusing(options, io);
  const bound = options.within === undefined ? TABLE_BOUND : Number(options.within);
  if (!(bound > 0 && bound < 1)) return refuse('--within', { findings: [notABound(options.within ?? '')] });
  if (options.table === undefined) return refuse('--within', { findings: [NO_TABLE] });
  if (files.length !== 1) return refuse('--table', { findings: [oneFile(files.length)] });
  if (files[0] === '-' && options.table === '-') return refuse('--table', { findings: [ONE_STDIN] });
  const loaded = await loadScenario(files[0]!, io);
  const { design } = loaded;
  if (design === undefined) return refuse(loaded.file, loaded);
  const input = await readInput(options.table, io);
  if ('finding' in input) return refuse(input.name, { findings: [input.finding] });
  const { table, findings: faults } = readCoefficientTable(input.text, input.name, design.light.wavelength);
  if (table === undefined) return refuse(input.name, { findings: faults, text: input.text });
  const meaning = tableMeaning(design, table, bound);
  const findings = [...faults, ...tableFindings(meaning, input.name)];
  if (options.json)
    io.stdout.write(jsonText({ ...tableReport(meaning, findings), file: loaded.file, table: input.name }));
  else {
    sayFindings(findings, input.text, io.stdout, io, options);
    if (!options.quiet) io.stdout.write(`${input.name}: ${summary(meaning)}\n`);
  }
  return meaning.same ? EXIT.fine : EXIT.rulesBroken;
}

function summary({ same, patches, bound }: ReturnType<typeof tableMeaning>): string {
  const worst = Math.max(0, ...patches.flatMap(({ blocks }) => blocks.map((block) => block.worst)));
  const negated = patches.filter((patch) => patch.negated).length;
  if (!same)
    return `different: ${patches.filter((patch) => patch.same).length} of ${patches.length} patches mean the same`;
  return (
    `same: ${patches.length} patches, at most ${trimmed(Number(worst.toPrecision(2)), 9)} waves off where ${trimmed(bound, 9)} are allowed` +
    (negated > 0 ? `; ${negated} with order and phase both negated, which is the same light` : '')
  );
}

const notABound = (given: string): Finding =>
  optionFault(
    'out-of-range',
    '--within',
    `${JSON.stringify(given)} is not a phase difference`,
    'give a number of waves above 0 and below 1, such as 0.002',
  );

const oneFile = (count: number): Finding =>
  optionFault(
    'conflicting-keys',
    '--table',
    `a table belongs to one scenario, not to ${count}`,
    'name the scenario that it was made from',
  );

const NO_TABLE = optionFault(
  'conflicting-keys',
  '--within',
  'a limit without a table to compare',
  'give the table with --table',
);

const ONE_STDIN = optionFault(
  'conflicting-keys',
  '--table',
  'standard input cannot be both the scenario and the table',
  'name a file for one of the two',
);
