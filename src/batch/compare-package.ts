/** A package remade in memory against the one that stands in its folder. Writes nothing. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { asWritten, differenceOf, withUnixLineEnds } from '../disk/line-ends.ts';
import { MANIFEST, type Manifest, manifestIn } from '../disk/package-reading.ts';
import { changesBetween } from '../writing/difference/difference.ts';
import { layoutOverlay } from '../writing/difference/difference-overlay.ts';
import { type PackageDifference, withoutChanges } from '../writing/difference/difference-report.ts';
import { isSlight } from '../writing/difference/slight-change.ts';
import type { PackageFiles } from '../writing/manifest.ts';

export interface ComparedPackage {
  /** Undefined where the two are the same, line ends of texts aside, or where neither is there. */
  readonly difference: PackageDifference | undefined;
  /** Old and new layout over each other, where both are there and differ. */
  readonly overlay: string | undefined;
  /** Files that mean the same and differ in line ends only, as after a checkout that converts them. */
  readonly converted: number;
}

const SAME: ComparedPackage = { difference: undefined, overlay: undefined, converted: 0 };

/** `reasons`: the errors for which the scenario gives no package. */
export function comparePackage(
  name: string,
  folder: string,
  files: PackageFiles | undefined,
  reasons: readonly string[],
): ComparedPackage {
  const found = manifestIn(folder);
  const difference = (state: PackageDifference['state']): ComparedPackage => ({
    difference: { ...withoutChanges(name, state), reasons },
    overlay: undefined,
    converted: 0,
  });
  if (files === undefined) return found === undefined ? SAME : difference('refused');
  if (found === undefined) return difference('missing');
  const old = readFiles(folder, found.manifest);
  const fresh = new Map([...files].map(([file, content]) => [file, Buffer.from(content)] as const));
  const names = [...new Set([...fresh.keys(), ...old.keys()])].sort();
  const differences = names.map((file) => {
    const [was, is] = [old.get(file), fresh.get(file)];
    return was === undefined || is === undefined ? 'content' : differenceOf(file, was, is);
  });
  const differing = names.filter((_, k) => differences[k] === 'content');
  const converted = differences.filter((one) => one === 'line ends').length;
  if (differing.length === 0) return { ...SAME, converted };
  const [before, after] = [asText(old), asText(fresh)];
  const changes = changesBetween(before, after);
  const layouts = [before, after].map((texts) => texts.get('layout.svg') ?? '');
  return {
    difference: {
      name,
      state: 'changed',
      files: differing,
      editedSince: editedSince(old, found.manifest),
      changes: changes.filter((change) => !isSlight(change)),
      slight: changes.filter(isSlight).length,
      reasons: [],
    },
    overlay: layouts[0] === layouts[1] ? undefined : layoutOverlay(name, layouts[0]!, layouts[1]!),
    converted,
  };
}

function readFiles(folder: string, manifest: Manifest): ReadonlyMap<string, Buffer> {
  const files = new Map<string, Buffer>();
  for (const name of [...Object.keys(manifest.files), MANIFEST]) {
    try {
      files.set(name, readFileSync(join(folder, name)));
    } catch {
      // A file that the manifest lists and that is gone counts as different.
    }
  }
  return files;
}

const editedSince = (files: ReadonlyMap<string, Buffer>, manifest: Manifest): readonly string[] =>
  Object.entries(manifest.files)
    .filter(([name, { sha256: hash }]) => {
      const content = files.get(name);
      return content === undefined || asWritten(name, content, hash) === undefined;
    })
    .map(([name]) => name);

const asText = (files: ReadonlyMap<string, Buffer>): ReadonlyMap<string, string> =>
  new Map([...files].map(([name, content]) => [name, withUnixLineEnds(content.toString('utf8'))]));
