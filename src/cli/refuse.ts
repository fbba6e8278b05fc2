/** How a command ends that cannot use its input: the findings printed, or with `--json` the one document that holds them; exit code 2. */
import type { Finding } from '../finding/finding.ts';
import { jsonText } from '../writing/json.ts';
import { reportedFinding } from '../writing/report/reported-finding.ts';
import type { TalkOptions } from './command.ts';
import { EXIT, type ExitCode, type Io } from './io.ts';
import { sayFindings } from './say.ts';

/** Findings about one text, and that text where they have places in it. */
export interface Fault {
  readonly findings: readonly Finding[];
  readonly text?: string;
}

/** `name` is that of the input, for the JSON document. */
type Refuse = (name: string, ...faults: readonly Fault[]) => ExitCode;

export const refusing =
  (options: TalkOptions, io: Io): Refuse =>
  (name, ...faults) => {
    const findings = faults.flatMap((fault) => fault.findings);
    if (options.json) io.stdout.write(jsonText(unusableReport(name, findings)));
    else for (const { findings, text } of faults) sayFindings(findings, text, io.stderr, io, options);
    return EXIT.unusable;
  };

/** What `--json` prints of an input that cannot be used: the findings alone. */
export const unusableReport = (file: string, findings: readonly Finding[]): unknown => ({
  ok: false,
  file,
  findings: findings.map(reportedFinding),
});

/** A fault of the command line itself, such as an option out of its range. */
export const optionFault = (
  rule: Finding['rule'],
  where: string,
  message: string,
  hint?: string,
): Finding => ({ severity: 'error', rule, where, message, ...(hint === undefined ? {} : { hint }) });
