/**
 * Names of packages under `--out`: a scenario's file without its ending, or that and a case's name. Like ids they must name a folder on
 * any system, but a file's name may have spaces and letters of any script in it. Refused before anything is written.
 */
import { relative, resolve, sep } from 'node:path';
import { errorFinding, type Finding } from '../finding/finding.ts';
import { nameList } from '../finding/name-list.ts';
import { visibleText } from '../finding/visible-text.ts';
import { DEVICE_NAME, isDeviceName } from '../reading/yaml/identifiers.ts';
import { SUMMARY_FILES } from './summary-files.ts';

/** `scenarios/north.yaml` gives `north`; a folder, which is no scenario, `scenario`. */
export function stemOf(file: string): string {
  const last = file.split(/[\\/]/).at(-1)!;
  return /^\.{0,2}$/.test(last) ? 'scenario' : last.replace(/(?<=.)\.(ya?ml|datumlight)$/i, '');
}

/** One folder of a package's name. File systems allow 255 bytes; what is put aside for a moment adds up to some 100 to a name. */
const MOST_BYTES = 128;

/** Other spaces than U+0020, and what Windows keeps for paths, drives and patterns. */
const FORBIDDEN = /[<>:"|?*\\/\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000]/;

/** Why a folder of that name cannot be made, or not everywhere; undefined where it can. `taken`: what else lies in `--out`. */
export function folderNameFault(name: string, taken: ReadonlySet<string> = RESERVED): string | undefined {
  if (visibleText(name) !== name || /\p{C}/u.test(name)) return 'contains invisible or control characters';
  const forbidden = FORBIDDEN.exec(name);
  if (forbidden !== null) return `contains ${JSON.stringify(forbidden[0])}`;
  if (name === '' || name.startsWith('.')) return 'starts with a dot, as hidden files do';
  if (name.startsWith('-')) return 'starts with `-`, as an option does';
  if (/^ |[ .]$/.test(name)) return 'starts with a space, or ends with a space or a dot';
  if (name.includes('..')) return 'contains `..`';
  if (isDeviceName(name)) return DEVICE_NAME;
  if (Buffer.byteLength(name) > MOST_BYTES)
    return `has ${Buffer.byteLength(name)} bytes; at most ${MOST_BYTES}`;
  if (taken.has(folded(name))) return 'is the name of another output in that folder';
  return undefined;
}

/** Names that one folder would serve on some system: those that differ in case alone, or in how accents are composed. */
export const folded = (name: string): string => name.normalize('NFC').toLowerCase();

const RESERVED: ReadonlySet<string> = new Set([...SUMMARY_FILES, 'manifest.json'].map(folded));

/** Names that the packages of these scenarios cannot have, or cannot share. `beside`: other paths that the batch writes. */
export function packageNameFaults(
  files: readonly string[],
  out: string,
  beside: readonly (string | undefined)[],
): readonly Finding[] {
  const taken = new Set([...RESERVED, ...beside.flatMap((path) => firstStepWithin(out, path))]);
  const owners = new Map<string, string[]>();
  for (const file of files) {
    const name = folded(stemOf(file));
    owners.set(name, [...(owners.get(name) ?? []), file]);
  }
  return files.flatMap((file): readonly Finding[] => {
    const stem = stemOf(file);
    const why = folderNameFault(stem, taken);
    if (why !== undefined) {
      const message = `\`${stem}\` cannot be the folder of its package: it ${why}`;
      return [errorFinding('bad-id', file, message, 'rename the file')];
    }
    const others = owners.get(folded(stem))!.filter((other) => other !== file);
    if (others.length === 0) return [];
    const message = `its package would have the same folder, \`${stem}\`, as that of ${nameList(others, MOST_NAMED)}`;
    return [errorFinding('output-exists', file, message, 'rename one of the files')];
  });
}

/** Files named in one message. */
const MOST_NAMED = 3;

/** The folder or file of `out` that `path` is or lies in; none where it lies elsewhere. */
function firstStepWithin(out: string, path: string | undefined): readonly string[] {
  if (path === undefined || path === '-') return [];
  const [first] = relative(resolve(out), resolve(path)).split(sep);
  return first === undefined || first === '' || first === '..' ? [] : [folded(first)];
}
