/** A reference that is named `part` or `hologram`: a displacement of that name is the reference's, and nothing else moves. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { datumlight, folder, scenarioFile, soundScenario } from './support/run.ts';

test('pictures are those of the same bench with another name', async () => {
  const shown = async (name: string): Promise<readonly Buffer[]> => {
    const file = scenarioFile(soundScenario((text) => text.replaceAll('north', name)));
    const out = join(folder(), 'out');
    const at = `${name}: [0.01, 0.02, 0]`;
    const { code, stderr } = await datumlight(['fringes', file, '--out', out, '--size', '32', '--at', at]);
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    const pictures = readdirSync(out)
      .filter((one) => one.endsWith('.png'))
      .sort();
    expect(pictures.length).toBeGreaterThan(2);
    // By what they show: the names differ in their order.
    return pictures.map((one) => readFileSync(join(out, one))).sort(Buffer.compare);
  };
  const plain = await shown('north');
  expect(await shown('part')).toEqual(plain);
  expect(await shown('hologram')).toEqual(plain);
});
