/** From scenario files to the entries of a batch: each file once, or once for each case of its sweep, every package's name its own. */
import { readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { filesBeside, LARGEST_FILE } from '../disk/files-beside.ts';
import { meaningHash, withUnixLineEnds } from '../disk/line-ends.ts';
import { type Input, textOf, unreadable } from '../disk/text-file.ts';
import { errorFinding, type Finding } from '../finding/finding.ts';
import { readScenario } from '../reading/scenario/read-scenario.ts';
import { withoutSweep } from '../reading/scenario/without-sweep.ts';
import type { Sweep, SweptCase } from '../scenario/sweep.ts';
import { sha256 } from '../writing/manifest.ts';
import { type Entry, type Misfit, sourceOf } from './case.ts';
import { readCaseTable } from './case-table.ts';
import { stemOf } from './package-names.ts';
import { sweepCases } from './sweep-cases.ts';

/** In the order of the files, then of each sweep. */
export const listCases = (files: readonly string[]): readonly Entry[] => files.flatMap(entriesOf);

function entriesOf(file: string): readonly Entry[] {
  const stem = stemOf(file);
  const misfit = (findings: readonly Finding[]): readonly Misfit[] => [{ name: stem, file, findings }];
  const read = readText(file);
  if ('finding' in read) return misfit([read.finding]);
  const { text, bytes } = read;
  const plain = {
    name: stem,
    file,
    case: undefined,
    source: sourceOf(text, meaningHash(bytes), file),
    overrides: [],
  };
  // Most scenarios have no sweep, and reading one takes longer than looking for the word.
  if (!text.includes('sweep')) return [plain];
  const { scenario, findings } = readScenario(text, file, undefined, filesBeside(file));
  if (scenario === undefined) return misfit(findings);
  if (scenario.sweep === undefined) return [plain];
  const listed = listedCases(
    scenario.sweep,
    file,
    scenario.parameters.map(({ name }) => name),
  );
  if ('findings' in listed) return misfit(listed.findings);
  const rest = withoutSweep(text);
  const source = sourceOf(rest, sha256(rest), file);
  return sweepCases(scenario.sweep, listed.list).map(({ name, overrides }) => {
    return { name: `${stem}/${name}`, file, case: name, source, overrides };
  });
}

function listedCases(
  { cases }: Sweep,
  file: string,
  parameters: readonly string[],
): { list: readonly SweptCase[] | undefined } | { findings: readonly Finding[] } {
  if (cases === undefined) return { list: undefined };
  if ('list' in cases) return cases;
  const table = join(dirname(file), cases.file);
  const read = readText(table);
  return 'finding' in read ? { findings: [read.finding] } : readCaseTable(read.text, table, parameters);
}

function readText(file: string): Input {
  try {
    const stats = statSync(file);
    if (stats.isFile()) {
      const input = textOf(file, stats.size > LARGEST_FILE ? undefined : readFileSync(file));
      return 'finding' in input ? input : { ...input, text: withUnixLineEnds(input.text) };
    }
    const hint = 'name a file, or a pattern such as `dir/*.yaml`';
    return { name: file, finding: errorFinding('unreadable-file', file, 'is not a file', hint) };
  } catch (error) {
    return unreadable(file, error);
  }
}
