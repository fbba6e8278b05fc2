/** How findings reach a person: rendered with their line of the file, to the stream that fits; a summary in a line; a refusal. */
import type { Finding } from '../finding/finding.ts';
import { renderFinding } from '../finding/render-finding.ts';
import { visibleText } from '../finding/visible-text.ts';
import { jsonText } from '../writing/json.ts';
import { reportedFinding } from '../writing/report/reported-finding.ts';
import type { TalkOptions } from './command.ts';
import { EXIT, type ExitCode, type Io, mayColour, type Terminal } from './io.ts';

/** One line to a terminal: names of files and texts of the user's in it cannot move the cursor, break the line or turn the direction. */
export const sayLine = (stream: Terminal, text: string): void => void stream.write(`${visibleText(text)}\n`);

/** Several lines, each as one. */
export const sayLines = (stream: Terminal, text: string): void =>
  void stream.write(`${text.split('\n').map(visibleText).join('\n')}\n`);

export function sayFindings(
  findings: readonly Finding[],
  source: string | undefined,
  stream: Terminal,
  io: Io,
  options: TalkOptions,
): void {
  const colour = mayColour(stream, io, options.color !== false);
  const said = condensed(findings);
  for (const { finding, alike } of said.slice(0, MOST_SAID)) {
    stream.write(`${renderFinding(finding, source, colour)}\n`);
    if (alike.length > 0)
      sayLine(
        stream,
        `  and ${alike.length} more [${finding.severity} ${finding.rule}]: ${alike.join('; ')}`,
      );
  }
  const left = said.slice(MOST_SAID).map(({ finding }) => finding);
  if (left.length > 0) stream.write(`and ${left.length} more: ${byCode(left)}\n`);
}

/** Findings printed whole; the errors come first, and the rest is counted. */
const MOST_SAID = 300;

/** `12 [error patch-overlap], 3 [warning undersampled]` */
function byCode(findings: readonly Finding[]): string {
  const counts = new Map<string, number>();
  for (const { severity, rule } of findings)
    counts.set(`[${severity} ${rule}]`, (counts.get(`[${severity} ${rule}]`) ?? 0) + 1);
  return [...counts].map(([code, count]) => `${count} ${code}`).join(', ');
}

/** Of those that follow from another finding the first of each rule, with what the others are about; --json has each whole. */
function condensed(
  findings: readonly Finding[],
): readonly { readonly finding: Finding; readonly alike: readonly string[] }[] {
  const said: { finding: Finding; alike: string[] }[] = [];
  for (const finding of findings) {
    const first =
      finding.follows && said.find((one) => one.finding.follows && one.finding.rule === finding.rule);
    if (first === undefined) said.push({ finding, alike: [] });
    else first.alike.push(finding.where);
  }
  return said;
}

const plural = (count: number, word: string): string => `${count} ${word}${count === 1 ? '' : 's'}`;

export const countOf = (findings: readonly Finding[], severity: Finding['severity']): number =>
  findings.filter((finding) => finding.severity === severity).length;

/** `2 errors, 1 warning` */
export function tally(findings: readonly Finding[]): string {
  const errors = plural(countOf(findings, 'error'), 'error');
  return `${errors}, ${plural(countOf(findings, 'warning'), 'warning')}`;
}

/** Findings about one text, and that text where they have places in it. */
export interface Fault {
  readonly findings: readonly Finding[];
  readonly text?: string;
}

/** `name` is that of the input, for the JSON document. */
type Refuse = (name: string, ...faults: readonly Fault[]) => ExitCode;

/** How a command ends that cannot use its input: the findings printed, or with `--json` the one document that holds them; exit code 2. */
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
