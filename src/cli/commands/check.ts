/** `check FILE…`: reads, validates, solves and applies every rule; writes nothing. */

import type { Code } from '../../finding/codes.ts';
import { errorFinding } from '../../finding/finding.ts';
import { trimmed } from '../../quantity/format.ts';
import { tableFindings } from '../../readback/table-findings.ts';
import { TABLE_BOUND, tableMeaning } from '../../readback/table-meaning.ts';
import { readCoefficientTable } from '../../reading/tables/coefficient-table.ts';
import { findingsOf } from '../../rules/one-cause.ts';
import { patchTables } from '../../writing/coefficients/coefficients.ts';
import { jsonText } from '../../writing/json.ts';
import { degreeTable } from '../../writing/report/degree-table.ts';
import { reportOf } from '../../writing/report/report.ts';
import { tableReport } from '../../writing/report/table-report.ts';
import { type Register, type TalkOptions, talkative } from '../command.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { loadScenario } from '../load-scenario.ts';
import { readInput, stdinTwice } from '../read-input.ts';
import { countOf, listing, refusing, sayFindings, sayLine, tally, unusableReport } from '../say.ts';
import { VERSION } from '../version.ts';

interface CheckOptions extends TalkOptions {
  /** A coefficient table that came back: compared with the design instead of applying the rules. */
  readonly table?: string;
  readonly within?: string;
}

export const registerCheck: Register = ({ program, io, end }) =>
  talkative(program.command('check'))
    .argument('<files...>', 'scenarios; - for standard input')
    .option(
      '--table <csv>',
      'instead, check that a returned coefficient table still means this design; - for standard input',
    )
    .option(
      '--within <waves>',
      `with --table: largest phase difference allowed anywhere in a patch (default: ${TABLE_BOUND})`,
    )
    .summary('read, validate, compute and apply every rule; writes nothing')
    .description(
      'Reads each scenario, computes its design and applies every rule. Writes nothing.\n' +
        'With --table no rule is applied. The table may have its rows and columns in any order, rounded values, the units that its column\n' +
        'names give and the signs that its head states. Exit 0 if it means the same; exit 1 if not, naming the misreading that explains it.',
    )
    .addHelpText(
      'after',
      '\nExamples:\n  datumlight check examples/converging-retroreflectors.yaml --json\n' +
        '  datumlight check scenario.yaml --table returned.csv',
    )
    .action((files: string[], options: CheckOptions) => end(check(files, options, io)));

async function check(files: readonly string[], options: CheckOptions, io: Io): Promise<ExitCode> {
  if (options.table !== undefined || options.within !== undefined) {
    return checkTable(files, options, io);
  }
  if (files.filter((file) => file === '-').length > 1) {
    const message = 'standard input cannot be two scenarios';
    const twice = errorFinding('conflicting-keys', '-', message, 'name `-` once');
    return refusing(options, io)('<stdin>', { findings: [twice] });
  }
  const reports: unknown[] = [];
  let worst: ExitCode = EXIT.fine;
  for (const file of files) {
    const { code, report } = await checkOne(file, options, io);
    worst = Math.max(worst, code) as ExitCode;
    reports.push(report);
  }
  if (options.json) {
    io.stdout.write(jsonText(reports.length === 1 ? reports[0] : { ok: worst === EXIT.fine, reports }));
  }
  return worst;
}

async function checkOne(
  file: string,
  options: TalkOptions,
  io: Io,
): Promise<{ code: ExitCode; report: unknown }> {
  const { design, findings: faults, placed, text, file: name, hash } = await loadScenario(file, io);
  if (design === undefined) {
    if (!options.json) sayFindings(faults, text, io.stderr, io, options);
    return { code: EXIT.unusable, report: unusableReport(name, faults) };
  }
  const findings = [...faults, ...findingsOf(design).map(placed)];
  const code = countOf(findings, 'error') === 0 ? EXIT.fine : EXIT.rulesBroken;
  if (options.json) {
    const head = { version: VERSION, scenarioHash: hash, draft: false };
    return {
      code,
      report: { ...listing(reportOf(design, findings, head, patchTables(design))), file: name },
    };
  }
  sayFindings(findings, text, io.stdout, io, options);
  if (!options.quiet) {
    const { patches, references } = design;
    const state = code === EXIT.fine ? 'fine' : 'broken';
    sayLine(
      io.stdout,
      `${name}: ${state}: ${patches.length} patches, ${references.length} references, ${tally(findings)}`,
    );
    for (const line of degreeTable(design)) sayLine(io.stdout, line);
  }
  return { code, report: undefined };
}

/** Whether a coefficient table that came back still means the design. */
async function checkTable(files: readonly string[], options: CheckOptions, io: Io): Promise<ExitCode> {
  const refuse = refusing(options, io);
  const bound = options.within === undefined ? TABLE_BOUND : Number(options.within);
  const refused = (rule: Code, option: string, message: string, hint: string): ExitCode =>
    refuse(option, { findings: [errorFinding(rule, option, message, hint)] });
  if (!(bound > 0 && bound < 1)) {
    const message = `${JSON.stringify(options.within ?? '')} is not a phase difference`;
    const hint = 'give a number of waves above 0 and below 1, such as 0.002';
    return refused('out-of-range', '--within', message, hint);
  }
  if (options.table === undefined) {
    const message = 'there is no table to compare';
    return refused('conflicting-keys', '--within', message, 'give the table with --table');
  }
  if (files.length !== 1) {
    const message = `a table belongs to one scenario, not to ${files.length}`;
    return refused('conflicting-keys', '--table', message, 'name the scenario that the table was made from');
  }
  const twice = stdinTwice(files[0]!, options.table, '--table', 'table');
  if (twice !== undefined) return refuse('--table', { findings: [twice] });
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
    io.stdout.write(
      jsonText({ ...listing(tableReport(meaning, findings)), file: loaded.file, table: input.name }),
    );
  else {
    sayFindings(findings, input.text, io.stdout, io, options);
    if (!options.quiet) sayLine(io.stdout, `${input.name}: ${summary(meaning)}`);
  }
  return meaning.same ? EXIT.fine : EXIT.rulesBroken;
}

function summary({ same, patches, bound }: ReturnType<typeof tableMeaning>): string {
  const worst = Math.max(0, ...patches.flatMap(({ blocks }) => blocks.map((block) => block.worst)));
  const negated = patches.filter((patch) => patch.negated).length;
  if (!same)
    return `different: ${patches.filter((patch) => patch.same).length} of ${patches.length} patches match`;
  return (
    `same: ${patches.length} patches, at most ${trimmed(Number(worst.toPrecision(2)), 9)} waves off; the limit is ${trimmed(bound, 9)}` +
    (negated > 0 ? `; ${negated} with order and phase both negated, which is equivalent` : '')
  );
}
