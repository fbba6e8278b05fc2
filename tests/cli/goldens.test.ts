/**
 * Each example's package, byte for byte as committed; of the bench page what depends on the scenario (.build/golden-page.mjs). A difference is left in out/differences/ to look at; a golden is only ever
 * remade by hand (`npm run goldens`).
 */
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
// @ts-expect-error: a script of the build, without types
import { asGolden } from '../../.build/golden-page.mjs';
import examples from '../goldens/examples.json' with { type: 'json' };
import { datumlight, example, folder } from './support/run.ts';

test.each(examples)('%s', async (name) => {
  const out = join(folder(), 'out');
  const { code } = await datumlight(['make', example(name), '--out', out]);
  expect(code).toBe(0);
  const golden = join('tests/goldens', name);
  expect(readdirSync(out).sort()).toEqual(readdirSync(golden).sort());
  const changed = readdirSync(golden).filter(
    (file) => !readFileSync(join(golden, file)).equals(asGolden(file, readFileSync(join(out, file)))),
  );
  for (const file of changed) {
    const left = join('out/differences', name);
    mkdirSync(left, { recursive: true });
    writeFileSync(join(left, file), asGolden(file, readFileSync(join(out, file))));
  }
  expect(changed, 'differ from tests/goldens; the new files are in out/differences').toEqual([]);
});
