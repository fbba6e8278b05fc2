/** What was found before, in files that git ignores: how long each test takes, and how each mutant ended. */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';

/** Entries by name, each good as long as its hash is the same. Two runs at a time may share the file. */
export class Kept<T extends { readonly hash: string }> {
  readonly #file: string;

  constructor(file: string) {
    this.#file = file;
  }

  #read(): Record<string, T> {
    try {
      return JSON.parse(readFileSync(this.#file, 'utf8'));
    } catch {
      // None yet.
      return {};
    }
  }

  all(): Readonly<Record<string, T>> {
    return this.#read();
  }

  set(name: string, entry: T): void {
    mkdirSync(dirname(this.#file), { recursive: true });
    writeFileSync(this.#file, `${JSON.stringify({ ...this.#read(), [name]: entry }, undefined, 1)}\n`);
  }
}
