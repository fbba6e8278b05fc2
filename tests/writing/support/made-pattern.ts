/** From the words of a scene and the options of `make` to the bytes of its pattern files, by the program. */
import { patternOf } from '../../../src/cli/commands/make-pattern.ts';
import type { Finding } from '../../../src/finding/finding.ts';
import type { Scene } from '../../independent/scene.ts';
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
  const made = patternOf(designOfScene(scene), { pattern: ['gds', 'oas'], ...words }, { draft: false });
  if ('refused' in made) throw new RangeError(made.refused.message);
  const { files, report } = made.part;
  const bytes = [...files].map(([name, content]): [string, Buffer] => {
    if (typeof content === 'string' || content instanceof Uint8Array) return [name, Buffer.from(content)];
    const pieces: Uint8Array[] = [];
    content.stream((piece) => pieces.push(Uint8Array.from(piece)));
    return [name, Buffer.concat(pieces)];
  });
  return { files: new Map(bytes), report, findings: made.findings };
}
