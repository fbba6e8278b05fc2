/** A copy of the project in the system's temporary folder, in which sources are mutated: the user's own stays as it is. */
import { execFileSync } from 'node:child_process';
import {
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';

/** What git does not know and the tests need: made by `npm run build`. */
const GENERATED = 'src/reading/generated';

export class Scratch {
  readonly folder: string;
  readonly project: string;
  /** What the tests leave behind: emptied before each run. */
  readonly temporary: string;

  constructor() {
    this.folder = mkdtempSync(join(tmpdir(), 'datumlight-mutants-'));
    // Open to all: some tests run the program as a user without rights.
    chmodSync(this.folder, 0o755);
    this.project = join(this.folder, 'project');
    this.temporary = join(this.folder, 'temporary');
    const listed = execFileSync('git', ['ls-files', '-z', '--cached', '--others', '--exclude-standard'], {
      encoding: 'utf8',
      maxBuffer: 2 ** 26,
    });
    for (const name of new Set(listed.split('\0').filter(Boolean))) this.#copy(name);
    this.#copy(GENERATED);
    symlinkSync(resolve('node_modules'), join(this.project, 'node_modules'));
  }

  #copy(name: string): void {
    // What git lists may have been deleted since.
    if (!existsSync(name)) return;
    const to = join(this.project, name);
    mkdirSync(dirname(to), { recursive: true });
    cpSync(name, to, { recursive: true });
  }

  read(file: string): string {
    return readFileSync(join(this.project, file), 'utf8');
  }

  write(file: string, text: string): void {
    writeFileSync(join(this.project, file), text);
  }

  emptyTemporary(): void {
    rmSync(this.temporary, { recursive: true, force: true, maxRetries: 5 });
    mkdirSync(this.temporary);
    chmodSync(this.temporary, 0o755);
  }

  remove(): void {
    rmSync(this.folder, { recursive: true, force: true, maxRetries: 5 });
  }
}
