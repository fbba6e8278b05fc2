/**
 * Programs from outside that some tests need: readers of what is written, shells, a browser. Looked for on PATH. Where one is missing, the tests that
 * need it are skipped and it is said which; with DATUMLIGHT_REQUIRE_READERS=1, as in CI, that is a failure.
 */
import { spawnSync } from 'node:child_process';
import { accessSync, constants, statSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import process from 'node:process';

const REQUIRED = process.env.DATUMLIGHT_REQUIRE_READERS === '1';

/** Where a program stands on PATH, the first place first. */
function placesOf(name: string): string[] {
  const folders = (process.env.PATH ?? '').split(delimiter).filter((folder) => folder !== '');
  return folders.map((folder) => join(folder, name)).filter(canRun);
}

function canRun(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return statSync(path).isFile();
  } catch {
    return false;
  }
}

/** The whole path of a program; undefined where it is not on PATH. */
export const program = (name: string): string | undefined => placesOf(name)[0];

/** The first Python on PATH that has these modules. */
export const pythonWith = (...modules: readonly string[]): string | undefined =>
  placesOf('python3').find(
    (path) => spawnSync(path, ['-c', `import ${modules.join(', ')}`], { stdio: 'ignore' }).status === 0,
  );

/**
 * For `test.skipIf`: whether some of what the test needs is missing. Needs by their names; `undefined` or `false` is missing. Says what
 * is, on stderr; throws where it is required.
 */
export function lacks(needs: Readonly<Record<string, string | boolean | undefined>>): boolean {
  const missing = Object.keys(needs).filter((name) => !needs[name]);
  if (missing.length === 0) return false;
  if (REQUIRED)
    throw new Error(`required by DATUMLIGHT_REQUIRE_READERS and not found: ${missing.join(', ')}`);
  return isSkippedFor(missing.join(', '));
}

/** The same for what this user or this machine cannot do, which nobody can require of it. */
export const cannot = (what: string, can: boolean): boolean => !can && isSkippedFor(what);

function isSkippedFor(what: string): true {
  console.warn(`some tests are skipped; they need ${what}`);
  return true;
}
