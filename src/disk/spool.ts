/**
 * Large files written before the package that they are to be part of: they wait in a folder of their own beside the package's, and get a second
 * name in it (a hard link) when it is written. What a killed run leaves of them is cleared up as of any package on its way.
 */
import { close, closeSync, fdatasync, mkdirSync, openSync, writeSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import type { ByteSink, SpooledFile } from '../writing/manifest.ts';
import { asideName, discard, MARK_NEW } from './aside.ts';
import { clearLeftovers } from './leftovers.ts';
import { makeFolder, removeFolders } from './make-folder.ts';
import { isSystemError } from './not-writable.ts';
import { stateOf } from './swap.ts';
import { whereLeading } from './where-leading.ts';

/** Bytes after which the disk is asked to keep what it has of a file: little is left to wait for when the package is written. */
const KEPT_EVERY = 1 << 25;

export class Spool {
  readonly #package: string;
  #folder: string | undefined;
  #made: readonly string[] = [];
  #isKept = true;
  readonly #open = new Map<string, number>();

  /** For a package to be written into `folder`; nothing is made before the first file. */
  constructor(folder: string) {
    this.#package = folder;
  }

  /** More files into the folder of another one, which discards them: none is to last. */
  static within(folder: string): Spool {
    const spool = new Spool(folder);
    spool.#folder = folder;
    spool.#isKept = false;
    return spool;
  }

  /** Where its files lie. Throws the system's error where no folder can be made. */
  get folder(): string {
    this.#folder ??= this.#makeFolder();
    return this.#folder;
  }

  /** Takes what is written into a new file, to be ended by `content`. Throws the system's error, as the sink does. */
  readonly sink = (name: string): ByteSink => {
    const path = join(this.folder, name);
    const file = openSync(path, 'wx');
    this.#open.set(name, file);
    const keeper = this.#isKept ? new Keeper(path) : undefined;
    return (bytes) => {
      for (let written = 0; written < bytes.length; ) written += writeSync(file, bytes, written);
      keeper?.wrote(bytes.length);
    };
  };

  readonly content = (name: string, sha256: string): SpooledFile => {
    closeSync(this.#open.get(name)!);
    this.#open.delete(name);
    return { sha256, path: join(this.folder, name) };
  };

  discard(): void {
    for (const file of this.#open.values()) closeSync(file);
    this.#open.clear();
    if (this.#folder !== undefined) discard(this.#folder);
    removeFolders(this.#made);
  }

  #makeFolder(): string {
    const leads = whereLeading(this.#package);
    const target = typeof leads === 'object' ? leads.to : resolve(this.#package);
    const beside = asideName(target, MARK_NEW);
    this.#made = makeFolder(dirname(target));
    clearLeftovers(dirname(target));
    try {
      mkdirSync(beside);
      return beside;
    } catch (error) {
      // Where nothing may be put beside the package's folder, there is room within.
      if (!isSystemError(error) || stateOf(target) !== 'folder') throw error;
      const within = asideName(join(target, WITHIN), MARK_NEW);
      mkdirSync(within);
      return within;
    }
  }
}

/** Has the disk keep a file while it grows, on a thread of the system's. A fault is not heard of here: the package's own `fsync` tells it. */
class Keeper {
  readonly #path: string;
  #bytes = 0;
  #isBusy = false;

  constructor(path: string) {
    this.#path = path;
  }

  wrote(bytes: number): void {
    this.#bytes += bytes;
    if (this.#isBusy || this.#bytes < KEPT_EVERY) return;
    this.#bytes = 0;
    this.#isBusy = true;
    // A descriptor of its own: that of the writer is closed while the disk is still at work.
    const file = openSync(this.#path, 'r');
    fdatasync(file, () =>
      close(file, () => {
        this.#isBusy = false;
      }),
    );
  }
}

const WITHIN = 'datumlight-pattern';
