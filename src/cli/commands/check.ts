/** `check FILE…`: reads, validates, solves and applies every rule; writes nothing. */

import { TABLE_BOUND } from '../../readback/table-meaning.ts';
import { findingsOf } from '../../rules/one-cause.ts';
import { patchTables } from '../../writing/coefficients/coefficients.ts';
import { jsonText } from '../../writing/json.ts';
import { reportOf } from '../../writing/report/report.ts';
import { type Register, type TalkOptions, talkative } from '../command.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { loadScenario } from '../load-scenario.ts';
import { unusableReport } from '../refuse.ts';
import { countOf, sayFindings, tally } from '../say.ts';
import { VERSION } from '../version.ts';
import { checkTable } from './check-table.ts';

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
    return { code, report: { ...reportOf(design, findings, head, patchTables(design)), file: name } };
  }
  sayFindings(findings, text, io.stdout, io, options);
  if (!options.quiet) {
    const { patches, references } = design;
    const state = code === EXIT.fine ? 'fine' : 'broken';
    io.stdout.write(
      `${name}: ${state}: ${patches.length} patches, ${references.length} references, ${tally(findings)}\n`,
    );
  }
  return { code, report: undefined };
}
