/** A package remade in memory against the one that stands in its folder. Writes nothing. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { MANIFEST, type Manifest, manifestIn } from '../disk/package-reading.ts';
import { changesBetween } from '../writing/difference/difference.ts';
import { layoutOverlay } from '../writing/difference/difference-overlay.ts';
import { type PackageDifference, withoutChanges } from '../writing/difference/difference-report.ts';
import { isSlight } from '../writing/difference/slight-change.ts';
import { type PackageFiles, sha256 } from '../writing/manifest.ts';

export interface ComparedPackage {
  /** Undefined where the two are the same, byte for byte, or where neither is there. */
  readonly difference: PackageDifference | undefined;
  /** Old and new layout over each other, where both are there and differ. */
  readonly overlay: string | undefined;
}

const SAME: ComparedPackage = { difference: undefined, overlay: undefined };

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
  });
  if (files === undefined) return found === undefined ? SAME : difference('refused');
  if (found === undefined) return difference('missing');
  const old = readFiles(folder, found.manifest);
  const fresh = new Map([...files].map(([file, content]) => [file, Buffer.from(content)] as const));
  const names = [...new Set([...fresh.keys(), ...old.keys()])].sort();
  const differing = names.filter((file) => {
    const [was, is] = [old.get(file), fresh.get(file)];
    return was === undefined || is === undefined || !was.equals(is);
  });
  if (differing.length === 0) return SAME;
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
      return content === undefined || sha256(content) !== hash;
    })
    .map(([name]) => name);

const asText = (files: ReadonlyMap<string, Buffer>): ReadonlyMap<string, string> =>
  new Map([...files].map(([name, content]) => [name, content.toString('utf8')]));
