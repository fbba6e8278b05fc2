/** Where a source can be mutated: every mutant with a name that outlives changes elsewhere in its file. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, sep } from 'node:path';
import type { Edit } from './edit.ts';
import { editsOf } from './operators.ts';
import { walkSource } from './syntax.ts';

export interface Mutant extends Edit {
  /** Such as `src/optics/grating.ts`. */
  readonly file: string;
  /** From 1. */
  readonly line: number;
  /** The source line on which the change starts, without white space around it. */
  readonly lineText: string;
  /** What was there and what stands there now: `a → b`. */
  readonly change: string;
  /** File, operator, line and change; a count from 2 on where the same stands in the file before. */
  readonly key: string;
}

/** Every mutant of a source, in the order in which they stand. */
export function mutantsOf(file: string, source: string): readonly Mutant[] {
  const edits: Edit[] = [];
  walkSource(source, (node, parents) => edits.push(...editsOf(node, parents, source)));
  const seen = new Map<string, number>();
  return edits
    .sort((a, b) => a.start - b.start || a.end - b.end)
    .map((edit) => {
      const line = source.slice(0, edit.start).split('\n').length;
      const lineText = source.split('\n')[line - 1].trim();
      const change = `${oneLine(source.slice(edit.start, edit.end))} → ${oneLine(edit.text) || 'nothing'}`;
      const name = [file, edit.operator, lineText, change].join(' | ');
      const count = (seen.get(name) ?? 0) + 1;
      seen.set(name, count);
      return { ...edit, file, line, lineText, change, key: count === 1 ? name : `${name} | ${count}` };
    });
}

const oneLine = (text: string): string => text.replace(/\s+/g, ' ').trim();

/** The source with the change made. */
export const mutated = (source: string, { start, end, text }: Edit): string =>
  source.slice(0, start) + text + source.slice(end);

/** All sources that can be mutated, `src/…`, sorted; the generated validator is none. */
export function sourceFiles(project = '.'): readonly string[] {
  return readdirSync(join(project, 'src'), { recursive: true, encoding: 'utf8' })
    .map((name) => `src/${name.split(sep).join('/')}`)
    .filter((name) => name.endsWith('.ts') && !name.includes('/generated/'))
    .sort();
}

/** The mutants of some files, or of all. */
export const allMutants = (files = sourceFiles()): readonly Mutant[] =>
  files.flatMap((file) => mutantsOf(file, readFileSync(file, 'utf8')));

/** The room of a source: `optics` for `src/optics/grating.ts`. */
export const roomOf = (file: string): string => file.split('/')[1];
