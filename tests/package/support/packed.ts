/** The package as npm packs it from this checkout as it was built, and npm as a stranger has it. */
import { execFileSync } from 'node:child_process';
import { realpathSync } from 'node:fs';
import { join } from 'node:path';
import process from 'node:process';
import { program } from '../../machine/outside-programs.ts';
import { temporaryFolder } from '../../machine/temporary-folder.ts';

/** Without what the npm that runs the tests hands down, such as its prefix. */
const ENVIRONMENT = Object.fromEntries(Object.entries(process.env).filter(([name]) => !/^npm_/i.test(name)));

/** Npm run by a Node, this one unless told; returns what it prints. */
export function npm(args: readonly string[], cwd: string, node = process.execPath): string {
  return execFileSync(node, [realpathSync(program('npm')!), ...args], {
    cwd,
    env: ENVIRONMENT,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'pipe'],
  });
}

export interface Packed {
  readonly tarball: string;
  /** Paths of what is in it, sorted. */
  readonly files: readonly string[];
}

export function packed(): Packed {
  const folder = temporaryFolder();
  const [{ filename, files }] = JSON.parse(
    npm(['pack', '--ignore-scripts', '--json', '--pack-destination', folder], '.'),
  );
  return {
    tarball: join(folder, filename),
    files: files.map(({ path }: { path: string }) => path).sort(),
  };
}
