/** How findings reach a person: rendered with their line of the file, to the stream that fits; a summary in a line; a refusal. */
import type { Finding } from '../finding/finding.ts';
import { listed, restFinding } from '../finding/listed-findings.ts';
import { renderFinding } from '../finding/render-finding.ts';
import { visibleText } from '../finding/visible-text.ts';
import { jsonText } from '../writing/json.ts';
import type { ReportedFinding } from '../writing/report/report-form.ts';
import { reportedFinding } from '../writing/report/reported-finding.ts';
import type { TalkOptions } from './command.ts';
import { EXIT, type ExitCode, type Io, mayColour, type Terminal } from './io.ts';

/** One line to a terminal: names of files and texts of the user's in it cannot move the cursor, break the line or turn the direction. */
export const sayLine = (stream: Terminal, text: string): void => void stream.write(`${visibleText(text)}\n`);

/** Several lines, each as one. */
export const sayLines = (stream: Terminal, text: string): void =>
  void stream.write(`${text.split('\n').map(visibleText).join('\n')}\n`);

/** Names of alike findings in one line. */
const MOST_ALIKE = 20;

/** At most MOST_LISTED of them, and a line that counts the others by code. */
export function sayFindings(
  findings: readonly Finding[],
  source: string | undefined,
  stream: Terminal,
  io: Io,
  options: TalkOptions,
): void {
  const colour = mayColour(stream, io, options.color !== false);
  const said = condensed(findings);
  const { list, rest } = listed(said.map(({ finding }) => finding));
  const alikeOf = new Map(said.map(({ finding, alike }) => [finding, alike]));
  for (const finding of list) {
    stream.write(`${renderFinding(finding, source, colour)}\n`);
    const alike = alikeOf.get(finding)!;
    if (alike.length > 0)
      sayLine(stream, `  and ${alike.length} more [${finding.severity} ${finding.rule}]: ${named(alike)}`);
  }
  if (rest.length > 0) {
    const more = restFinding(rest[0]!.place?.file ?? 'findings', rest);
    stream.write(`${renderFinding(more, undefined, colour)}\n`);
  }
}

const named = (alike: readonly string[]): string =>
  alike.length > MOST_ALIKE ? `${alike.slice(0, MOST_ALIKE).join('; ')}; …` : alike.join('; ');

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

/** A document for `--json` with at most MOST_LISTED findings, and one that counts the others by code. */
export function listing<T extends { readonly findings: readonly ReportedFinding[] }>(document: T): T {
  const { list, rest } = listed(document.findings);
  if (rest.length === 0) return document;
  return { ...document, findings: [...list, reportedFinding(restFinding('findings', rest))] };
}

/** What `--json` prints of an input that cannot be used: the findings alone. */
export const unusableReport = (file: string, findings: readonly Finding[]): unknown =>
  listing({ ok: false, file, findings: findings.map(reportedFinding) });
