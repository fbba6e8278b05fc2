/** What `batch --verify` found: told on the terminal or as JSON, and written as Markdown and overlays, all of them or none. */
import { join } from 'node:path';
import type { Verified } from '../../batch/run-verify.ts';
import { knownByHead, refusedFiles, refusedFolder } from '../../disk/output-places.ts';
import { type PlacedFile, placeFiles } from '../../disk/place-files.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { isLayoutOverlay } from '../../writing/difference/difference-overlay.ts';
import {
  convertedWords,
  differenceLines,
  differencesMarkdown,
  isDifferencesMarkdown,
} from '../../writing/difference/difference-report.ts';
import { jsonText } from '../../writing/json.ts';
import type { TalkOptions } from '../command.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { sayFindings, sayLine } from '../say.ts';
import { sayTroubles, worst } from './batch-outcomes.ts';

export interface VerifyOptions extends TalkOptions {
  readonly out: string;
  readonly markdown?: string;
  readonly overlay?: string;
}

const markdownAt = (path: string) => ({
  option: '--markdown',
  path,
  isOwn: knownByHead(isDifferencesMarkdown),
});
const overlayAt = (folder: string, name: string) => ({
  option: '--overlay',
  path: join(folder, `${name}.svg`),
  isOwn: knownByHead(isLayoutOverlay),
});

/** Before the packages are compared, which may take minutes. */
export function refusedReports(
  { markdown, overlay, json }: VerifyOptions,
  inputs: readonly string[],
): readonly Finding[] {
  if (markdown === '-' && json) {
    const message = 'standard output cannot hold both the JSON and the Markdown';
    return [errorFinding('conflicting-keys', '--markdown', message, 'name a file for the Markdown')];
  }
  const folder = overlay === undefined ? undefined : refusedFolder('--overlay', overlay, inputs);
  const files = markdown === undefined || markdown === '-' ? [] : [markdownAt(markdown)];
  return [...(folder === undefined ? [] : [folder]), ...refusedFiles(files, inputs)];
}

/** `missed`: a pattern named nothing. */
export function tellVerified(verified: Verified, missed: boolean, options: VerifyOptions, io: Io): ExitCode {
  const { rows, differences, overlays, converted } = verified;
  // A package has one verdict: what differs carries its reasons.
  const told = new Set(differences.filter(({ reasons }) => reasons.length > 0).map(({ name }) => name));
  sayTroubles(
    rows.filter(({ name }) => !told.has(name)),
    io,
  );
  const { markdown, overlay } = options;
  const files: PlacedFile[] = [];
  const moved = differencesMarkdown(rows.length, differences, converted);
  if (markdown === '-') io.stdout.write(moved);
  else if (markdown !== undefined) files.push({ ...markdownAt(markdown), content: moved });
  if (overlay !== undefined) {
    for (const [name, content] of overlays) files.push({ ...overlayAt(overlay, name), content });
  }
  const faults = placeFiles(files);
  sayFindings(faults, undefined, io.stderr, io, options);
  if (options.json) {
    const compared = rows.length;
    io.stdout.write(jsonText({ ok: differences.length === 0, compared, converted, differences, rows }));
  } else if (markdown !== '-') {
    for (const difference of differences) io.stdout.write(`${differenceLines(difference).join('\n')}\n`);
    if (!options.quiet) {
      const verdict = differences.length === 0 ? 'no differences' : `${differences.length} differ`;
      const only = converted === 0 ? '' : `; ${convertedWords(converted)}`;
      sayLine(io.stdout, `${options.out}: ${rows.length} compared, ${verdict}${only}`);
    }
  }
  const codes = [worst(rows, faults), missed ? EXIT.unusable : EXIT.fine];
  if (differences.length > 0) codes.push(EXIT.different);
  return Math.max(...codes) as ExitCode;
}
