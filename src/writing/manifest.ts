/** `manifest.json`: what a package holds, each file by its SHA-256, with the scenario's and the program's version. */
import { createHash } from 'node:crypto';
import { jsonText } from './json.ts';

export const sha256 = (content: string | Uint8Array): string =>
  createHash('sha256').update(content).digest('hex');

/** File names of a package, without the manifest itself, and their contents. */
export type PackageFiles = ReadonlyMap<string, string | Uint8Array>;

export interface ManifestHead {
  readonly version: string;
  readonly scenarioHash: string;
  readonly draft: boolean;
}

export const MANIFEST_FORMAT = 'datumlight-package/1';

export function manifestJson(files: PackageFiles, head: ManifestHead): string {
  return jsonText({
    format: MANIFEST_FORMAT,
    version: head.version,
    scenario: { sha256: head.scenarioHash },
    draft: head.draft,
    files: Object.fromEntries([...files].map(([name, content]) => [name, { sha256: sha256(content) }])),
  });
}
