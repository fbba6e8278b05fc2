/** Hundreds of inputs, each through an executable of its own: what a process adds to `main`, its streams and its exit. */
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { agrees, asked, noFault, requestOf } from './support/fuzz.ts';
import { datumlight, folder } from './support/run.ts';
import { wholePackage } from './support/whole-package.ts';

const COUNT = 400;
/** Side by side: as many as the gate's machine has cores. */
const LANES = 2;

test(`${COUNT} inputs, a process each`, async () => {
  const seed = Number(process.env.DATUMLIGHT_FUZZ_SEED ?? 7);
  const inputs = fc.sample(asked, { numRuns: COUNT, seed });
  const codes = new Map<number | null, number>();
  const lane = async (from: number): Promise<void> => {
    const out = join(folder(), 'out');
    for (let k = from; k < COUNT; k += LANES) {
      const one = inputs[k]!;
      const { argv, input } = one.kind === 'other' ? one.request : requestOf(one, out);
      const before = wholePackage(out);
      const answer = await datumlight(argv, { input });
      const which = `input ${k} of seed ${seed}: ${argv.join(' ')}`;
      expect([0, 1, 2], `${which}\n${answer.stderr}`).toContain(answer.code);
      codes.set(answer.code, (codes.get(answer.code) ?? 0) + 1);
      noFault(answer);
      if (one.kind !== 'other') agrees({ ...answer, code: answer.code! });
      const writes = one.kind === 'draft' ? answer.code !== 2 : one.kind === 'make' && answer.code === 0;
      if (writes) wholePackage(out);
      else expect(wholePackage(out), which).toBe(before);
    }
  };
  await Promise.all(Array.from({ length: LANES }, (_, k) => lane(k)));
  // The rarest outcome has a tenth of the inputs.
  for (const code of [0, 1, 2]) expect(codes.get(code) ?? 0).toBeGreaterThan(5);
}, 1_800_000);
