// One temporary folder for a run of the tests, gone when it ends: what they make by the thousand does not stay on the machine.
import { chmodSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export default function setUp() {
  const folder = mkdtempSync(join(tmpdir(), 'datumlight-tests-'));
  // Open to all: some tests run the program as a user without rights.
  chmodSync(folder, 0o755);
  process.env.TMPDIR = folder;
  return () => rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
}
