/** Files that patterns name, in an order that is the same on every machine. */
import { statSync } from 'node:fs';
import { glob, isDynamicPattern } from 'tinyglobby';
import { isSystemError } from '../disk/not-writable.ts';
import { errorFinding, type Finding } from '../finding/finding.ts';

interface FoundScenarios {
  /** As given, or as the pattern found them, with `/`; sorted, each once. */
  readonly files: readonly string[];
  /** Patterns that name nothing. */
  readonly findings: readonly Finding[];
}

export async function findScenarios(patterns: readonly string[]): Promise<FoundScenarios> {
  const files = new Set<string>();
  const findings: Finding[] = [];
  for (const pattern of patterns) {
    // A file by that very name is meant, whatever signs are in it.
    const literal = isFile(pattern) || !isDynamicPattern(pattern);
    const found = literal ? [pattern] : await glob(pattern, { expandDirectories: false });
    if (found.length === 0) {
      const hint = 'quote a pattern so that the shell does not expand it; `**` matches folders at any depth';
      findings.push(errorFinding('unreadable-file', pattern, 'no file matches the pattern', hint));
    }
    for (const file of found) files.add(file.replace(/^\.\//, ''));
  }
  return { files: [...files].sort((a, b) => (a < b ? -1 : 1)), findings };
}

/** Not where the system does not let one look: whoever reads it says why. */
function isFile(path: string): boolean {
  try {
    return statSync(path, { throwIfNoEntry: false })?.isFile() === true;
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return false;
  }
}
