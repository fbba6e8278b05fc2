/** From the words of a scene to the tables of its phase, by the program: with made-package.ts the only place that touches its inside. */
import type { Design } from '../../../src/design/design.ts';
import { designScenario } from '../../../src/design/design-scenario.ts';
import { readScenario } from '../../../src/reading/scenario/read-scenario.ts';
import {
  coefficientsCsv,
  coefficientsJson,
  patchTables,
} from '../../../src/writing/coefficients/coefficients.ts';
import { samplesCsv } from '../../../src/writing/coefficients/samples.ts';
import type { Scene } from '../../independent/scene.ts';

/** JSON is YAML. Throws where the words make no design. */
export function designOfScene(scene: Scene): Design {
  const { scenario, findings } = readScenario(
    JSON.stringify({ format: 'datumlight/1', ...scene }),
    'scene.yaml',
  );
  const made = scenario && designScenario(scenario);
  if (made && 'design' in made) return made.design;
  throw new Error((made?.findings ?? findings).map(({ message }) => message).join('\n'));
}

export function phaseFilesOfScene(scene: Scene): { csv: string; json: string; samples: string } {
  const design = designOfScene(scene);
  const tables = patchTables(design);
  return {
    csv: coefficientsCsv(design, tables, { draft: false }),
    json: coefficientsJson(design, tables, { draft: false }),
    samples: samplesCsv(design, { draft: false }),
  };
}
