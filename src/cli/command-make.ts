/** `make FILE --out DIR`: as check, then the package. A design that breaks a rule writes none, unless it is a draft. */

import type { Design } from '../design/design.ts';
import { writePackage } from '../disk/package-folder.ts';
import type { Finding } from '../finding/finding.ts';
import { applyRules } from '../rules/all-rules.ts';
import { jsonText } from '../writing/json.ts';
import type { FileContent } from '../writing/manifest.ts';
import { type Package, packageFiles, packageWithPattern } from '../writing/package.ts';
import type { Provenance } from '../writing/provenance.ts';
import { EXIT, type ExitCode, type Io } from './io.ts';
import { type Loaded, loadScenario } from './load-scenario.ts';
import { asksForPattern, type PatternOptions } from './pattern-options.ts';
import { countOf, sayFindings, type TalkOptions, tally } from './say.ts';
import { sourceDate } from './source-date.ts';
import { unusableReport } from './unusable-report.ts';
import { VERSION } from './version.ts';

export interface MakeOptions extends TalkOptions, PatternOptions {
  readonly out: string;
  readonly draft?: boolean;
}

export async function make(file: string, options: MakeOptions, io: Io): Promise<ExitCode> {
  const loaded = await loadScenario(file, io);
  const { design } = loaded;
  if (design === undefined) return refuse(loaded.findings, loaded, options, io);
  const findings = [...loaded.findings, ...applyRules(design).map(loaded.placed)];
  const broken = countOf(findings, 'error') > 0;
  if (!options.json) sayFindings(findings, loaded.text, io.stderr, io, options);

  const writes = !broken || options.draft === true;
  const date = sourceDate(io.env);
  const head = {
    version: VERSION,
    scenarioHash: loaded.hash,
    named: loaded.named,
    draft: options.draft === true,
    ...(date === undefined ? {} : { date }),
  };
  const made = await packageOf(design, findings, head, writes ? options : {});
  if ('refused' in made) return refuse([made.refused], loaded, options, io);
  const { files, report } = made;
  if (writes) {
    const fault = writePackage(options.out, files, { durable: true });
    if (fault !== undefined) return refuse([fault], loaded, options, io);
  }
  if (options.json)
    io.stdout.write(jsonText({ ...report, file: loaded.file, written: writes ? options.out : null }));
  else if (!options.quiet) {
    const what = writes ? `wrote ${files.size} files to ${options.out}` : 'nothing written';
    const draft = options.draft ? ', a draft: NOT FOR FABRICATION' : '';
    io.stdout.write(`${loaded.file}: ${what}${draft}: ${tally(findings)}\n`);
  }
  return broken ? EXIT.rulesBroken : EXIT.fine;
}

async function packageOf(
  design: Design,
  findings: readonly Finding[],
  head: Provenance,
  options: PatternOptions,
): Promise<Package<FileContent> | { readonly refused: Finding }> {
  if (!asksForPattern(options)) return packageFiles(design, findings, head);
  const { patternOf } = await import('./pattern-of.ts');
  const pattern = patternOf(design, options, head);
  return 'part' in pattern ? packageWithPattern(design, findings, head, pattern.part) : pattern;
}

function refuse(findings: readonly Finding[], loaded: Loaded, options: MakeOptions, io: Io): ExitCode {
  if (options.json) io.stdout.write(jsonText(unusableReport(loaded.file, findings)));
  else sayFindings(findings, loaded.text, io.stderr, io, options);
  return EXIT.unusable;
}
