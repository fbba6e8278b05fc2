/**
 * Puts a package into its folder whole or not at all.
 *
 * What is kept, whatever happens (a kill, a full disk, another run into the same folder):
 * - The new package is written aside, complete, before the old one is touched. Then two renames swap the folders; between them,
 *   for some microseconds, no folder has the name. A kill in just that moment leaves the old package aside as `.NAME.old-…`, and the
 *   next run puts it back first. At no moment does a folder by that name hold files of two packages.
 * - Where the folder itself cannot be renamed (it is a mount point, its parent cannot be written, the shell stands in it, or
 *   folders of the user's lie in it) the new files wait in `.datumlight-new` within it, and are renamed over the old ones one by one once
 *   all are there. A kill within those renames, some hundred microseconds, leaves the rest waiting: the next run finishes.
 * - Files that datumlight did not write are never removed or replaced.
 * - A folder that is closed to writing stays as it is, though a rename would ask for the right to its parent only.
 */
import {
  chmodSync,
  closeSync,
  constants,
  copyFileSync,
  existsSync,
  fsyncSync,
  linkSync,
  mkdirSync,
  openSync,
  readdirSync,
  rmdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import process from 'node:process';
import type { Finding } from '../finding/finding.ts';
import type { FileContent } from '../writing/manifest.ts';
import { asideName, discard, MARK_NEW } from './aside.ts';
import { clearLeftovers } from './leftovers.ts';
import { makeFolder, removeFolders } from './make-folder.ts';
import { closedToWriting, isSystemError, notWritable, unwritable } from './not-writable.ts';
import { MANIFEST, manifestIn, ownFiles } from './package-reading.ts';
import { MOST_TRIES, renamed, stateOf, swap } from './swap.ts';
import { leadsNowhere, whereLeading } from './where-leading.ts';

type Contents = ReadonlyMap<string, FileContent>;

/** Where new files wait that are to be renamed one by one. */
const WAITING = '.datumlight-new';
interface WriteOptions {
  /** Written through to the disk before the swap, so that a power cut keeps the promise too; slower. */
  readonly durable?: boolean;
  /** `clearLeftovers` has been called for the folder around: a batch asks once for all its packages. */
  readonly recovered?: boolean;
  /** Takes what could not be cleared up of killed runs; the package is written all the same. */
  readonly warn?: Warn;
}
type Warn = (warnings: readonly Finding[]) => void;

/** Writes `files` as the package in `folder`. A finding instead of an exception where the disk says no. */
export function writePackage(
  folder: string,
  files: Contents,
  options: WriteOptions = {},
): Finding | undefined {
  for (let tries = 0; ; tries++) {
    const found = tryPackage(folder, files, tries === 0 ? options : { ...options, warn: () => undefined });
    // Another run's swap takes the folder away for some microseconds.
    if (found !== 'vanished' || tries >= MOST_TRIES)
      return found === 'vanished'
        ? notWritable(folder, 'vanishes again and again', 'name another folder')
        : found;
  }
}

function tryPackage(
  folder: string,
  files: Contents,
  { durable = false, recovered = false, warn = () => undefined }: WriteOptions,
): Finding | 'vanished' | undefined {
  const leads = whereLeading(folder);
  if (leads === 'nowhere') return leadsNowhere(folder, 'folder');
  const stood = leads !== 'absent';
  const target = stood ? leads.to : resolve(folder);
  const aside = asideName(target, MARK_NEW);
  let folders: readonly string[] = [];
  try {
    const closed = stateOf(target) === 'folder' ? closedToWriting(target) : undefined;
    if (closed !== undefined) return unwritable(folder, closed);
    if (!recovered) warn(clearLeftovers(dirname(target)));
    finishWithin(target, warn);
    const before = stateOf(target);
    if (before === 'taken') return notWritable(folder, 'is a file, not a folder', 'name another folder');
    const clash = foreignClash(target, files);
    if (clash !== undefined) {
      return notWritable(
        folder,
        `cannot be written: ${clash} already exists and was not written by datumlight`,
        'move that file away or name another folder',
      );
    }
    if (before === 'folder' && mustStay(target)) {
      replaceWithin(target, files, durable);
      return undefined;
    }
    folders = makeFolder(dirname(target));
    try {
      writeFolder(aside, files, durable);
      if (before === 'folder') chmodSync(aside, statSync(target).mode & 0o7777);
      swap(target, aside);
    } catch (error) {
      if (before !== 'folder' || !isSystemError(error) || !UNMOVABLE.has(error.code)) throw error;
      discard(aside);
      replaceWithin(target, files, durable);
    }
    return undefined;
  } catch (error) {
    discard(aside);
    // Of a batch, another package may be on its way into the same folder.
    if (!recovered) removeFolders(folders);
    if (!isSystemError(error)) throw error;
    return stood && error.code === 'ENOENT' ? 'vanished' : unwritable(folder, error);
  }
}

/** Errors that mean: this folder cannot be renamed, its contents perhaps can. */
const UNMOVABLE = new Set(['EBUSY', 'EACCES', 'EPERM', 'EXDEV', 'EROFS']);

function finishWithin(target: string, warn: Warn): void {
  if (stateOf(target) !== 'folder') return;
  warn(clearLeftovers(target));
  if (existsSync(join(target, WAITING))) moveWaiting(target);
}

/** A file of the user's where one of the package's is to be. */
function foreignClash(target: string, files: Contents): string | undefined {
  if (stateOf(target) !== 'folder') return undefined;
  const own = ownFiles(target);
  return readdirSync(target).find((name) => files.has(name) && !own.has(name));
}

/** Whether renaming the folder would pull it away from under someone: a shell that stands in it, or folders of the user's. */
function mustStay(target: string): boolean {
  const within = relative(target, process.cwd());
  if (within !== '..' && !within.startsWith(`..${sep}`)) return true;
  return readdirSync(target, { withFileTypes: true }).some((entry) => !entry.isFile());
}

function writeFolder(folder: string, files: Contents, durable: boolean): void {
  mkdirSync(folder);
  for (const [name, content] of files) writeContent(join(folder, name), content, durable);
}

function writeContent(path: string, content: FileContent, durable: boolean): void {
  if (typeof content === 'string' || content instanceof Uint8Array) {
    writeFileSync(path, content, { flush: durable });
    return;
  }
  try {
    linkSync(content.path, path);
  } catch (error) {
    // A disk without hard links, or another one.
    if (!isSystemError(error) || error.code === 'ENOENT' || error.code === 'EEXIST') throw error;
    copyFileSync(content.path, path, constants.COPYFILE_EXCL);
  }
  if (!durable) return;
  const file = openSync(path, 'r');
  try {
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}

/** Into a folder that has to stay: written aside within it, then renamed file by file, the manifest last. */
function replaceWithin(target: string, files: Contents, durable: boolean): void {
  const waiting = join(target, WAITING);
  const preparing = asideName(waiting, MARK_NEW);
  try {
    writeFolder(preparing, files, durable);
    for (let tries = 0; !renamed(preparing, waiting); tries++) {
      if (tries >= MOST_TRIES)
        throw Object.assign(new Error('another run is still writing'), { code: 'EBUSY' });
      moveWaiting(target);
    }
  } catch (error) {
    discard(preparing);
    throw error;
  }
  moveWaiting(target);
}

/** Of the waiting files, all are of one package: a second one waits until no file of the first is left. */
function moveWaiting(target: string): void {
  const waiting = join(target, WAITING);
  const next = manifestIn(waiting)?.manifest;
  if (next !== undefined) {
    const fresh = new Set([...Object.keys(next.files), MANIFEST]);
    for (const name of ownFiles(target)) if (!fresh.has(name)) rmSync(join(target, name), { force: true });
    for (const name of fresh) renamed(join(waiting, name), join(target, name));
  }
  try {
    rmdirSync(waiting);
  } catch (error) {
    if (!isSystemError(error)) throw error;
  }
}
