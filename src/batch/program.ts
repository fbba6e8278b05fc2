/** Which program is at work: what the cache must not mix with what another one made. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { sha256 } from '../writing/manifest.ts';

/** SHA-256 over the version and the program's own files: a build that differs in one byte is another program. */
export function programFingerprint(version: string): string {
  const folder = dirname(fileURLToPath(import.meta.url));
  const names = readdirSync(folder).filter((name) => /\.(c?js|ts)$/.test(name));
  const hashes = names.sort().map((name) => `${name} ${sha256(readFileSync(join(folder, name)))}\n`);
  return sha256(`${version}\n${hashes.join('')}`);
}
