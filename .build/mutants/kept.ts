/** What was found before, in files that git ignores: how long each test takes, and how each mutant ended. */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';

/** Entries by name, each good as long as its hash is the same. */
export class Kept<T extends { readonly hash: string }> {
  readonly #file: string;
  readonly #entries: Record<string, T>;

  constructor(file: string) {
    this.#file = file;
    try {
      this.#entries = JSON.parse(readFileSync(file, 'utf8'));
    } catch {
      this.#entries = {};
    }
  }

  get(name: string): T | undefined {
    return this.#entries[name];
  }

  set(name: string, entry: T): void {
    this.#entries[name] = entry;
    mkdirSync(dirname(this.#file), { recursive: true });
    writeFileSync(this.#file, `${JSON.stringify(this.#entries, undefined, 1)}\n`);
  }
}
