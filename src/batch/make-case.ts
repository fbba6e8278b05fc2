/** One case of a batch made: worked out, checked, and its package's files in memory. Throws only for an internal error. */

import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { filesBeside } from '../disk/files-beside.ts';
import { drawingFont, shippedFiles } from '../disk/shipped-files.ts';
import { errorFinding, type Finding } from '../finding/finding.ts';
import { findingsOf } from '../rules/one-cause.ts';
import { PLAIN_ORIENTATION } from '../scenario/camera-orientation.ts';
import { type Figures, figuresOf, figuresWithout } from '../writing/batch/batch-row.ts';
import { letterFindings } from '../writing/drawing/formats/pdf-letters.ts';
import { type PackageFiles, sha256 } from '../writing/manifest.ts';
import { packageFiles } from '../writing/package/package.ts';
import { type Case, scenarioHashOf } from './case.ts';
import { workOut } from './work-out.ts';

/** What the outcome of a case depends on beside the case itself. */
export interface Making {
  readonly version: string;
  /** Of programFingerprint. */
  readonly program: string;
  readonly draft: boolean;
}

interface MadeCase {
  readonly figures: Figures;
  /** Undefined where the design breaks a rule and is no draft, or cannot be used. */
  readonly files: PackageFiles | undefined;
  readonly findings: readonly Finding[];
  /** The outcome is of this moment alone, not of the case: nothing to be kept. */
  readonly passing?: boolean;
}

/** The key that the cache knows a case by: the SHA-256 of everything that its figures and files depend on. */
export function caseKey(one: Case, { version, program, draft }: Making): string {
  const { named, fileName } = one.source;
  const parts = [KEY_FORMAT, version, program, draft, fileName, scenarioHashOf(one), [...named]];
  return sha256(JSON.stringify(parts));
}

/** SHA-256 over the version and the program's own files: a build that differs in one byte is another program. */
export function programFingerprint(version: string): string {
  const folder = dirname(fileURLToPath(import.meta.url));
  const names = readdirSync(folder).filter((name) => /\.(c?js|ts|html|ttf)$/.test(name));
  const hashes = names.sort().map((name) => `${name} ${sha256(readFileSync(join(folder, name)))}\n`);
  return sha256(`${version}\n${hashes.join('')}`);
}

/** Changes with the shape of what is kept. */
const KEY_FORMAT = 'datumlight-case/3';

/** `orientation`: of the camera in whose picture the sheet shows things. */
export function makeCase(one: Case, { version, draft }: Making, orientation = PLAIN_ORIENTATION): MadeCase {
  const { source, overrides } = one;
  const {
    design,
    named,
    findings: faults,
    placed,
  } = workOut(source.text, source.fileName, new Map(overrides), filesBeside(one.file));
  const changed = [...named].find(([name, content]) => source.named.get(name) !== content);
  if (changed !== undefined) {
    const message = `the file \`${changed[0]}\` that the scenario names changed while the batch ran`;
    const findings = [errorFinding('unreadable-file', one.file, message, 'run the batch again')];
    return { figures: figuresWithout('unusable', findings), files: undefined, findings, passing: true };
  }
  if (design === undefined) {
    return { figures: figuresWithout('unusable', faults), files: undefined, findings: faults };
  }
  const ofDesign = [...findingsOf(design), ...letterFindings(design.scenario, drawingFont())];
  const findings = [...faults, ...ofDesign.map(placed)];
  const head = { version, scenarioHash: scenarioHashOf(one), named, draft };
  const { files, report } = packageFiles(design, findings, head, shippedFiles(), orientation);
  const writes = draft || findings.every(({ severity }) => severity !== 'error');
  return {
    figures: figuresOf(design, report, findings, writes),
    files: writes ? files : undefined,
    findings,
  };
}
