/**
 * Folders for the files of a test, gone when its test file ends: nothing of a run stays on the machine. Set up anew for each test file where
 * several share what they have loaded (.build/vitest.config.mjs).
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';

const made: string[] = [];

/** A new empty folder, for its owner alone (mode 0700). Asked for in a test or hook: where all of a file is skipped, nothing clears up. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'datumlight-'));
  made.push(folder);
  return folder;
}

export function clearedAtEnd(): void {
  afterAll(() => {
    for (const folder of made.splice(0)) {
      try {
        rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
      } catch {
        // A test that failed halfway left a folder in it closed: its own message counts.
      }
    }
  });
}

clearedAtEnd();
