/**
 * Files put in place together: all of them or none. Each is written aside, then renamed over the old one, whose mode it keeps; where one
 * cannot take its place, those before it are put back as they were. A link is followed; what is no file (a pipe, /dev/null) is written
 * into, never replaced. A kill between the renames leaves new files beside old ones, each of them whole.
 */
import { chmodSync, constants, copyFileSync, linkSync, renameSync, statSync, writeFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import type { Finding } from '../finding/finding.ts';
import { asideName, discard, MARK_NEW, MARK_OLD } from './aside.ts';
import { clearLeftovers } from './leftovers.ts';
import { makeFolder, removeFolders } from './make-folder.ts';
import { isSystemError, unwritable } from './not-writable.ts';
import { closedFiles, type OutputFile, refusedFiles } from './output-places.ts';
import { placeOf, whereLeading } from './where-leading.ts';

export interface PlacedFile extends OutputFile {
  readonly content: string | Uint8Array;
}

interface Staged {
  readonly path: string;
  readonly target: string;
  /** Undefined: there is no old one. */
  readonly mode: number | undefined;
  readonly aside: string;
}

/** The errors for which nothing was written; or warnings of what could not be cleared up, and all is written. */
export function placeFiles(files: readonly PlacedFile[]): readonly Finding[] {
  const misplaced = refusedFiles(files, []);
  const faults = misplaced.length > 0 ? misplaced : closedFiles(files);
  if (faults.length > 0) return faults;
  const around = new Set(files.map(({ path }) => dirname(placeOf(path))));
  const warnings = [...around].flatMap((folder) => clearLeftovers(folder));
  const folders: string[] = [];
  const staged: Staged[] = [];
  let at = files[0]?.path ?? '';
  try {
    for (const { path, content } of files) {
      at = path;
      const old = statSync(path, { throwIfNoEntry: false });
      if (old !== undefined && !old.isFile()) continue;
      const leads = whereLeading(path);
      const target = typeof leads === 'object' ? leads.to : resolve(path);
      folders.push(...makeFolder(dirname(target)));
      const aside = asideName(target, MARK_NEW);
      const mode = old === undefined ? undefined : old.mode & 0o7777;
      staged.push({ path, target, mode, aside });
      writeFileSync(aside, content);
      if (mode !== undefined) chmodSync(aside, mode);
    }
    for (const { path, content } of files) {
      at = path;
      if (staged.some((one) => one.path === path)) continue;
      writeFileSync(path, content);
    }
    takePlaces(staged, (path) => {
      at = path;
    });
  } catch (error) {
    for (const { aside } of staged) discard(aside);
    removeFolders(folders);
    if (!isSystemError(error)) throw error;
    return [unwritable(at, error)];
  }
  return warnings;
}

/** Of all but the last, the old file keeps a second name until the last has its place. */
function takePlaces(staged: readonly Staged[], at: (path: string) => void): void {
  const done: { readonly target: string; readonly kept: string | undefined }[] = [];
  try {
    for (const [k, { path, target, aside, mode }] of staged.entries()) {
      at(path);
      const kept = mode === undefined || k === staged.length - 1 ? undefined : secondName(target);
      try {
        renameSync(aside, target);
      } catch (error) {
        if (kept !== undefined) discard(kept);
        throw error;
      }
      done.push({ target, kept });
    }
  } catch (error) {
    for (const { target, kept } of done.toReversed()) {
      if (kept === undefined) discard(target);
      else quietly(() => renameSync(kept, target));
    }
    throw error;
  }
  for (const { kept } of done) if (kept !== undefined) discard(kept);
}

function secondName(target: string): string {
  const kept = asideName(target, MARK_OLD);
  try {
    linkSync(target, kept);
  } catch (error) {
    // A disk without hard links.
    if (!isSystemError(error)) throw error;
    copyFileSync(target, kept, constants.COPYFILE_EXCL);
  }
  return kept;
}

function quietly(work: () => void): void {
  try {
    work();
  } catch (error) {
    // The disk said no already.
    if (!isSystemError(error)) throw error;
  }
}
