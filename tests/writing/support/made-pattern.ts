/** From the words of a scene and the options of `make` to the bytes of its pattern files, by the program. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type PatternOptions, patternWishes } from '../../../src/cli/commands/make-pattern.ts';
import type { Design } from '../../../src/design/design.ts';
import { Spool } from '../../../src/disk/spool.ts';
import type { Finding } from '../../../src/finding/finding.ts';
import { shiftedFeatures } from '../../../src/pattern/shift-limits.ts';
import { PatternFiles, type PatternReport } from '../../../src/writing/pattern/pattern-files.ts';
import type { Scene } from '../../independent/scene.ts';
import { temporaryFolder } from '../../machine/temporary-folder.ts';
import { designOfScene } from './made-phase-files.ts';

export interface PatternWords {
  readonly edgeShift?: string;
  readonly databaseUnit?: string;
}

/** The files by their names, and what the report says of them; throws with the message where the options are refused. */
export function patternFilesOfScene(
  scene: Scene,
  words: PatternWords = {},
): {
  readonly files: ReadonlyMap<string, Buffer>;
  readonly report: { readonly edgeShift_um: number };
  readonly findings: readonly Finding[];
} {
  return patternFilesOf(designOfScene(scene), { pattern: ['gds', 'oas'], ...words });
}

/** The same of a design. */
export function patternFilesOf(
  design: Design,
  options: PatternOptions,
): {
  readonly files: ReadonlyMap<string, Buffer>;
  readonly report: PatternReport;
  readonly findings: readonly Finding[];
} {
  const spool = new Spool(join(temporaryFolder(), 'out'));
  try {
    const asked = patternWishes(design, options, { draft: false });
    if ('refused' in asked) throw new RangeError(asked.refused.message);
    const made = new PatternFiles(design, asked.wishes, spool);
    for (let k = 0; k < made.cells; k++) made.cell(k, undefined);
    const { files, report } = made.end();
    const bytes = [...files].map(([name, content]): [string, Buffer] => {
      if (typeof content === 'string' || content instanceof Uint8Array) return [name, Buffer.from(content)];
      return [name, readFileSync(content.path)];
    });
    return { files: new Map(bytes), report, findings: shiftedFeatures(design, asked.wishes.edgeShift) };
  } finally {
    spool.discard();
  }
}
