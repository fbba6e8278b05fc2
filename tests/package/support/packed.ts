/** The package as npm packs it from this checkout as it was built. */
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { temporaryFolder } from '../../machine/temporary-folder.ts';

export const npm = (args: readonly string[], cwd: string): string =>
  execFileSync('npm', args, { cwd, encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });

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
