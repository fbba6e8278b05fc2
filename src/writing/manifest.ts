/** `manifest.json`: what a package holds, each file by its SHA-256, with the scenario's and the program's version. */
import { createHash } from 'node:crypto';
import { type CameraOrientation, PLAIN_ORIENTATION } from '../scenario/camera-orientation.ts';
import { jsonText } from './json.ts';
import type { Provenance } from './provenance.ts';

/** Takes bytes, which stay as they are only until it returns. */
export type ByteSink = (bytes: Uint8Array) => void;

/** A file too large to hold: it waits at `path` until the package is written, its hash found as it was. */
export interface SpooledFile {
  readonly sha256: string;
  readonly path: string;
}

export type FileContent = string | Uint8Array | SpooledFile;

export const sha256 = (content: string | Uint8Array): string =>
  createHash('sha256').update(content).digest('hex');

export const hashOf = (content: FileContent): string =>
  typeof content === 'object' && 'path' in content ? content.sha256 : sha256(content);

/** File names of a package and their contents, all of them at hand. */
export type PackageFiles = ReadonlyMap<string, string | Uint8Array>;

export const MANIFEST_FORMAT = 'datumlight-package/1';

/** What the sheet says of the camera that its pictures are as seen in; nothing where it is turned as it is by default. */
export const sheetCamera = (
  orientation: CameraOrientation,
): { readonly sheet?: { readonly camera: CameraOrientation } } =>
  KEYS.every((key) => orientation[key] === PLAIN_ORIENTATION[key]) ? {} : { sheet: { camera: orientation } };

const KEYS = ['view', 'turned', 'mirrored'] as const;

/** Of `files`, which do not hold the manifest itself; `edgeShifts`: of those that carry the written edges, in micrometres. */
export function manifestJson(
  files: ReadonlyMap<string, FileContent>,
  head: Provenance,
  edgeShifts: ReadonlyMap<string, number> = new Map(),
  orientation = PLAIN_ORIENTATION,
): string {
  return jsonText({
    format: MANIFEST_FORMAT,
    version: head.version,
    scenario: { sha256: head.scenarioHash, files: namedHashes(head.named) },
    draft: head.draft,
    ...sheetCamera(orientation),
    files: Object.fromEntries(
      [...files].map(([name, content]) => {
        const edgeShift_um = edgeShifts.get(name);
        return [name, { sha256: hashOf(content), ...(edgeShift_um === undefined ? {} : { edgeShift_um }) }];
      }),
    ),
  });
}

/** Undefined where the scenario names no file. */
export const namedHashes = (
  named: ReadonlyMap<string, string> | undefined,
): Readonly<Record<string, { readonly sha256: string }>> | undefined =>
  named === undefined || named.size === 0
    ? undefined
    : Object.fromEntries([...named].map(([name, hash]) => [name, { sha256: hash }]));
