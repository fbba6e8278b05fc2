/**
 * Where a command may write: refused before any work where a name is empty, where a folder is the root or the user's home, and where a
 * file is the input, another output, or not the program's own.
 */
import { closeSync, fstatSync, openSync, readFileSync, readSync, statSync } from 'node:fs';
import { homedir } from 'node:os';
import { relative, sep } from 'node:path';
import { errorFinding, type Finding } from '../finding/finding.ts';
import { LARGEST_FILE } from './files-beside.ts';
import { closedToWriting, isSystemError, notWritable, unwritable } from './not-writable.ts';
import { leadsNowhere, placeOf, whereLeading } from './where-leading.ts';

/** Whether the file at a path is one that the program wrote; asked only where a regular file stands. */
type Recognised = (path: string) => boolean;

export interface OutputFile {
  /** As findings name it, such as `--reach`. */
  readonly option: string;
  readonly path: string;
  readonly isOwn: Recognised;
}

/** Known by how it starts. */
export const knownByHead =
  (isOwn: (head: string) => boolean): Recognised =>
  (path) =>
    isOwn(headOf(path));

/** Known by its whole text. */
export const knownByText =
  (isOwn: (text: string) => boolean): Recognised =>
  (path) =>
    statSync(path).size <= LARGEST_FILE && isOwn(readFileSync(path, 'utf8'));

/** All marks of files that are known by their head stand before this many bytes. */
const HEAD_BYTES = 4096;

function headOf(path: string): string {
  const file = openSync(path, 'r');
  try {
    const bytes = Buffer.alloc(HEAD_BYTES);
    return bytes.toString('utf8', 0, readSync(file, bytes));
  } finally {
    closeSync(file);
  }
}

/**
 * Why a folder is no place for an output: it is the input, the root, the user's home, or what holds that; undefined where it is one.
 * `inputs` as the user named them.
 */
export function refusedFolder(
  option: string,
  folder: string,
  inputs: readonly string[],
): Finding | undefined {
  if (folder.trim() === '') return emptyName(option, 'folder');
  const place = placeOf(folder);
  const input = inputs.find((one) => one !== '-' && placeOf(one) === place);
  const said =
    input !== undefined
      ? `is the input ${input}`
      : place === placeOf('/')
        ? 'is the root of the file system'
        : atHome(place);
  if (said === undefined) return undefined;
  const hint = 'name a folder for the output, such as `out`';
  return errorFinding('bad-value', option, `${folder} ${said}`, hint);
}

/** Nowhere for a user without a home, as in a container. */
function atHome(folder: string): string | undefined {
  try {
    const home = homedir();
    if (home === '') return undefined;
    const way = relative(folder, placeOf(home));
    if (way === '') return 'is your home folder';
    return way === '..' || way.startsWith(`..${sep}`) ? undefined : 'contains your home folder';
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return undefined;
  }
}

const emptyName = (option: string, what: 'file' | 'folder'): Finding =>
  errorFinding('bad-value', option, `the name of the ${what} is empty`, `name a ${what}`);

/**
 * What keeps files from being written: each is to be a place of its own, none an input, and what stands there one of the program's own,
 * or empty. `inputs` as the user named them; `-` is what standard input was redirected from.
 */
export function refusedFiles(outputs: readonly OutputFile[], inputs: readonly string[]): readonly Finding[] {
  const findings: Finding[] = [];
  const taken = new Map<string, OutputFile>();
  const read = new Map(inputs.flatMap((input) => identitiesOf(input).map((one) => [one, input] as const)));
  for (const output of outputs) {
    const { option, path } = output;
    if (path.trim() === '') {
      findings.push(emptyName(option, 'file'));
      continue;
    }
    const identities = identitiesOf(path);
    const other = identities.map((one) => taken.get(one)).find((one) => one !== undefined);
    const input = identities.map((one) => read.get(one)).find((one) => one !== undefined);
    for (const one of identities) taken.set(one, output);
    if (input !== undefined) {
      const message = `${path} is the input${input === path || input === '-' ? '' : ` ${input}`}`;
      findings.push(errorFinding('output-exists', option, message, 'name another file for the output'));
    } else if (other !== undefined && other.path !== '/dev/null') {
      const same = other.path === path ? '' : `, the same as ${other.path}`;
      const message = `${path} is also the file of ${other.option}${same}`;
      findings.push(errorFinding('conflicting-keys', option, message, 'name a file of its own for each'));
    } else {
      const refused = refusedFile(output);
      if (refused !== undefined) findings.push(refused);
    }
  }
  return findings;
}

/** Files that stand there and are closed to writing: each with why. */
export const closedFiles = (outputs: readonly OutputFile[]): readonly Finding[] =>
  outputs.flatMap(({ path }) => {
    try {
      const isFile = statSync(path, { throwIfNoEntry: false })?.isFile() === true;
      const closed = isFile ? closedToWriting(path) : undefined;
      return closed === undefined ? [] : [unwritable(path, closed)];
    } catch (error) {
      if (!isSystemError(error)) throw error;
      return [unwritable(path, error)];
    }
  });

function refusedFile(output: OutputFile): Finding | undefined {
  const { path } = output;
  try {
    if (whereLeading(path) === 'nowhere') return leadsNowhere(path, 'file');
    const stats = statSync(path, { throwIfNoEntry: false });
    if (stats?.isDirectory()) return notWritable(path, 'is a folder, not a file', 'name a file');
    return refusedForeign(output);
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return unwritable(path, error);
  }
}

/** A file that stands there and is neither the program's own nor empty, as `mktemp` makes one. */
export function refusedForeign({ option, path, isOwn }: OutputFile): Finding | undefined {
  try {
    const stats = statSync(path, { throwIfNoEntry: false });
    if (stats?.isFile() !== true || stats.size === 0) return undefined;
  } catch (error) {
    // Whoever writes there says why it cannot be looked at.
    if (!isSystemError(error)) throw error;
    return undefined;
  }
  try {
    if (isOwn(path)) return undefined;
  } catch (error) {
    // What cannot be read cannot be known as the program's own.
    if (!isSystemError(error)) throw error;
  }
  const message = `${path} already exists and was not written by datumlight, or was changed since`;
  return errorFinding('output-exists', option, message, 'delete that file, or name another one');
}

/** What two names of one place have in common: the path that they lead to, and the file that stands there, which may have several. */
function identitiesOf(name: string): readonly string[] {
  try {
    if (name === '-') return numbered(fstatSync(0, { bigint: true }));
    const stats = statSync(name, { throwIfNoEntry: false, bigint: true });
    return [placeOf(name), ...(stats === undefined ? [] : numbered(stats))];
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return [];
  }
}

const numbered = (stats: { isFile(): boolean; dev: bigint; ino: bigint }): readonly string[] =>
  stats.isFile() ? [`${stats.dev}:${stats.ino}`] : [];
