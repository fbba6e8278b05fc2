/** One file replaced whole: written aside, then renamed over the old one. */
import { renameSync, writeFileSync } from 'node:fs';
import { asideName, discard, MARK_NEW } from './aside.ts';

/** Throws the system's error; the old file then stands as it was. */
export function replaceFile(path: string, content: string): void {
  const aside = asideName(path, MARK_NEW);
  try {
    writeFileSync(aside, content);
    renameSync(aside, path);
  } catch (error) {
    discard(aside);
    throw error;
  }
}
