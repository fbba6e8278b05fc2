/** What a worker does with one case: make it, put its package in place, keep it in the cache; or compare it with what stands there. */
import { join } from 'node:path';
import { parentPort } from 'node:worker_threads';
import { writePackage } from '../disk/package-folder.ts';
import { MANIFEST, manifestIn, sheetOrientation } from '../disk/package-reading.ts';
import { type Figures, figuresWithout } from '../writing/batch/batch-row.ts';
import { sha256 } from '../writing/manifest.ts';
import { Cache } from './cache.ts';
import type { Case } from './case.ts';
import { type ComparedPackage, comparePackage } from './compare-package.ts';
import { caseKey, type Making, makeCase } from './make-case.ts';

export interface CaseTask {
  readonly one: Case;
  readonly making: Making;
  /** Where the batch's packages lie. */
  readonly out: string;
  /** Where to keep what was made; undefined: nowhere. */
  readonly cache: string | undefined;
  /** Compare instead of writing. */
  readonly verify: boolean;
}

export interface CaseDone {
  readonly figures: Figures;
  readonly compared?: ComparedPackage;
  /** The cache could not take it. */
  readonly cacheFull?: boolean;
}

/** Never throws: an internal error is an outcome like others, and stops no other case. */
export function doCase({ one, making, out, cache, verify }: CaseTask): CaseDone {
  try {
    const folder = join(out, one.name);
    // Which camera a sheet is for is a choice of `make`, as the package says, and no change of the scenario.
    const standing = verify ? manifestIn(folder)?.manifest : undefined;
    const { figures, files, passing } = makeCase(one, making, standing && sheetOrientation(standing));
    if (verify) return { figures, compared: comparePackage(one.name, folder, files, figures.says) };
    let cacheFull = false;
    if (cache !== undefined && !passing) {
      const store = new Cache(cache);
      const manifest = files?.get(MANIFEST);
      store.keep(caseKey(one, making), { figures, manifest: manifest ? sha256(manifest) : null }, files);
      cacheFull = !store.writable;
    }
    const fault = files === undefined ? undefined : writePackage(folder, files, { recovered: true });
    return { figures: fault === undefined ? figures : figuresWithout('unusable', [fault]), cacheFull };
  } catch (error) {
    return { figures: faultOf(one, error) };
  }
}

export function faultOf(one: Case, error: unknown): Figures {
  const message = error instanceof Error ? error.message : String(error);
  const figures = figuresWithout('fault', []);
  return { ...figures, says: [`${one.name}: internal error: ${message}`] };
}

/** What a worker thread does: one case in, what came of it out, one after the other. */
export const serveCases = (): void =>
  void parentPort?.on('message', (task: CaseTask) => parentPort?.postMessage(doCase(task)));
