/** A package as it stands in a folder: what it holds by its manifest, and whether that is what is there. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type CameraOrientation, isOrientation, PLAIN_ORIENTATION } from '../scenario/camera-orientation.ts';
import { MANIFEST_FORMAT } from '../writing/manifest.ts';
import { asWritten, withUnixLineEnds } from './line-ends.ts';

export const MANIFEST = 'manifest.json';

export interface Manifest {
  readonly format: string;
  readonly version: string;
  readonly scenario: { readonly sha256: string };
  readonly draft: boolean;
  /** How the camera is turned in whose picture the sheet shows things; left out where that is the default. */
  readonly sheet?: unknown;
  readonly files: Readonly<Record<string, { readonly sha256: string }>>;
}

/** The manifest in the folder and its text, lines ending in LF; undefined where there is none of ours. */
export function manifestIn(folder: string): { manifest: Manifest; text: string } | undefined {
  try {
    const text = withUnixLineEnds(readFileSync(join(folder, MANIFEST), 'utf8'));
    const manifest: unknown = JSON.parse(text);
    return isManifest(manifest) ? { manifest, text } : undefined;
  } catch {
    return undefined;
  }
}

/** Names of the package's files in the folder, the manifest's too; none where there is no manifest of ours. */
export function ownFiles(folder: string): ReadonlySet<string> {
  const found = manifestIn(folder);
  return new Set(found === undefined ? [] : [...Object.keys(found.manifest.files), MANIFEST]);
}

/** The camera that the package's sheet was made for; the default one where its manifest names none. */
export function sheetOrientation({ sheet }: Manifest): CameraOrientation {
  const camera = isObject(sheet) ? sheet.camera : undefined;
  return isOrientation(camera) ? camera : PLAIN_ORIENTATION;
}

/** Whether every file of the package is there as the manifest says, line ends of texts aside. */
export const isWhole = (folder: string, manifest: Manifest): boolean =>
  Object.keys(manifest.files).every((name) => fileAsWritten(folder, name, manifest) !== undefined);

/** A file of the package as it was written, whatever its line ends are now; undefined where it is gone or has changed. */
export function fileAsWritten(folder: string, name: string, { files }: Manifest): Uint8Array | undefined {
  try {
    return asWritten(name, readFileSync(join(folder, name)), files[name]!.sha256);
  } catch {
    return undefined;
  }
}

/** A name in a manifest is a plain file name: one with a path in it would reach out of the folder. */
const PLAIN_NAME = /^[A-Za-z0-9][A-Za-z0-9._-]*$/;

const isManifest = (value: unknown): value is Manifest =>
  isObject(value) &&
  value.format === MANIFEST_FORMAT &&
  isObject(value.files) &&
  Object.entries(value.files).every(
    ([name, file]) => PLAIN_NAME.test(name) && isObject(file) && typeof file.sha256 === 'string',
  );

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null;
