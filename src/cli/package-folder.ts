/**
 * Puts a package into its folder whole or not at all: every file is written into a folder aside, then that folder takes the
 * place of the old one by renaming. What stands in the old folder and is not a package's own file is carried over, never removed.
 */
import { mkdir, mkdtemp, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import type { Finding } from '../finding/finding.ts';
import { MANIFEST_FORMAT, type PackageFiles } from '../writing/manifest.ts';

export const MANIFEST = 'manifest.json';

/** Writes `files` as the package in `folder`. A finding instead of an exception where the disk says no. */
export async function writePackage(folder: string, files: PackageFiles): Promise<Finding | undefined> {
  const target = resolve(folder);
  let aside: string | undefined;
  try {
    const before = await foldersState(target);
    if (before === 'not a folder') return refusal(folder, 'is a file, not a folder', 'name another folder');
    await mkdir(dirname(target), { recursive: true });
    aside = await mkdtemp(join(dirname(target), `.${basename(target)}.new-`));
    for (const [name, content] of files) await writeFile(join(aside, name), content);
    if (before === 'absent') await rename(aside, target);
    else await takeThePlaceOf(target, aside, new Set(files.keys()));
    return undefined;
  } catch (error) {
    if (aside !== undefined) await rm(aside, { recursive: true, force: true }).catch(() => undefined);
    if (!isSystemError(error)) throw error;
    return refusal(
      folder,
      `cannot be written: ${error.message}`,
      REMEDIES[error.code] ?? 'check the folder and its rights',
    );
  }
}

async function foldersState(target: string): Promise<'absent' | 'folder' | 'not a folder'> {
  try {
    return (await stat(target)).isDirectory() ? 'folder' : 'not a folder';
  } catch (error) {
    if (isSystemError(error) && error.code === 'ENOENT') return 'absent';
    throw error;
  }
}

/** Old folder out of the way, new one in, foreign files carried over, old package's own files gone. */
async function takeThePlaceOf(target: string, aside: string, fresh: ReadonlySet<string>): Promise<void> {
  const own = await packageFilesIn(target);
  const foreign = (await readdir(target)).filter((name) => !own.has(name));
  const clash = foreign.find((name) => fresh.has(name));
  if (clash !== undefined) {
    throw Object.assign(new Error(`${clash} stands there and was not written by datumlight`), {
      code: 'EEXIST',
    });
  }
  const old = await mkdtemp(join(dirname(target), `.${basename(target)}.old-`));
  await rename(target, join(old, 'package'));
  try {
    await rename(aside, target);
  } catch (error) {
    await rename(join(old, 'package'), target);
    await rm(old, { recursive: true, force: true });
    throw error;
  }
  for (const name of foreign) await rename(join(old, 'package', name), join(target, name));
  await rm(old, { recursive: true, force: true });
}

/** The files of the package that stands in the folder, by its manifest; none where there is no manifest of ours. */
async function packageFilesIn(folder: string): Promise<ReadonlySet<string>> {
  try {
    const manifest: unknown = JSON.parse(await readFile(join(folder, MANIFEST), 'utf8'));
    if (!isManifest(manifest)) return new Set();
    return new Set([...Object.keys(manifest.files), MANIFEST]);
  } catch {
    return new Set();
  }
}

const isManifest = (value: unknown): value is { files: object } =>
  typeof value === 'object' &&
  value !== null &&
  'format' in value &&
  value.format === MANIFEST_FORMAT &&
  'files' in value &&
  typeof value.files === 'object' &&
  value.files !== null;

interface SystemError extends Error {
  readonly code: string;
}
const isSystemError = (error: unknown): error is SystemError =>
  error instanceof Error && 'code' in error && typeof error.code === 'string';

const REMEDIES: Record<string, string> = {
  ENOSPC: 'make room on the disk',
  EROFS: 'name a folder on a disk that can be written',
  EACCES: 'name a folder that you may write to',
  EEXIST: 'move that file away or name another folder',
  ENOTDIR: 'a part of the path is a file: name another folder',
};

const refusal = (folder: string, message: string, hint: string): Finding => ({
  severity: 'error',
  rule: 'not-writable',
  where: folder,
  message: `${folder} ${message}`,
  hint,
});
