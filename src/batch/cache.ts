/**
 * The content-addressed cache: what a scenario gave, by the SHA-256 of all that it depends on (caseKey of make-case.ts). An entry is one file,
 * written aside and renamed, so that any number of processes may share a cache; it carries its own checksum, so that one torn by a
 * power cut is only made again. Past its bound the least recently used entries go.
 *
 * An entry: a line with the SHA-256 of the next line; a line of JSON (Kept); then the package's files, as JSON.
 */
import {
  closeSync,
  fstatSync,
  futimesSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  readSync,
  renameSync,
  statSync,
  unlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { asideName, asidesIn, discard, MARK_NEW } from '../disk/aside.ts';
import { benchProgram } from '../disk/bench-template.ts';
import { isSystemError } from '../disk/not-writable.ts';
import type { Figures } from '../writing/batch/batch-row.ts';
import { type PackageFiles, sha256 } from '../writing/manifest.ts';

interface Kept {
  readonly figures: Figures;
  /** SHA-256 of the package's manifest.json; null without a package. */
  readonly manifest: string | null;
}

export interface CacheHit extends Kept {
  /** The package's files; undefined where the entry is damaged. Read only when asked for. */
  files(): PackageFiles | undefined;
}

/** 2 GiB: some ten thousand packages of a dozen patches. */
export const DEFAULT_BOUND = 2 * 1024 ** 3;
/** An entry used again within this time keeps its old mark of use: marking each time would write as often as it reads. */
const MARK_EVERY_MS = 10 * 60 * 1000;
/** Emptied to this part of the bound, so that the next entry does not empty it again. */
const EMPTY_TO = 0.9;

export class Cache {
  readonly folder: string;
  /** False once an entry could not be written: the disk is full, or the folder may not be written. */
  writable = true;

  constructor(folder: string) {
    this.folder = folder;
  }

  find(key: string): CacheHit | undefined {
    const path = this.#pathOf(key);
    const head = quietly(() => headOf(path));
    if (head === undefined) return undefined;
    const [sum, line] = head.split('\n', 2);
    if (line === undefined || sha256(line) !== sum) return undefined;
    const { payload, ...kept } = JSON.parse(line) as Kept & { payload: string };
    return {
      ...kept,
      files: () => {
        const bytes = quietly(() => readFileSync(path));
        const rest = bytes?.subarray(Buffer.byteLength(sum! + line) + 2);
        return rest !== undefined && sha256(rest) === payload ? unpacked(rest.toString('utf8')) : undefined;
      },
    };
  }

  keep(key: string, kept: Kept, files: PackageFiles | undefined): void {
    const payload = files === undefined ? '' : packed(files);
    const line = JSON.stringify({ ...kept, payload: sha256(payload) });
    const path = this.#pathOf(key);
    const aside = asideName(join(this.folder, 'entry'), MARK_NEW);
    try {
      mkdirSync(join(path, '..'), { recursive: true, mode: 0o700 });
      writeFileSync(aside, `${sha256(line)}\n${line}\n${payload}`, { mode: 0o600 });
      renameSync(aside, path);
    } catch (error) {
      if (!isSystemError(error)) throw error;
      this.writable = false;
      discard(aside);
    }
  }

  /** Removes the least recently used entries past `bound` bytes, and what killed runs left half written. */
  shrink(bound: number): void {
    const entries = this.#entries();
    let size = entries.reduce((sum, entry) => sum + entry.size, 0);
    if (size > bound) {
      entries.sort((a, b) => a.used - b.used);
      for (const { path, size: freed } of entries) {
        if (size <= bound * EMPTY_TO) break;
        quietly(() => unlinkSync(path));
        size -= freed;
      }
    }
    for (const { path, orphaned } of asidesIn(this.folder)) if (orphaned) quietly(() => unlinkSync(path));
  }

  #entries(): { path: string; size: number; used: number }[] {
    const list = (folder: string): string[] => quietly(() => readdirSync(folder)) ?? [];
    return list(this.folder)
      .filter((name) => /^[0-9a-f]{2}$/.test(name))
      .flatMap((part) =>
        list(join(this.folder, part))
          .filter((name) => /^[0-9a-f]{62}$/.test(name))
          .map((name) => join(this.folder, part, name)),
      )
      .flatMap((path) => {
        const stats = quietly(() => statSync(path));
        return stats === undefined ? [] : [{ path, size: stats.size, used: stats.mtimeMs }];
      });
  }

  #pathOf(key: string): string {
    return join(this.folder, key.slice(0, 2), key.slice(2));
  }
}

/** Bytes that are read at first: most entries' two lines are shorter. */
const HEAD_BYTES = 16 * 1024;

/** The first two lines of an entry, which is marked as used. */
function headOf(path: string): string {
  const file = openSync(path, 'r');
  try {
    const { size, mtimeMs } = fstatSync(file);
    if (Date.now() - mtimeMs > MARK_EVERY_MS) quietly(() => futimesSync(file, new Date(), new Date()));
    for (let length = HEAD_BYTES; ; length *= 8) {
      const bytes = Buffer.alloc(Math.min(length, size));
      const got = readSync(file, bytes, 0, bytes.length, 0);
      const second = bytes.indexOf(0x0a, bytes.indexOf(0x0a) + 1);
      if (second > 0 || length >= size) return bytes.toString('utf8', 0, second > 0 ? second + 1 : got);
    }
  } finally {
    closeSync(file);
  }
}

/** Another process may have been quicker: then there is nothing left to do. */
function quietly<T>(work: () => T): T | undefined {
  try {
    return work();
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return undefined;
  }
}

const packed = (files: PackageFiles): string =>
  JSON.stringify(
    [...files].map(([name, content]) =>
      typeof content === 'string'
        ? withoutProgram(name, content)
        : [name, Buffer.from(content).toString('base64'), 'base64'],
    ),
  );

type Packed = readonly [name: string, content: string, encoding?: 'base64' | 'around the program'];

/** Half a megabyte that is the same in every bench page, and part of every entry's key, is not kept a thousand times. */
function withoutProgram(name: string, content: string): Packed {
  const at = content.indexOf(benchProgram());
  if (at < 0) return [name, content];
  const around = content.slice(0, at) + PROGRAM + content.slice(at + benchProgram().length);
  return [name, around, 'around the program'];
}

const PROGRAM = '<!--program-->';

const contentOf = (content: string, encoding: Packed[2]): string | Uint8Array => {
  if (encoding === undefined) return content;
  // By a function: a program has `$` in it.
  return encoding === 'base64'
    ? Buffer.from(content, encoding)
    : content.replace(PROGRAM, () => benchProgram());
};

function unpacked(text: string): PackageFiles {
  const files = JSON.parse(text) as Packed[];
  return new Map(files.map(([name, content, encoding]) => [name, contentOf(content, encoding)]));
}
