/**
 * Each example's package, byte for byte as committed. A difference is left in out/differences/ to look at; a golden is only ever
 * remade by hand (`npm run goldens`).
 */
import { cpSync, mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import examples from '../goldens/examples.json' with { type: 'json' };
import { datumlight, example, folder } from './support/run.ts';

test.each(examples)('%s', async (name) => {
  const out = join(folder(), 'out');
  const { code } = await datumlight(['make', example(name), '--out', out]);
  expect(code).toBe(0);
  const golden = join('tests/goldens', name);
  expect(readdirSync(out).sort()).toEqual(readdirSync(golden).sort());
  const changed = readdirSync(golden).filter(
    (file) => !readFileSync(join(golden, file)).equals(readFileSync(join(out, file))),
  );
  for (const file of changed) {
    const left = join('out/differences', name);
    mkdirSync(left, { recursive: true });
    cpSync(join(out, file), join(left, file));
  }
  expect(changed, 'differ from tests/goldens; the new files are in out/differences').toEqual([]);
});
