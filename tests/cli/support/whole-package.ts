/** What stands in a package's folder: one whole package by its own manifest, or what is wrong with it. */
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/**
 * `absent`, or the SHA-256 of the manifest. Throws where a file is missing, is of another package, or is nobody's; `users` are the
 * user's own files there, which must be there.
 */
export function wholePackage(folder: string, users: readonly string[] = []): string {
  if (!existsSync(folder)) return 'absent';
  const manifest = readFileSync(join(folder, 'manifest.json'));
  const { files } = JSON.parse(manifest.toString('utf8')) as { files: Record<string, { sha256: string }> };
  const there = readdirSync(folder).sort();
  const expected = [...Object.keys(files), 'manifest.json', ...users].sort();
  if (there.join() !== expected.join()) throw new Error(`${folder} holds ${there} instead of ${expected}`);
  for (const [name, { sha256: listed }] of Object.entries(files)) {
    if (sha256(readFileSync(join(folder, name))) !== listed) {
      throw new Error(`${folder}: ${name} is not of this manifest`);
    }
  }
  return sha256(manifest);
}

export const sha256 = (bytes: Uint8Array | string): string =>
  createHash('sha256').update(bytes).digest('hex');
