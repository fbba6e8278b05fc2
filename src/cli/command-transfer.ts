/** `transfer FILE --points CSV`: a tracker's points in, where the part is in the hologram's frame and what to move out. */
import type { Finding } from '../finding/finding.ts';
import { transfer as transferFrom } from '../metrology/transfer/transfer.ts';
import { transferFindings } from '../metrology/transfer/transfer-findings.ts';
import { readTrackedPoints } from '../reading/tables/read-tracked-points.ts';
import { jsonText } from '../writing/json.ts';
import { transferReport } from '../writing/transfer/transfer-report.ts';
import { transferText } from '../writing/transfer/transfer-text.ts';
import { EXIT, type ExitCode, type Io } from './io.ts';
import { loadScenario } from './load-scenario.ts';
import { readInput } from './read-input.ts';
import { countOf, sayFindings, type TalkOptions } from './say.ts';
import { unusableReport } from './unusable-report.ts';

export interface TransferOptions extends TalkOptions {
  readonly points: string;
}

export async function transfer(file: string, options: TransferOptions, io: Io): Promise<ExitCode> {
  const refuse = (findings: readonly Finding[], source: string, name: string): ExitCode => {
    if (options.json) io.stdout.write(jsonText(unusableReport(name, findings)));
    else sayFindings(findings, source, io.stderr, io, options);
    return EXIT.unusable;
  };
  const loaded = await loadScenario(file, io);
  const { design } = loaded;
  if (design === undefined) return refuse(loaded.findings, loaded.text, loaded.file);
  if (!options.json) sayFindings(loaded.findings, loaded.text, io.stderr, io, options);
  const input = await readInput(options.points, io);
  if ('finding' in input) return refuse([input.finding], '', input.name);
  const table = readTrackedPoints(input.text, input.name, design.scenario);
  if ('findings' in table) return refuse(table.findings, input.text, input.name);
  const result = transferFrom(design, table.points);
  if ('findings' in result) return refuse(result.findings, input.text, input.name);
  const findings = transferFindings(result.transfer);
  const report = transferReport(design, result.transfer, findings);
  if (options.json) io.stdout.write(jsonText({ ...report, points: input.name }));
  else {
    sayFindings(findings, input.text, io.stderr, io, options);
    io.stdout.write(transferText(report));
  }
  return countOf(findings, 'error') > 0 ? EXIT.rulesBroken : EXIT.fine;
}
