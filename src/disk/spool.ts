/**
 * Large files written before the package that they are to be part of: they wait in a folder of their own beside the package's, and get a second
 * name in it (a hard link) when it is written. What a killed run leaves of them is cleared up as of any package on its way.
 */
import { closeSync, mkdirSync, openSync, writeSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import type { ByteSink, SpooledFile } from '../writing/manifest.ts';
import { asideName, discard, MARK_NEW } from './aside.ts';
import { clearLeftovers } from './leftovers.ts';
import { makeFolder, removeFolders } from './make-folder.ts';
import { isSystemError } from './not-writable.ts';
import { stateOf } from './swap.ts';
import { whereLeading } from './where-leading.ts';

export class Spool {
  readonly #package: string;
  #folder: string | undefined;
  #made: readonly string[] = [];
  readonly #open = new Map<string, number>();

  /** For a package to be written into `folder`; nothing is made before the first file. */
  constructor(folder: string) {
    this.#package = folder;
  }

  /** More files into the folder of another one, which discards them. */
  static within(folder: string): Spool {
    const spool = new Spool(folder);
    spool.#folder = folder;
    return spool;
  }

  /** Where its files lie. Throws the system's error where no folder can be made. */
  get folder(): string {
    this.#folder ??= this.#makeFolder();
    return this.#folder;
  }

  /** Takes what is written into a new file, to be ended by `content`. Throws the system's error, as the sink does. */
  readonly sink = (name: string): ByteSink => {
    const file = openSync(join(this.folder, name), 'wx');
    this.#open.set(name, file);
    return (bytes) => {
      for (let written = 0; written < bytes.length; ) written += writeSync(file, bytes, written);
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

const WITHIN = 'datumlight-pattern';
