/** `check FILE…`: reads, validates, solves and applies every rule; writes nothing. */
import { applyRules } from '../rules/all-rules.ts';
import { jsonText } from '../writing/json.ts';
import { EXIT, type ExitCode, type Io } from './io.ts';
import { loadScenario } from './load-scenario.ts';
import { countOf, sayFindings, type TalkOptions, tally } from './say.ts';
import { unusableReport } from './unusable-report.ts';

export interface CheckOptions extends TalkOptions {
  /** A coefficient table that came back: compared with the design instead of applying the rules. */
  readonly table?: string;
  readonly within?: string;
}

export async function check(files: readonly string[], options: CheckOptions, io: Io): Promise<ExitCode> {
  if (options.table !== undefined || options.within !== undefined) {
    const { checkTable } = await import('./command-check-table.ts');
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
  const findings = [...faults, ...applyRules(design).map(placed)];
  const code = countOf(findings, 'error') === 0 ? EXIT.fine : EXIT.rulesBroken;
  if (options.json) {
    const { checkReport } = await import('./check-report.ts');
    return { code, report: { ...checkReport(design, findings, hash), file: name } };
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
