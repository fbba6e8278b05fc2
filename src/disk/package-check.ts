/**
 * Whether a folder holds a whole package of a scenario, as `make` wrote it: every file by its SHA-256 worked out anew, line ends of texts
 * aside, the manifest itself by what report.json repeats of it, and the scenario's own SHA-256.
 */
import { createHash } from 'node:crypto';
import { closeSync, openSync, readSync } from 'node:fs';
import { join } from 'node:path';
import type { Code } from '../finding/codes.ts';
import { errorFinding, type Finding } from '../finding/finding.ts';
import { jsonText } from '../writing/json.ts';
import { sha256 } from '../writing/manifest.ts';
import { fileAsWritten, MANIFEST, type Manifest, manifestIn } from './package-reading.ts';

interface CheckedPackage {
  readonly manifest: Manifest;
  /** SHA-256 of the manifest's text, hex: it stands for the whole package. */
  readonly sha256: string;
}

/** `scenario`: SHA-256 of the scenario, hex; `named`: of the files that it names. */
export function checkedPackage(
  folder: string,
  scenario: { readonly sha256: string; readonly named: ReadonlyMap<string, string> },
): { readonly package: CheckedPackage } | { readonly findings: readonly Finding[] } {
  const fault = (rule: Code, message: string, hint: string): Finding =>
    errorFinding(rule, '--package', message, hint);
  const found = manifestIn(folder);
  if (found === undefined || !('report.json' in found.manifest.files)) {
    const message = `${folder} holds no package written by make`;
    return { findings: [fault('no-package', message, 'name the folder given to `make --out`')] };
  }
  const { manifest, text } = found;
  const changed = Object.keys(manifest.files).filter((name) => !isAsWritten(folder, name, manifest));
  if (changed.length > 0 || !isOwnManifest(folder, manifest, text)) {
    const names = changed.length > 0 ? changed : [MANIFEST];
    const listed = names.slice(0, MOST_NAMED).join(', ');
    const more = names.length > MOST_NAMED ? ` and ${names.length - MOST_NAMED} more` : '';
    const message = `${folder} is not as it was written; changed or missing: ${listed}${more}`;
    return { findings: [fault('changed-package', message, 'restore the package, or make it again')] };
  }
  const others = [...scenario.named].filter(([name, hash]) => namedIn(manifest)?.[name]?.sha256 !== hash);
  if (manifest.scenario.sha256 !== scenario.sha256 || others.length > 0) {
    const what =
      manifest.scenario.sha256 === scenario.sha256
        ? `another ${others[0]![0]}`
        : `another scenario, SHA-256 ${manifest.scenario.sha256.slice(0, 12)}…, not ${scenario.sha256.slice(0, 12)}…`;
    const hint = 'give the scenario that the package was made from';
    return { findings: [fault('other-scenario', `${folder} was made from ${what}`, hint)] };
  }
  return { package: { manifest, sha256: sha256(text) } };
}

/** The files that the scenario names. */
const namedIn = ({ scenario }: Manifest): Readonly<Record<string, { readonly sha256: string }>> | undefined =>
  (scenario as { readonly files?: Readonly<Record<string, { readonly sha256: string }>> }).files;

/** Names in a message. */
const MOST_NAMED = 8;

function isAsWritten(folder: string, name: string, manifest: Manifest): boolean {
  try {
    // A written pattern may have gigabytes: never held as a whole.
    if (hashOf(join(folder, name)) === manifest.files[name]!.sha256) return true;
  } catch {
    return false;
  }
  return !PATTERN.test(name) && fileAsWritten(folder, name, manifest) !== undefined;
}

/** Files in which a line end is no line end, or that are too large to hold. */
const PATTERN = /\.(gds|oas|pdf)$|^pattern/i;

const CHUNK = 1 << 20;

function hashOf(path: string): string {
  const hash = createHash('sha256');
  const chunk = Buffer.alloc(CHUNK);
  const file = openSync(path, 'r');
  try {
    for (;;) {
      const length = readSync(file, chunk, 0, CHUNK, null);
      if (length === 0) return hash.digest('hex');
      hash.update(chunk.subarray(0, length));
    }
  } finally {
    closeSync(file);
  }
}

/** No hash is over the manifest: it is to have the form in which it is written, and to say what report.json says, which is hashed. */
function isOwnManifest(folder: string, manifest: Manifest, text: string): boolean {
  try {
    if (jsonText(manifest) !== text) return false;
    const bytes = fileAsWritten(folder, 'report.json', manifest)!;
    const report = JSON.parse(Buffer.from(bytes).toString('utf8'));
    const shift = report.pattern?.edgeShift_um;
    const shifts = Object.values(manifest.files).map(
      (file) => (file as { edgeShift_um?: number }).edgeShift_um,
    );
    return (
      report.version === manifest.version &&
      report.draft === manifest.draft &&
      report.scenario.sha256 === manifest.scenario.sha256 &&
      jsonText(report.scenario.files ?? {}) === jsonText(namedIn(manifest) ?? {}) &&
      jsonText(report.sheet ?? null) === jsonText(manifest.sheet ?? null) &&
      Object.keys(manifest).every((key) => MANIFEST_KEYS.includes(key)) &&
      shifts.every((one) => one === undefined || one === shift)
    );
  } catch {
    return false;
  }
}

const MANIFEST_KEYS = ['draft', 'files', 'format', 'scenario', 'sheet', 'version'];
