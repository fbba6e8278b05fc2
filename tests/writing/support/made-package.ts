/** From the words of a scene to all files of its package, by the program; a design that breaks a rule is written all the same. */
import { shippedFiles } from '../../../src/disk/shipped-files.ts';
import { packageFiles } from '../../../src/writing/package/package.ts';
import type { Scene } from '../../independent/scene.ts';
import { designOfScene } from './made-phase-files.ts';

export const HEAD = { version: '0.0.0', scenarioHash: '0123456789abcdef'.repeat(4), draft: false };

/** Every file by its name, as text: the bytes of the PDF are ASCII. */
export function packageOfScene(scene: Scene): ReadonlyMap<string, string> {
  const { files } = packageFiles(designOfScene(scene), [], HEAD, shippedFiles());
  return new Map(
    [...files].map(([name, content]) => [
      name,
      typeof content === 'string' ? content : new TextDecoder('latin1').decode(content),
    ]),
  );
}
