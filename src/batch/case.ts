/** What a batch makes packages of: a scenario as it stands, or one case of a scenario's sweep. */
import { basename } from 'node:path';
import { filesBeside, type NamedContents, noting } from '../disk/files-beside.ts';
import type { Finding } from '../finding/finding.ts';
import { namedFiles } from '../reading/scenario/named-files.ts';
import type { SweptValue } from '../scenario/sweep.ts';
import { sha256 } from '../writing/manifest.ts';

export interface Case {
  /** The package's folder under `--out`, with `/`. */
  readonly name: string;
  /** As given. */
  readonly file: string;
  /** Number or name of a case of a sweep; undefined of a scenario as it stands. */
  readonly case: string | undefined;
  readonly source: Source;
  readonly overrides: readonly (readonly [parameter: string, value: SweptValue])[];
}

/** One text, shared by its cases. */
interface Source {
  /** Without its sweep. */
  readonly text: string;
  /** SHA-256 of the bytes that `text` stands for, hex, line ends as LF. */
  readonly hash: string;
  /** How findings and packages name it: without its folder. */
  readonly fileName: string;
  /** Of the files beside it that it names. */
  readonly named: NamedContents;
}

/** A scenario that cannot even be taken apart into cases. */
export interface Misfit {
  readonly name: string;
  readonly file: string;
  readonly findings: readonly Finding[];
}

export type Entry = Case | Misfit;
export const isCase = (entry: Entry): entry is Case => 'source' in entry;

export function sourceOf(text: string, hash: string, file: string): Source {
  const { files, given: named } = noting(filesBeside(file));
  for (const name of namedFiles(text)) files(name);
  return { text, hash, fileName: basename(file), named };
}

/**
 * What manifest and report give as the scenario's SHA-256: of a scenario as it stands, that of its bytes, line ends as LF; of a case of a sweep,
 * that of the SHA-256 of the text without the sweep in hex, followed by a line `name = value` for each parameter that the case sets.
 */
export function scenarioHashOf({ source, overrides, case: caseName }: Case): string {
  if (caseName === undefined) return source.hash;
  const lines = overrides.map(([name, value]) => `${name} = ${JSON.stringify(value)}\n`);
  return sha256(source.hash + lines.join(''));
}
