/** One file replaced whole: written aside, then renamed over the old one. */
import { renameSync, rmSync, writeFileSync } from 'node:fs';
import { asideName, MARK_NEW } from './aside.ts';

/** Throws the system's error; the old file then stands as it was. */
export function replaceFile(path: string, content: string): void {
  const aside = asideName(path, MARK_NEW);
  try {
    writeFileSync(aside, content);
    renameSync(aside, path);
  } catch (error) {
    rmSync(aside, { force: true });
    throw error;
  }
}
