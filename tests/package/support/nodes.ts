/** The versions of Node that package.json's `engines` stands for: this one, and the others on PATH as `node20`, `node22`, `node24`. */
import { execFileSync } from 'node:child_process';
import process from 'node:process';
import { program } from '../../machine/outside-programs.ts';

export const MAJORS = ['20', '22', '24'] as const;

/** Whole path of the executable of a version; undefined where it is missing. */
function nodeOf(major: string): string | undefined {
  if (process.versions.node.split('.')[0] === major) return process.execPath;
  const path = program(`node${major}`);
  if (path === undefined) return undefined;
  const version = execFileSync(path, ['--version'], { encoding: 'utf8' });
  return version.startsWith(`v${major}.`) ? path : undefined;
}

/** By name, as on PATH. */
export const NODES: Readonly<Record<string, string | undefined>> = Object.fromEntries(
  MAJORS.map((major) => [`node${major}`, nodeOf(major)]),
);
