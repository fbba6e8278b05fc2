/** Rivals in Python to parts of the program: a script of this folder, with files to read and to write of its own; it prints one line of JSON. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pythonWith } from '../machine/outside-programs.ts';

interface Rival {
  /** The path of one of its files. */
  readonly file: (name: string) => string;
  /** What it prints. Throws where it fails. */
  readonly run: (...args: readonly string[]) => unknown;
}

/** Undefined where no Python on PATH has the modules. The files are gone afterwards. */
export function pythonRival(script: string, ...modules: readonly string[]) {
  const python = pythonWith(...modules);
  if (python === undefined) return undefined;
  return <Result>(use: (rival: Rival) => Result): Result => {
    const folder = mkdtempSync(join(tmpdir(), 'datumlight-rival-'));
    const run = (...args: readonly string[]): unknown => {
      const { status, stdout, stderr } = spawnSync(python, [resolve('tests/pattern', script), ...args], {
        encoding: 'utf8',
      });
      if (status !== 0) throw new Error(stderr);
      return JSON.parse(stdout);
    };
    try {
      return use({ file: (name) => join(folder, name), run });
    } finally {
      rmSync(folder, { recursive: true });
    }
  };
}
